// How long a keeper's bare face may be at the opened front. IEC 62471:2006, 4.3.1 (after ICNIRP 2004): at most 30 J/m2
// actinic-weighted in any 8 hours on unprotected skin or eyes.
import type { Vec3 } from '../api/schema';

const limit_j_m2 = 30;
const day_s = 8 * 3600;

// Null where a whole working day stays below the limit.
export function permitted_s(actinic_w_m2: number): number | null {
  return actinic_w_m2 * day_s > limit_j_m2 ? limit_j_m2 / actinic_w_m2 : null;
}

export function durationWords(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  if (seconds < 90 * 60) return `${Math.round(seconds / 60)} min`;
  return `${(seconds / 3600).toFixed(1)} h`;
}

// Just inside the front pane, from a third of the height up: where a face comes when somebody reaches in.
export function facePlaces([width, , height]: Vec3): Vec3[] {
  const at = (x: number, z: number): Vec3 => [width * x, 0.2, height * z];
  return [0.25, 0.5, 0.75].flatMap((x) => [at(x, 0.4), at(x, 0.65), at(x, 0.9)]);
}
