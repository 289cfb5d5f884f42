// Furniture and leaves.
import { Edges } from '@react-three/drei';
import { memo, useEffect, useMemo } from 'react';
import { BufferGeometry, DoubleSide, Float32BufferAttribute, Quaternion, Vector3 } from 'three';
import type { Furniture, MaterialName, Vec3 } from '../../api/schema';
import { along, metres, middle, turned } from './metres';

const none: Vec3 = [0, 0, 0];

function Shape({ piece }: { piece: Furniture }) {
  if (piece.shape === 'cylinder') {
    const from = piece.from_cm ?? none;
    const to = piece.to_cm ?? none;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]) / 100;
    const radius = (piece.diameter_cm ?? 1) / 200;
    return <cylinderGeometry args={[radius, radius, length, 20]} />;
  }
  if (piece.shape === 'ellipsoid') return <sphereGeometry args={[1, 32, 20]} />;
  const min = piece.min_cm ?? none;
  const max = piece.max_cm ?? none;
  return <boxGeometry args={[(max[0] - min[0]) / 100, (max[1] - min[1]) / 100, (max[2] - min[2]) / 100]} />;
}

function placed(piece: Furniture) {
  if (piece.shape === 'cylinder') {
    const from = piece.from_cm ?? none;
    const to = piece.to_cm ?? none;
    const own = along([to[0] - from[0], to[1] - from[1], to[2] - from[2]]);
    const quaternion = new Quaternion().setFromEuler(turned(piece.turn_deg)).multiply(own);
    return { position: metres(middle(from, to)), quaternion, scale: 1 as const };
  }
  const quaternion = new Quaternion().setFromEuler(turned(piece.turn_deg));
  if (piece.shape === 'ellipsoid' || piece.centre_cm) {
    return {
      position: metres(piece.centre_cm ?? none),
      quaternion,
      scale: metres(piece.radii_cm ?? [1, 1, 1]),
    };
  }
  return {
    position: metres(middle(piece.min_cm ?? none, piece.max_cm ?? none)),
    quaternion,
    scale: 1 as const,
  };
}

type Props = { piece: Furniture; colour: string };

export const Piece = memo(function Piece({ piece, colour }: Props) {
  return (
    <mesh {...placed(piece)} raycast={() => null}>
      <Shape piece={piece} />
      <meshLambertMaterial color={colour} />
    </mesh>
  );
});

type TriangleProps = {
  mesh: { vertices_cm: readonly Vec3[]; triangles: readonly Vec3[] } | undefined;
  colour: string;
};

export function Triangles({ mesh, colour }: TriangleProps) {
  const geometry = useMemo(() => {
    const vertices = (mesh?.triangles ?? []).flatMap((corners) =>
      corners.flatMap((corner) => metres(mesh?.vertices_cm[corner] ?? none)),
    );
    const built = new BufferGeometry().setAttribute('position', new Float32BufferAttribute(vertices, 3));
    built.computeVertexNormals();
    return built;
  }, [mesh]);
  return (
    <mesh geometry={geometry} raycast={() => null}>
      <meshLambertMaterial color={colour} side={DoubleSide} />
    </mesh>
  );
}

// Where a piece stood before the fix that is being tried on.
export function GhostPiece({ piece, colour }: Props) {
  if (piece.shape === 'mesh') return null;
  return (
    <mesh {...placed(piece)} raycast={() => null}>
      <Shape piece={piece} />
      <meshBasicMaterial color={colour} transparent opacity={0.14} depthWrite={false} />
      <Edges color={colour} />
    </mesh>
  );
}

const leaf_m = 0.022;
const mostLeaves = 500;

// Evenly spread, the same every time: the R2 sequence (Roberts 2018), a low-discrepancy one.
function spread(i: number): [number, number, number] {
  return [(0.5 + i * 0.8191725134) % 1, (0.5 + i * 0.6710436067) % 1, (0.5 + i * 0.5497004779) % 1];
}

// A leaf: six corners about its middle, as four triangles.
const corners = Array.from({ length: 6 }, (_, i) => {
  const angle = (i * Math.PI) / 3;
  return new Vector3((leaf_m / 2) * Math.cos(angle), 0.6 * (leaf_m / 2) * Math.sin(angle), 0);
});
const fan = [1, 2, 3, 4].map((i) => [0, i, i + 1]);

// One geometry for all: where the processor draws, instances are drawn one after the other.
function foliage(count: number, half: Vec3): BufferGeometry {
  const positions: number[] = [];
  const normals: number[] = [];
  const index: number[] = [];
  for (let i = 0; i < count; ++i) {
    const [u, v, w] = spread(i);
    const place = new Vector3((2 * u - 1) * half[0], (2 * v - 1) * half[1], (2 * w - 1) * half[2]);
    const [a, b, c] = spread(i + 97);
    const turn = new Quaternion(a - 0.5, b - 0.5, c - 0.5, 0.6).normalize();
    const normal = new Vector3(0, 0, 1).applyQuaternion(turn);
    for (const corner of corners) {
      positions.push(...corner.clone().applyQuaternion(turn).add(place));
      normals.push(...normal);
    }
    for (const triangle of fan) index.push(...triangle.map((k) => k + i * corners.length));
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new Float32BufferAttribute(positions, 3));
  geometry.setAttribute('normal', new Float32BufferAttribute(normals, 3));
  geometry.setIndex(index);
  return geometry;
}

// As many leaves as the leaf area density says (up to a limit), within their volume.
export function Leaves({ piece, colour }: Props) {
  const { position, quaternion } = placed(piece);
  const geometry = useMemo(() => {
    const [a, b] = [piece.min_cm ?? none, piece.max_cm ?? none];
    const half: Vec3 = piece.centre_cm
      ? metres(piece.radii_cm ?? [1, 1, 1])
      : [(b[0] - a[0]) / 200, (b[1] - a[1]) / 200, (b[2] - a[2]) / 200];
    const area = leaf_m * leaf_m * 0.6;
    const wanted = (8 * half[0] * half[1] * half[2] * (piece.leaf_area_density ?? 1)) / area;
    return foliage(Math.min(mostLeaves, Math.round(wanted)), half);
  }, [piece]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  return (
    <mesh geometry={geometry} position={position} quaternion={quaternion} raycast={() => null}>
      <meshLambertMaterial color={colour} side={DoubleSide} />
    </mesh>
  );
}

export function colourOfPiece(
  piece: Furniture,
  colourOf: (material: MaterialName | undefined) => string,
): string {
  return piece.shape === 'foliage' ? '#5d8a4a' : colourOf(piece.material);
}
