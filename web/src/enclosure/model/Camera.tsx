// Where the model is first seen from: far enough for the whole enclosure, whatever the shape of the stage.
import { OrbitControls } from '@react-three/drei';
import { useThree } from '@react-three/fiber';
import { useLayoutEffect } from 'react';
import { type PerspectiveCamera, Vector3 } from 'three';
import type { Vec3 } from '../../api/schema';
import { metres } from './metres';

export const view = { fov_deg: 32, from: new Vector3(0.5, -1.6, 0.75).normalize() };

export function Camera({ size_cm }: { size_cm: Vec3 }) {
  const camera = useThree((state) => state.camera) as PerspectiveCamera;
  const aspect = useThree((state) => state.size.width / state.size.height);
  const [w, d, h] = metres(size_cm);
  const radius = Math.hypot(w, d, h) / 2;
  useLayoutEffect(() => {
    const half = ((view.fov_deg / 2) * Math.PI) / 180;
    const across = Math.atan(Math.tan(half) * aspect);
    const distance = (0.84 * radius) / Math.sin(Math.min(half, across));
    camera.position.set(w / 2, d / 2, h / 2).addScaledVector(view.from, distance);
    camera.updateProjectionMatrix();
  }, [camera, aspect, w, d, h, radius]);
  return (
    <OrbitControls
      makeDefault
      target={[w / 2, d / 2, h * 0.5]}
      enableDamping={false}
      minDistance={radius}
      maxDistance={radius * 10}
      maxPolarAngle={Math.PI * 0.55}
    />
  );
}
