import { Edges } from '@react-three/drei';
import { memo, useMemo } from 'react';
import { BufferGeometry, DoubleSide, Float32BufferAttribute } from 'three';
import type { Screen } from '../../api/schema';
import { metres, middle } from './metres';

const drawnPitch_m = 0.025; // drawn far coarser than a real mesh, which would be a grey haze on the screen

type Props = { screen: Screen; edge: string };

// A mesh as a net of lines, a pane as a tinted sheet.
export const ScreenSheet = memo(function ScreenSheet({ screen, edge }: Props) {
  const min = metres(screen.min_cm);
  const max = metres(screen.max_cm);
  const net = useMemo(() => {
    const size = max.map((m, i) => m - (min[i] ?? 0));
    const spread = [0, 1, 2].filter((axis) => (size[axis] ?? 0) > 0);
    const lines: number[] = [];
    for (const axis of spread) {
      const other = spread.find((a) => a !== axis) ?? axis;
      const n = Math.max(1, Math.round((size[other] ?? 0) / drawnPitch_m));
      for (let i = 0; i <= n; ++i) {
        const from = [...min];
        const to = [...min];
        from[other] = to[other] = (min[other] ?? 0) + (i / n) * (size[other] ?? 0);
        to[axis] = max[axis] ?? 0;
        lines.push(...from, ...to);
      }
    }
    return new BufferGeometry().setAttribute('position', new Float32BufferAttribute(lines, 3));
    // eslint-disable-next-line react-hooks/exhaustive-deps -- min and max follow from the screen
  }, [screen]);
  if (screen.mesh) {
    return (
      <lineSegments geometry={net} raycast={() => null}>
        <lineBasicMaterial color={edge} transparent opacity={0.35} />
      </lineSegments>
    );
  }
  const size = max.map((m, i) => Math.max(0.002, m - (min[i] ?? 0))) as [number, number, number];
  return (
    <mesh position={metres(middle(screen.min_cm, screen.max_cm))} raycast={() => null}>
      <boxGeometry args={size} />
      <meshBasicMaterial color="#9fc4c4" transparent opacity={0.25} side={DoubleSide} depthWrite={false} />
      <Edges color={edge} />
    </mesh>
  );
});
