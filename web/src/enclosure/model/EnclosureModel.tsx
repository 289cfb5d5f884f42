// The enclosure in three dimensions. Loaded only where it is shown: three.js is larger than all the rest.
import { Canvas } from '@react-three/fiber';
import { useMemo } from 'react';
import type { Field } from '../../api/client';
import { useMeshes } from '../../api/queries';
import type { Enclosure, Material, MaterialName } from '../../api/schema';
import type { Scale } from '../../parts/colourScale';
import { movedThings } from '../document';
import { piecesOf } from '../edit/pieces';
import type { Cut } from '../slice';
import { BandShells } from './BandShells';
import { Camera, view } from './Camera';
import { Grip, type Moving } from './Grip';
import { GhostLamp, LampBody } from './Lamps';
import { chosenColour, metres } from './metres';
import { colourOfPiece, GhostPiece, Leaves, Piece, Triangles } from './Pieces';
import { ScreenSheet } from './Screens';
import { SliceSheet, type Probe } from './SliceSheet';
import { PinLabels, Pins, useLabels, type Pin } from './SpotPins';
import { Walls } from './Walls';

export type ModelProps = {
  enclosure: Enclosure;
  before: Enclosure | null; // drawn as a ghost where it differs
  materials: readonly Material[];
  field: Field | undefined;
  space: Field | undefined; // for the shells of the band
  cut: Cut;
  scale: Scale;
  band: readonly [number, number] | null;
  pins: readonly Pin[];
  chosen: string | null;
  isDark: boolean;
  moving: Moving;
  onProbe: (probe: Probe | null) => void;
  onLetGo: () => void;
};

const unknownMaterial = '#8b8578';

function Furniture({ enclosure, materials }: Pick<ModelProps, 'enclosure' | 'materials'>) {
  const meshes = useMeshes(enclosure);
  const colours = useMemo(() => new Map(materials.map((m) => [m.id, m.colour])), [materials]);
  const colourOf = (material: MaterialName | undefined) =>
    (typeof material === 'string' ? colours.get(material) : undefined) ?? unknownMaterial;
  return enclosure.furniture?.map((piece) => {
    const colour = colourOfPiece(piece, colourOf);
    if (piece.shape === 'foliage') return <Leaves key={piece.id} piece={piece} colour={colour} />;
    if (piece.shape !== 'mesh') return <Piece key={piece.id} piece={piece} colour={colour} />;
    const mesh = meshes.data?.meshes.find(({ id }) => id === piece.id);
    return <Triangles key={piece.id} mesh={mesh} colour={colour} />;
  });
}

export default function EnclosureModel(props: ModelProps) {
  const { enclosure, before, materials, field, isDark, chosen } = props;
  const edge = isDark ? '#8fa39d' : '#50605b';
  const ghost = isDark ? '#ffb084' : '#9c3a00';
  const [w, d, h] = metres(enclosure.size_cm);
  const labels = useLabels();
  const colours = useMemo(() => new Map(materials.map((m) => [m.id, m.colour])), [materials]);
  const moved = useMemo(() => (before ? movedThings(before, enclosure) : null), [before, enclosure]);
  const pieces = useMemo(() => piecesOf(enclosure), [enclosure]);
  return (
    <>
      <Canvas
        frameloop="demand"
        dpr={[1, 2]}
        camera={{ up: [0, 0, 1], fov: view.fov_deg, near: 0.05, far: 60 }}
        onPointerMissed={() => {
          props.onProbe(null);
          props.onLetGo();
        }}
      >
        <hemisphereLight args={['#ffffff', '#8a948f', 1.9]} up={[0, 0, 1]} />
        <directionalLight position={[w, -d, h * 3]} intensity={1.1} />
        <Camera size_cm={enclosure.size_cm} />
        <Walls
          enclosure={enclosure}
          colourOf={(material) =>
            (typeof material === 'string' ? colours.get(material) : undefined) ?? unknownMaterial
          }
          edge={edge}
        />
        <Furniture enclosure={enclosure} materials={materials} />
        {enclosure.screens?.map((screen) => (
          <ScreenSheet key={screen.id} screen={screen} edge={screen.id === chosen ? chosenColour : edge} />
        ))}
        {enclosure.lamps?.map((lamp) => (
          <LampBody key={lamp.id} lamp={lamp} edge={edge} isChosen={lamp.id === chosen} />
        ))}
        {pieces.map((found) => (
          <Grip
            key={found.piece.id}
            found={found}
            isChosen={found.piece.id === chosen}
            colour={chosenColour}
            {...props.moving}
          />
        ))}
        {moved?.furniture.map((piece) => (
          <GhostPiece key={piece.id} piece={piece} colour={ghost} />
        ))}
        {moved?.lamps.map((lamp) => (
          <GhostLamp key={lamp.id} lamp={lamp} edge={ghost} />
        ))}
        {field && (
          <SliceSheet
            field={field}
            cut={props.cut}
            scale={props.scale}
            band={props.band}
            onProbe={props.onProbe}
          />
        )}
        {props.space && props.band && (
          <BandShells field={props.space} band={props.band} scale={props.scale} />
        )}
        <Pins pins={props.pins} chosen={chosen} labels={labels} />
      </Canvas>
      <PinLabels pins={props.pins} chosen={chosen} labels={labels} />
    </>
  );
}
