// Where each spot is read, with what a meter would read there. The list beside the model says the same, so the labels
// are for the eye only.
import { useFrame } from '@react-three/fiber';
import { useRef, type RefObject } from 'react';
import { Vector3 } from 'three';
import type { SpotReading } from '../../api/schema';
import { showValue } from '../../parts/quantities';
import { metres } from './metres';
import classes from './SpotPins.module.css';

export type Labels = RefObject<Map<string, HTMLElement>>;

export function useLabels(): Labels {
  return useRef(new Map<string, HTMLElement>());
}

const apart_px = 26;

type Props = { spots: readonly SpotReading[]; chosen: string | null; labels: Labels };

// Lies over the canvas.
export function SpotLabels({ spots, chosen, labels }: Props) {
  return spots.map((spot) => (
    <span
      key={spot.id}
      aria-hidden="true"
      className={classes.label}
      data-chosen={spot.id === chosen}
      ref={(element) => {
        if (element) labels.current.set(spot.id, element);
        else labels.current.delete(spot.id);
      }}
    >
      {spot.name} <b>{showValue('uvi', spot.uvi)}</b>
    </span>
  ));
}

// Stands in the model and keeps each label beside its spot.
export function SpotPins({ spots, chosen, labels }: Props) {
  useFrame(({ camera, size }) => {
    const taken: { x: number; y: number; width: number }[] = [];
    for (const spot of spots) {
      const label = labels.current.get(spot.id);
      if (!label) continue;
      const place = new Vector3(...metres(spot.point_cm)).project(camera);
      const x = Math.min(size.width - label.offsetWidth - 12, ((place.x + 1) / 2) * size.width);
      let y = ((1 - place.y) / 2) * size.height - 32;
      const width = label.offsetWidth;
      // A label that would cover another moves up until it does not.
      const covered = () =>
        taken.some((o) => x < o.x + o.width && o.x < x + width && Math.abs(y - o.y) < apart_px);
      while (covered() && y > 0) y -= apart_px / 2;
      taken.push({ x, y, width });
      label.style.transform = `translate(${x + 9}px, ${y}px)`;
      label.style.visibility = 'visible';
    }
  });
  return spots.map((spot) => (
    <mesh key={spot.id} position={metres(spot.point_cm)} raycast={() => null} renderOrder={3}>
      <sphereGeometry args={[0.011, 16, 12]} />
      <meshBasicMaterial color={spot.id === chosen ? '#ff8a3c' : '#ffffff'} depthTest={false} transparent />
    </mesh>
  ));
}
