// Lamps as they hang; what takes hold of them is in Grip.
import { Edges } from '@react-three/drei';
import { memo } from 'react';
import type { Lamp } from '../../api/schema';
import { along, chosenColour, metres } from './metres';

const glow = '#f4f0ff';
const warmGlow = '#ffd9a0';

function Body({ lamp, edge, isGhost = false }: { lamp: Lamp; edge: string; isGhost?: boolean }) {
  const radius = (lamp.diameter_cm ?? 2.6) / 200;
  const material = isGhost ? (
    <meshBasicMaterial color={edge} transparent opacity={0.15} depthWrite={false} />
  ) : (
    <meshBasicMaterial color={lamp.kind === 'spot' ? warmGlow : glow} />
  );
  if (lamp.kind === 'spot') {
    const aim = lamp.aim ?? [0, 0, -1];
    return (
      <group quaternion={along([-aim[0], -aim[1], -aim[2]])}>
        <mesh position={[0, 0.05, 0]}>
          <cylinderGeometry args={[radius * 0.35, Math.max(radius, 0.02), 0.1, 24]} />
          {isGhost ? material : <meshLambertMaterial color="#5d6664" />}
          <Edges threshold={40} color={edge} />
        </mesh>
        <mesh position={[0, -0.002, 0]}>
          <cylinderGeometry args={[Math.max(radius, 0.02), Math.max(radius, 0.02), 0.004, 24]} />
          {material}
        </mesh>
      </group>
    );
  }
  return (
    <group quaternion={along(lamp.along ?? [1, 0, 0])}>
      <mesh>
        <cylinderGeometry
          args={[Math.max(radius, 0.006), Math.max(radius, 0.006), (lamp.length_cm ?? 8) / 100, 20]}
        />
        {material}
        <Edges threshold={40} color={edge} />
      </mesh>
    </group>
  );
}

type BodyProps = { lamp: Lamp; edge: string; isChosen: boolean };

export const LampBody = memo(function LampBody({ lamp, edge, isChosen }: BodyProps) {
  return (
    <group position={metres(lamp.centre_cm)}>
      <Body lamp={lamp} edge={isChosen ? chosenColour : edge} />
    </group>
  );
});

export function GhostLamp({ lamp, edge }: { lamp: Lamp; edge: string }) {
  return (
    <group position={metres(lamp.centre_cm)}>
      <Body lamp={lamp} edge={edge} isGhost />
    </group>
  );
}
