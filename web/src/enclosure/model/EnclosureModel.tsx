// The enclosure in three dimensions. Loaded only where it is shown: three.js is larger than all the rest.
import { AdaptiveDpr } from '@react-three/drei';
import { Canvas } from '@react-three/fiber';
import { memo, useMemo } from 'react';
import { useMeshes } from '../../api/queries';
import type { Enclosure, Material, MaterialName } from '../../api/schema';
import { scaleFor } from '../../parts/colourScale';
import type { NewestField } from '../asking';
import { movedThings } from '../document';
import { piecesOf } from '../edit/pieces';
import { cutOf } from '../slice';
import { useNow, type Heard } from '../store';
import { BandShells } from './BandShells';
import { Camera, view } from './Camera';
import { drawing, isByProcessor } from './drawing';
import { Grip, type Moving } from './Grip';
import { GhostLamp, LampBody } from './Lamps';
import { chosenColour, metres } from './metres';
import { colourOfPiece, GhostPiece, Leaves, Piece, Triangles } from './Pieces';
import { ScreenSheet } from './Screens';
import { SliceSheet, type Probe } from './SliceSheet';
import { PinLabels, Pins, useLabels, type Pin } from './SpotPins';
import { TogetherFrames } from './TogetherFrames';
import { Walls } from './Walls';

export type ModelProps = {
  shown: Heard<Enclosure>;
  before: Enclosure | null; // drawn as a ghost where it differs
  materials: readonly Material[];
  field: NewestField;
  space: NewestField | null; // for the shells of the band
  band: readonly [number, number] | null;
  pins: readonly Pin[];
  chosen: string | null;
  isDark: boolean;
  moving: Moving;
  onProbe: (probe: Probe | null) => void;
  onLetGo: () => void;
};

const unknownMaterial = '#8b8578';

type ColourOf = (material: MaterialName | undefined) => string;

function useColourOf(materials: readonly Material[]): ColourOf {
  return useMemo(() => {
    const colours = new Map(materials.map((m) => [m.id, m.colour]));
    return (material) =>
      (typeof material === 'string' ? colours.get(material) : undefined) ?? unknownMaterial;
  }, [materials]);
}

type FurnitureProps = { enclosure: Enclosure; colourOf: ColourOf };
const isSameFurniture = (a: FurnitureProps, b: FurnitureProps) =>
  a.enclosure.furniture === b.enclosure.furniture && a.colourOf === b.colourOf;

const Furniture = memo(function Furniture({ enclosure, colourOf }: FurnitureProps) {
  const meshes = useMeshes(enclosure);
  return enclosure.furniture?.map((piece) => {
    const colour = colourOfPiece(piece, colourOf);
    if (piece.shape === 'foliage') return <Leaves key={piece.id} piece={piece} colour={colour} />;
    if (piece.shape !== 'mesh') return <Piece key={piece.id} piece={piece} colour={colour} />;
    const mesh = meshes.data?.meshes.find(({ id }) => id === piece.id);
    return <Triangles key={piece.id} mesh={mesh} colour={colour} />;
  });
}, isSameFurniture);

// An answer draws the slice anew and nothing else.
function LiveSlice({ field, ...rest }: Pick<ModelProps, 'field' | 'band' | 'onProbe'>) {
  const { answer } = useNow(field.answered);
  const quantity = answer?.header.quantity ?? 'uvi';
  const high = scaleFor(quantity, answer?.header.most ?? 1).high;
  const scale = useMemo(() => scaleFor(quantity, high), [quantity, high]);
  return answer && <SliceSheet field={answer} cut={cutOf(answer.header.counts)} scale={scale} {...rest} />;
}

function LiveShells({ space, band }: { space: NewestField; band: readonly [number, number] }) {
  const { answer } = useNow(space.answered);
  return answer && <BandShells field={answer} band={band} scale={uviScale} />;
}
const uviScale = scaleFor('uvi', 1);

// Follows the document while it changes under the hand; what stays the same is not drawn up anew.
function Standing(props: ModelProps) {
  const { before, materials, isDark, chosen } = props;
  const enclosure = useNow(props.shown);
  const edge = isDark ? '#8fa39d' : '#50605b';
  const ghost = isDark ? '#ffb084' : '#9c3a00';
  const { size_cm, walls } = enclosure;
  const [w, d, h] = metres(size_cm);
  const colourOf = useColourOf(materials);
  const moved = useMemo(() => (before ? movedThings(before, enclosure) : null), [before, enclosure]);
  return (
    <>
      <directionalLight position={[w, -d, h * 3]} intensity={1.1} />
      <Camera size_cm={size_cm} />
      <Walls size_cm={size_cm} walls={walls} colourOf={colourOf} edge={edge} />
      <Furniture enclosure={enclosure} colourOf={colourOf} />
      {enclosure.screens?.map((screen) => (
        <ScreenSheet key={screen.id} screen={screen} edge={screen.id === chosen ? chosenColour : edge} />
      ))}
      {enclosure.lamps?.map((lamp) => (
        <LampBody key={lamp.id} lamp={lamp} edge={edge} isChosen={lamp.id === chosen} />
      ))}
      {piecesOf(enclosure).map((found) => (
        <Grip
          key={found.piece.id}
          found={found}
          isChosen={found.piece.id === chosen}
          colour={chosenColour}
          moving={props.moving}
        />
      ))}
      {moved?.furniture.map((piece) => (
        <GhostPiece key={piece.id} piece={piece} colour={ghost} />
      ))}
      {moved?.lamps.map((lamp) => (
        <GhostLamp key={lamp.id} lamp={lamp} edge={ghost} />
      ))}
    </>
  );
}

export default function EnclosureModel(props: ModelProps) {
  const { band, space, pins, chosen } = props;
  const labels = useLabels();
  return (
    <>
      <Canvas
        frameloop="demand"
        {...drawing}
        camera={{ up: [0, 0, 1], fov: view.fov_deg, near: 0.05, far: 60 }}
        onPointerMissed={() => {
          props.onProbe(null);
          props.onLetGo();
        }}
      >
        <AdaptiveDpr />
        {isByProcessor && <TogetherFrames shown={props.shown} field={props.field} />}
        <hemisphereLight args={['#ffffff', '#8a948f', 1.9]} up={[0, 0, 1]} />
        <Standing {...props} />
        <LiveSlice field={props.field} band={band} onProbe={props.onProbe} />
        {space && band && <LiveShells space={space} band={band} />}
        <Pins pins={pins} chosen={chosen} labels={labels} />
      </Canvas>
      <PinLabels pins={pins} chosen={chosen} labels={labels} />
    </>
  );
}
