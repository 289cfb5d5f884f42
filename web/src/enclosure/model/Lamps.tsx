// Lamps and their handles: press and pull to slide a lamp at its height; with Shift, up and down.
import { Edges } from '@react-three/drei';
import { type ThreeEvent, useThree } from '@react-three/fiber';
import { useRef } from 'react';
import { Plane, Quaternion, Vector3 } from 'three';
import type { Lamp, Vec3 } from '../../api/schema';
import { along, metres } from './metres';

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

type Props = {
  lamp: Lamp;
  edge: string;
  isChosen: boolean;
  onChoose: () => void;
  onMove: (centre_cm: Vec3) => void;
};

export function DraggableLamp({ lamp, edge, isChosen, onChoose, onMove }: Props) {
  const controls = useThree((state) => state.controls) as { enabled: boolean } | null;
  const grip = useRef<{ plane: Plane; offset: Vector3; upDown: boolean } | null>(null);

  const onPointerDown = (event: ThreeEvent<PointerEvent>) => {
    event.stopPropagation();
    onChoose();
    const upDown = event.shiftKey;
    const facing = event.camera.getWorldDirection(new Vector3()).setZ(0).normalize();
    const normal = upDown ? facing : new Vector3(0, 0, 1);
    const plane = new Plane().setFromNormalAndCoplanarPoint(normal, event.point);
    grip.current = { plane, offset: event.point.clone().sub(new Vector3(...metres(lamp.centre_cm))), upDown };
    if (controls) controls.enabled = false;
    (event.target as Element).setPointerCapture(event.pointerId);
  };
  const onPointerMove = (event: ThreeEvent<PointerEvent>) => {
    const held = grip.current;
    if (!held) return;
    event.stopPropagation();
    const hit = event.ray.intersectPlane(held.plane, new Vector3());
    if (!hit) return;
    const place = hit.sub(held.offset).multiplyScalar(100);
    const [x, y, z] = lamp.centre_cm;
    onMove(held.upDown ? [x, y, Math.round(place.z)] : [Math.round(place.x), Math.round(place.y), z]);
  };
  const release = (event: ThreeEvent<PointerEvent>) => {
    if (!grip.current) return;
    grip.current = null;
    if (controls) controls.enabled = true;
    (event.target as Element).releasePointerCapture(event.pointerId);
  };
  const length = (lamp.length_cm ?? 0) / 100;
  const handle = Math.max(0.05, (lamp.diameter_cm ?? 2.6) / 150);
  return (
    <group position={metres(lamp.centre_cm)}>
      <Body lamp={lamp} edge={isChosen ? '#ff8a3c' : edge} />
      {/* An unseen grip, thick enough for a finger. */}
      <mesh
        quaternion={lamp.kind === 'spot' ? new Quaternion() : along(lamp.along ?? [1, 0, 0])}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={release}
        onPointerCancel={release}
      >
        <cylinderGeometry args={[handle, handle, Math.max(length, 2 * handle), 8]} />
        <meshBasicMaterial transparent opacity={0} depthWrite={false} />
      </mesh>
    </group>
  );
}

export function GhostLamp({ lamp, edge }: { lamp: Lamp; edge: string }) {
  return (
    <group position={metres(lamp.centre_cm)}>
      <Body lamp={lamp} edge={edge} isGhost />
    </group>
  );
}
