// The order in which a person walks through the spots: from the left, always on to the nearest that is not done.
import type { Spot } from '../api/schema';

const away = (a: Spot, b: Spot) =>
  Math.hypot(...a.position_cm.map((coordinate, i) => coordinate - (b.position_cm[i] ?? 0)));

export function walkingOrder(spots: readonly Spot[]): Spot[] {
  const rest = [...spots].sort((a, b) => a.position_cm[0] - b.position_cm[0]);
  const walk: Spot[] = [];
  for (let here = rest.shift(); here;) {
    const from = here;
    walk.push(from);
    rest.sort((a, b) => away(from, a) - away(from, b));
    here = rest.shift();
  }
  return walk;
}
