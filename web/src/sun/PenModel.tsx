// An enclosure under the sky: the sun's direction as an arrow, its shadows as a coloured level. Comes only with a pen, as
// three.js is larger than all the rest.
import { Canvas } from '@react-three/fiber';
import { useMemo } from 'react';
import { ArrowHelper, BufferGeometry, Float32BufferAttribute, Vector3 } from 'three';
import type { Field } from '../api/client';
import { useMeshes } from '../api/queries';
import type { Enclosure, Material, MaterialName, SpotReading, Vec3 } from '../api/schema';
import { Camera, view } from '../enclosure/model/Camera';
import { metres } from '../enclosure/model/metres';
import { colourOfPiece, Leaves, Piece, Triangles } from '../enclosure/model/Pieces';
import { ScreenSheet } from '../enclosure/model/Screens';
import { SliceSheet } from '../enclosure/model/SliceSheet';
import { PinLabels, Pins, useLabels } from '../enclosure/model/SpotPins';
import { Walls } from '../enclosure/model/Walls';
import type { Scale } from '../parts/colourScale';
import { towardSun } from './direction';

type Props = {
  pen: Enclosure;
  materials: readonly Material[];
  field: Field | undefined;
  scale: Scale;
  band: readonly [number, number] | null;
  spots: readonly SpotReading[];
  sun: { azimuth_deg: number; elevation_deg: number };
  bearing_deg: number;
  isDark: boolean;
};

const unknownMaterial = '#8b8578';

function Arrow({
  from,
  along,
  length,
  colour,
}: {
  from: Vector3;
  along: Vector3;
  length: number;
  colour: string;
}) {
  const arrow = useMemo(
    () => new ArrowHelper(along, from, length, colour, length * 0.22, length * 0.11),
    [from, along, length, colour],
  );
  return <primitive object={arrow} />;
}

// An N that lies on the ground, its head to the north.
function NorthLetter(props: { at: Vector3; bearing_deg: number; size: number; colour: string }) {
  const strokes = useMemo(() => {
    const points = [-0.35, 0, -0.35, 1, -0.35, 1, 0.35, 0, 0.35, 0, 0.35, 1];
    const flat = points.flatMap((value, i) => (i % 2 === 0 ? [value] : [value, 0]));
    return new BufferGeometry().setAttribute('position', new Float32BufferAttribute(flat, 3));
  }, []);
  return (
    <lineSegments
      geometry={strokes}
      position={props.at}
      rotation={[0, 0, (props.bearing_deg * Math.PI) / 180]}
      scale={props.size}
    >
      <lineBasicMaterial color={props.colour} />
    </lineSegments>
  );
}

// Where a level ray from the middle of the floor leaves it.
function edgeToward([w, d]: readonly number[], [x, y]: Vec3): number {
  const across = Math.abs(x) > 1e-9 ? (w ?? 1) / 2 / Math.abs(x) : Infinity;
  const along = Math.abs(y) > 1e-9 ? (d ?? 1) / 2 / Math.abs(y) : Infinity;
  return Math.min(across, along);
}

export default function PenModel(props: Props) {
  const { pen, materials, field, isDark, bearing_deg, sun } = props;
  const edge = isDark ? '#8fa39d' : '#50605b';
  const sunColour = isDark ? '#ffd76a' : '#8a5a00';
  const [w, d, h] = metres(pen.size_cm);
  const labels = useLabels();
  const pins = props.spots.map((spot) => ({ ...spot, value: spot.uvi.toFixed(1) }));
  const meshes = useMeshes(pen);
  const colours = useMemo(() => new Map(materials.map((m) => [m.id, m.colour])), [materials]);
  const colourOf = (material: MaterialName | undefined) =>
    (typeof material === 'string' ? colours.get(material) : undefined) ?? unknownMaterial;

  // Air above the pen for the arrow, so that the camera keeps it in view.
  const air = Math.max(h, 0.45 * Math.max(w, d));
  const toSun = towardSun(sun.azimuth_deg, sun.elevation_deg, bearing_deg);
  const north = towardSun(0, 0, bearing_deg);
  const foot = new Vector3(w / 2, d / 2, (field?.header.min_cm[2] ?? 0) / 100);
  const sunAt = foot.clone().addScaledVector(new Vector3(...toSun), 0.95 * air);
  const northFrom = new Vector3(w / 2, d / 2, 0).addScaledVector(
    new Vector3(...north),
    edgeToward([w, d], north) + 0.03,
  );
  const northLength = 0.12 * Math.min(w, d) + 0.05;
  return (
    <>
      <Canvas
        frameloop="demand"
        dpr={[1, 2]}
        camera={{ up: [0, 0, 1], fov: view.fov_deg, near: 0.05, far: 80 }}
      >
        <hemisphereLight args={['#ffffff', '#8a948f', 1.6]} up={[0, 0, 1]} />
        <directionalLight position={sunAt} intensity={1.6} />
        <Camera size_cm={[pen.size_cm[0], pen.size_cm[1], air * 100]} />
        <Walls size_cm={pen.size_cm} walls={pen.walls} colourOf={colourOf} edge={edge} />
        {pen.furniture?.map((piece) =>
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
        {pen.screens?.map((screen) => (
          <ScreenSheet key={screen.id} screen={screen} edge={edge} />
        ))}
        {field && (
          <SliceSheet
            field={field}
            cut="level"
            scale={props.scale}
            band={props.band}
            onProbe={() => undefined}
          />
        )}
        <Arrow
          from={sunAt}
          along={foot.clone().sub(sunAt).normalize()}
          length={0.62 * air}
          colour={sunColour}
        />
        <mesh position={sunAt}>
          <sphereGeometry args={[0.05 * air, 24, 16]} />
          <meshBasicMaterial color={sunColour} />
        </mesh>
        <Arrow from={northFrom} along={new Vector3(...north)} length={northLength} colour={edge} />
        <NorthLetter
          at={northFrom.clone().addScaledVector(new Vector3(...north), northLength * 1.25)}
          bearing_deg={bearing_deg}
          size={northLength * 0.8}
          colour={edge}
        />
        <Pins pins={pins} chosen={null} labels={labels} />
      </Canvas>
      <PinLabels pins={pins} chosen={null} labels={labels} />
    </>
  );
}
