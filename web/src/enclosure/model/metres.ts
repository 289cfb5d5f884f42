// The model stands in metres with z up, as the engine does; documents are in cm.
import { Euler, Quaternion, Vector3 } from 'three';
import type { Vec3 } from '../../api/schema';

export const metres = (cm: Vec3): [number, number, number] => [cm[0] / 100, cm[1] / 100, cm[2] / 100];

export const middle = (a: Vec3, b: Vec3): Vec3 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];

// Turned about x, then y, then z, about fixed axes.
export function turned(turn_deg: Vec3 | undefined): Euler {
  const [x, y, z] = turn_deg ?? [0, 0, 0];
  return new Euler((x * Math.PI) / 180, (y * Math.PI) / 180, (z * Math.PI) / 180, 'ZYX');
}

// What brings three's cylinders, which stand along y, along the given direction.
export function along(direction: Vec3): Quaternion {
  return new Quaternion().setFromUnitVectors(new Vector3(0, 1, 0), new Vector3(...direction).normalize());
}

// What is chosen, on light and on dark ground alike.
export const chosenColour = '#ff8a3c';
