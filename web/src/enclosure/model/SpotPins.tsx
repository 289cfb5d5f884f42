// Marks in the model with a few words beside each: where a spot is read and what a meter would read there, where to
// measure next. The lists beside the model say the same, so the labels are for the eye only.
import { useFrame } from '@react-three/fiber';
import { useRef, type RefObject } from 'react';
import { Vector3 } from 'three';
import type { Vec3 } from '../../api/schema';
import { chosenColour, metres } from './metres';
import classes from './SpotPins.module.css';

export type Pin = { id: string; name: string; value: string; point_cm: Vec3; isAsked?: boolean };
export type Labels = RefObject<Map<string, HTMLElement>>;

export function useLabels(): Labels {
  return useRef(new Map<string, HTMLElement>());
}

const apart_px = 26;

type Props = { pins: readonly Pin[]; chosen: string | null; labels: Labels };

// Lies over the canvas.
export function PinLabels({ pins, chosen, labels }: Props) {
  return pins.map((pin) => (
    <span
      key={pin.id}
      aria-hidden="true"
      className={classes.label}
      data-chosen={pin.id === chosen}
      ref={(element) => {
        if (element) labels.current.set(pin.id, element);
        else labels.current.delete(pin.id);
      }}
    >
      {pin.name} <b>{pin.value}</b>
    </span>
  ));
}

// Stands in the model and keeps each label beside its mark.
export function Pins({ pins, chosen, labels }: Props) {
  useFrame(({ camera, size }) => {
    const taken: { x: number; y: number; width: number }[] = [];
    for (const pin of pins) {
      const label = labels.current.get(pin.id);
      if (!label) continue;
      const place = new Vector3(...metres(pin.point_cm)).project(camera);
      const x = Math.max(0, Math.min(size.width - label.offsetWidth - 12, ((place.x + 1) / 2) * size.width));
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
  return pins.map((pin) => (
    <mesh key={pin.id} position={metres(pin.point_cm)} raycast={() => null} renderOrder={3}>
      {pin.isAsked ? <octahedronGeometry args={[0.018]} /> : <sphereGeometry args={[0.011, 16, 12]} />}
      <meshBasicMaterial
        color={pin.id === chosen ? chosenColour : '#ffffff'}
        wireframe={pin.isAsked ?? false}
        depthTest={false}
        transparent
      />
    </mesh>
  ));
}
