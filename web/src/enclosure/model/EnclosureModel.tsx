// The enclosure in three dimensions. Loaded only where it is shown: three.js is larger than all the rest.
import { Canvas } from '@react-three/fiber';
import { useMemo } from 'react';
import type { Field } from '../../api/client';
import { useMeshes } from '../../api/queries';
import type { Enclosure, Material, MaterialName, SpotReading, Vec3 } from '../../api/schema';
import type { Scale } from '../../parts/colourScale';
import { movedThings } from '../document';
import type { Cut } from '../slice';
import { Camera, view } from './Camera';
import { DraggableLamp, GhostLamp } from './Lamps';
import { metres } from './metres';
import { colourOfPiece, GhostPiece, Leaves, Piece, Triangles } from './Pieces';
import { ScreenSheet } from './Screens';
import { SliceSheet, type Probe } from './SliceSheet';
import { SpotLabels, SpotPins, useLabels } from './SpotPins';
import { Walls } from './Walls';

type Props = {
  enclosure: Enclosure;
  before: Enclosure | null; // drawn as a ghost where it differs
  materials: readonly Material[];
  field: Field | undefined;
  cut: Cut;
  scale: Scale;
  band: readonly [number, number] | null;
  spots: readonly SpotReading[];
  chosenSpot: string | null;
  chosenLamp: string | null;
  isDark: boolean;
  onChooseLamp: (id: string) => void;
  onMoveLamp: (id: string, centre_cm: Vec3) => void;
  onProbe: (probe: Probe | null) => void;
};

const unknownMaterial = '#8b8578';

export default function EnclosureModel(props: Props) {
  const { enclosure, before, materials, field, isDark } = props;
  const edge = isDark ? '#8fa39d' : '#50605b';
  const ghost = isDark ? '#ffb084' : '#9c3a00';
  const [w, d, h] = metres(enclosure.size_cm);
  const labels = useLabels();
  const meshes = useMeshes(enclosure);
  const colours = useMemo(() => new Map(materials.map((m) => [m.id, m.colour])), [materials]);
  const colourOf = (material: MaterialName | undefined) =>
    (typeof material === 'string' ? colours.get(material) : undefined) ?? unknownMaterial;
  const moved = useMemo(() => (before ? movedThings(before, enclosure) : null), [before, enclosure]);
  return (
    <>
      <Canvas
        frameloop="demand"
        dpr={[1, 2]}
        camera={{ up: [0, 0, 1], fov: view.fov_deg, near: 0.05, far: 60 }}
        onPointerMissed={() => props.onProbe(null)}
      >
        <hemisphereLight args={['#ffffff', '#8a948f', 1.9]} up={[0, 0, 1]} />
        <directionalLight position={[w, -d, h * 3]} intensity={1.1} />
        <Camera size_cm={enclosure.size_cm} />
        <Walls enclosure={enclosure} colourOf={colourOf} edge={edge} />
        {enclosure.furniture?.map((piece) =>
          piece.shape === 'foliage' ? (
            <Leaves key={piece.id} piece={piece} colour={colourOfPiece(piece, colourOf)} />
          ) : piece.shape === 'mesh' ? (
            <Triangles
              key={piece.id}
              mesh={meshes.data?.meshes.find(({ id }) => id === piece.id)}
              colour={colourOfPiece(piece, colourOf)}
            />
          ) : (
            <Piece key={piece.id} piece={piece} colour={colourOfPiece(piece, colourOf)} />
          ),
        )}
        {enclosure.screens?.map((screen) => (
          <ScreenSheet key={screen.id} screen={screen} edge={edge} />
        ))}
        {enclosure.lamps?.map((lamp) => (
          <DraggableLamp
            key={lamp.id}
            lamp={lamp}
            edge={edge}
            isChosen={lamp.id === props.chosenLamp}
            onChoose={() => props.onChooseLamp(lamp.id)}
            onMove={(centre) => props.onMoveLamp(lamp.id, centre)}
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
        <SpotPins spots={props.spots} chosen={props.chosenSpot} labels={labels} />
      </Canvas>
      <SpotLabels spots={props.spots} chosen={props.chosenSpot} labels={labels} />
    </>
  );
}
