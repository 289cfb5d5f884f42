// A lamp's decay as it is drawn: output falls as exp(-alpha h). The rate and its 90 % interval are the record's; the
// level is the median of the readings brought to their middle hour, about which the interval turns.
import type { LampForecast, LampLife, Pair, SpotLife } from '../api/schema';

export type LampReading = LampForecast['readings'][number];
export type Decay = { at: (hours: number) => number; between: (hours: number) => Pair };

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const n = sorted.length;
  return ((sorted[Math.floor((n - 1) / 2)] ?? 0) + (sorted[Math.floor(n / 2)] ?? 0)) / 2;
};

type Rate = Pick<LampLife, 'alpha_per_1000h' | 'alpha_interval'>;

export function decayOf(readings: readonly LampReading[], rate: Rate): Decay | null {
  const lit = readings.filter(({ value }) => value > 0);
  if (lit.length === 0) return null;
  const middle = lit.reduce((sum, { hours }) => sum + hours, 0) / lit.length;
  const since = (hours: number) => (hours - middle) / 1000;
  const level = median(lit.map(({ hours, value }) => Math.log(value) + rate.alpha_per_1000h * since(hours)));
  const by = (alpha: number, hours: number) => Math.exp(level - alpha * since(hours));
  return {
    at: (hours) => by(rate.alpha_per_1000h, hours),
    between: (hours) => {
      const ends = rate.alpha_interval.map((alpha) => by(alpha, hours));
      return [Math.min(...ends), Math.max(...ends)];
    },
  };
}

// The spot whose readings tell when the lamp is done: the one that leaves as the lamp does, else the most read one.
export function tellingSpot({ life, readings }: LampForecast): { id: string; spot: SpotLife | null } | null {
  const ids = [...new Set(readings.map(({ spot }) => spot))];
  const count = (id: string) => readings.filter(({ spot }) => spot === id).length;
  const spots = life?.spots.filter(({ id }) => ids.includes(id)) ?? [];
  const leaving = spots.find(
    (spot) => spot.leaves_band !== null && spot.leaves_band.hours === life?.leaves_band?.hours,
  );
  const id = leaving?.id ?? ids.sort((a, b) => count(b) - count(a))[0];
  return id === undefined ? null : { id, spot: spots.find((spot) => spot.id === id) ?? null };
}
