// Where the model is first seen from: far enough for the whole enclosure, whatever the shape of the stage.
import { OrbitControls } from '@react-three/drei';
import { useThree } from '@react-three/fiber';
import { memo, useLayoutEffect } from 'react';
import { type PerspectiveCamera, Vector3 } from 'three';
import type { Vec3 } from '../../api/schema';
import { metres } from './metres';

export const view = { fov_deg: 32, from: new Vector3(0.5, -1.6, 0.75).normalize() };

const lampRoom_m = 0.12; // lamps hang above open tops
const margin = 1.12;

const corners = (w: number, d: number, h: number) =>
  [0, w].flatMap((x) => [0, d].flatMap((y) => [0, h].map((z) => new Vector3(x, y, z))));

export const Camera = memo(function Camera({ size_cm }: { size_cm: Vec3 }) {
  const camera = useThree((state) => state.camera) as PerspectiveCamera;
  const aspect = useThree((state) => state.size.width / state.size.height);
  const [w, d, h] = metres(size_cm);
  const radius = Math.hypot(w, d, h) / 2;
  useLayoutEffect(() => {
    const middle = new Vector3(w / 2, d / 2, h / 2);
    camera.position.copy(middle).add(view.from);
    camera.up.set(0, 0, 1);
    camera.lookAt(middle);
    camera.updateMatrixWorld();
    const [right, up, back] = [new Vector3(), new Vector3(), new Vector3()];
    camera.matrixWorld.extractBasis(right, up, back);
    const tall = Math.tan(((view.fov_deg / 2) * Math.PI) / 180);
    // A corner is seen when its offset to the side is at most its distance times the tangent of half the angle.
    const distances = corners(w, d, h + lampRoom_m).map((corner) => {
      const offset = corner.sub(middle);
      const aside = Math.max(Math.abs(offset.dot(right)) / (tall * aspect), Math.abs(offset.dot(up)) / tall);
      return offset.dot(back) + margin * aside;
    });
    camera.position.copy(middle).addScaledVector(view.from, Math.max(...distances));
  }, [camera, aspect, w, d, h]);
  return (
    <OrbitControls
      makeDefault
      regress
      target={[w / 2, d / 2, h * 0.5]}
      enableDamping={false}
      minDistance={radius}
      maxDistance={radius * 10}
      maxPolarAngle={Math.PI * 0.55}
    />
  );
});
