// Where the sun stands about an enclosure, in its own frame (src/sky/outdoors.h says the same): +y looks to `bearing_deg`,
// +x a right angle clockwise of it, z up.
import type { Vec3 } from '../api/schema';

const rad = Math.PI / 180;

export function towardSun(azimuth_deg: number, elevation_deg: number, bearing_deg: number): Vec3 {
  const turn = (azimuth_deg - bearing_deg) * rad;
  const up = elevation_deg * rad;
  return [Math.cos(up) * Math.sin(turn), Math.cos(up) * Math.cos(turn), Math.sin(up)];
}

const compass = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];
export const compassWord = (azimuth_deg: number): string =>
  compass[Math.round((((azimuth_deg % 360) + 360) % 360) / 45) % 8] ?? 'north';
