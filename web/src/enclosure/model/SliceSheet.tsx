// The field on a plane: its colours, the lines where the animal's band begins and ends, and values under the pointer.
import { type ThreeEvent, useThree } from '@react-three/fiber';
import { contours } from 'd3-contour';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import {
  BufferGeometry,
  DataTexture,
  DoubleSide,
  Float32BufferAttribute,
  LinearFilter,
  RGBAFormat,
  SRGBColorSpace,
  Vector3,
} from 'three';
import type { Field } from '../../api/client';
import type { FieldHeader, Vec3 } from '../../api/schema';
import { paint, type Scale } from '../../parts/colourScale';
import { axesOf, shapeOf, valueAt, type Cut } from '../slice';
import { metres } from './metres';

export type Probe = { value: number; point_cm: Vec3 };

type Props = {
  field: Field;
  cut: Cut;
  scale: Scale;
  band: readonly [number, number] | null;
  onProbe: (probe: Probe | null) => void;
};

// Corners of the sheet in the order of its values: first axis fastest.
function sheetOf({ min_cm, max_cm, counts }: FieldHeader, cut: Cut): BufferGeometry {
  const [, first, second] = axesOf(cut);
  const min = metres(min_cm);
  const max = metres(max_cm);
  const corner = (u: number, v: number) => {
    const place = [...min];
    place[first] = u === 0 ? min[first] : max[first];
    place[second] = v === 0 ? min[second] : max[second];
    return place;
  };
  const geometry = new BufferGeometry();
  const corners = [...corner(0, 0), ...corner(1, 0), ...corner(1, 1), ...corner(0, 1)];
  geometry.setAttribute('position', new Float32BufferAttribute(corners, 3));
  geometry.setAttribute('uv', new Float32BufferAttribute(textureCorners(counts), 2));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  return geometry;
}

// Values lie on the corners of the sheet, pixels have them in their middles.
function textureCorners(counts: FieldHeader['counts']): number[] {
  const [columns, rows] = shapeOf(counts);
  const [u, v] = [0.5 / columns, 0.5 / rows];
  return [u, v, 1 - u, v, 1 - u, 1 - v, u, 1 - v];
}

// One sheet as long as the slice stays where it is.
function useSheet({ header }: Field, cut: Cut): BufferGeometry {
  const place = JSON.stringify([header.min_cm, header.max_cm, header.counts]);
  // eslint-disable-next-line react-hooks/exhaustive-deps -- what it needs of the header is its place
  const sheet = useMemo(() => sheetOf(header, cut), [place, cut]);
  useEffect(() => () => sheet.dispose(), [sheet]);
  return sheet;
}

// One texture as long as the slice has as many points; an answer paints it anew.
function useTexture(field: Field, scale: Scale): DataTexture {
  const [columns, rows] = shapeOf(field.header.counts);
  const invalidate = useThree((state) => state.invalidate);
  const texture = useMemo(() => {
    const made = new DataTexture(new Uint8Array(4 * columns * rows), columns, rows, RGBAFormat);
    made.colorSpace = SRGBColorSpace;
    made.magFilter = LinearFilter;
    made.minFilter = LinearFilter;
    return made;
  }, [columns, rows]);
  useEffect(() => () => texture.dispose(), [texture]);
  useLayoutEffect(() => {
    paint(field.values, scale, texture.image.data as Uint8Array);
    texture.needsUpdate = true;
    invalidate();
  }, [texture, field, scale, invalidate]);
  return texture;
}

// Lines of equal value at both ends of the band, as pairs of points; the frame of the sheet is no such line.
function bandLines(field: Field, cut: Cut, band: readonly [number, number]): BufferGeometry {
  const [across, first, second] = axesOf(cut);
  const [columns, rows] = shapeOf(field.header.counts);
  const min = metres(field.header.min_cm);
  const max = metres(field.header.max_cm);
  const place = (x: number, y: number) => {
    const point = [...min];
    point[first] = min[first] + ((x - 0.5) / (columns - 1)) * (max[first] - min[first]);
    point[second] = min[second] + ((y - 0.5) / (rows - 1)) * (max[second] - min[second]);
    point[across] = (point[across] ?? 0) + 0.001;
    return point;
  };
  const isOutside = (x: number, y: number) => x < 0.5 || y < 0.5 || x > columns - 0.5 || y > rows - 0.5;
  const points: number[] = [];
  const lines = contours()
    .size([columns, rows])
    .thresholds(band.filter((end) => end > 0));
  for (const { coordinates } of lines(Array.from(field.values))) {
    for (const ring of coordinates.flat()) {
      ring.slice(1).forEach(([x = 0, y = 0], i) => {
        const [x0 = 0, y0 = 0] = ring[i] ?? [];
        if (!isOutside(x, y) && !isOutside(x0, y0)) points.push(...place(x0, y0), ...place(x, y));
      });
    }
  }
  return new BufferGeometry().setAttribute('position', new Float32BufferAttribute(points, 3));
}

export function SliceSheet({ field, cut, scale, band, onProbe }: Props) {
  const sheet = useSheet(field, cut);
  const texture = useTexture(field, scale);
  const lines = useMemo(() => (band ? bandLines(field, cut, band) : null), [field, cut, band]);
  useEffect(() => () => lines?.dispose(), [lines]);

  const probe = (event: ThreeEvent<PointerEvent>) => {
    const [, first, second] = axesOf(cut);
    const point = new Vector3().copy(event.point).multiplyScalar(100).toArray();
    const { min_cm, max_cm } = field.header;
    const along = (axis: 0 | 1 | 2) => (point[axis] - min_cm[axis]) / (max_cm[axis] - min_cm[axis]);
    onProbe({ value: valueAt(field, along(first), along(second)), point_cm: point });
  };
  return (
    <group>
      <mesh
        geometry={sheet}
        onPointerMove={probe}
        onPointerDown={probe}
        // A finger that is lifted leaves its number standing.
        onPointerOut={(event) => event.pointerType !== 'touch' && onProbe(null)}
        renderOrder={1}
      >
        <meshBasicMaterial map={texture} side={DoubleSide} transparent opacity={0.9} toneMapped={false} />
      </mesh>
      {lines && (
        <lineSegments geometry={lines} raycast={() => null} renderOrder={2}>
          <lineBasicMaterial color="#ffffff" toneMapped={false} />
        </lineSegments>
      )}
    </group>
  );
}
