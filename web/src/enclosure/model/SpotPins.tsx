import { Html } from '@react-three/drei';
import type { SpotReading } from '../../api/schema';
import { showValue } from '../../parts/quantities';
import classes from './SpotPins.module.css';
import { metres } from './metres';

// Where each spot is read, with what a meter would read there. The list beside the model says the same.
export function SpotPins({ spots, chosen }: { spots: readonly SpotReading[]; chosen: string | null }) {
  return spots.map((spot) => (
    <group key={spot.id} position={metres(spot.point_cm)}>
      <mesh raycast={() => null} renderOrder={3}>
        <sphereGeometry args={[0.011, 16, 12]} />
        <meshBasicMaterial color={spot.id === chosen ? '#ff8a3c' : '#ffffff'} depthTest={false} transparent />
      </mesh>
      <Html zIndexRange={[5, 0]} className={classes.pin} data-chosen={spot.id === chosen}>
        <span aria-hidden="true">
          {spot.name} <b>{showValue('uvi', spot.uvi)}</b>
        </span>
      </Html>
    </group>
  ));
}
