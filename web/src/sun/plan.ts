// The plan of shadows as fields that the model's slice can show, one a time.
import type { Field } from '../api/client';
import type { Enclosure, ShadowPlan, SpotReading, Sun, Vec3 } from '../api/schema';
import type { Scale } from '../parts/colourScale';

export const layers = ['uvi', 'sun'] as const;
export type Layer = (typeof layers)[number];
export const layerWords: Record<Layer, string> = { uvi: 'UVI', sun: 'Sun and shadow' };

// From the deepest shadow of a fence to the open sun.
export const sunScale: Scale = { low: 0.02, high: 1, ticks: [0.02, 0.1, 0.3, 1] };

export function fieldAt(plan: ShadowPlan, time: string, layer: Layer): Field | undefined {
  const i = plan.times.indexOf(time);
  const values = (layer === 'uvi' ? plan.uvi : plan.sun_share)[i];
  if (!values) return undefined;
  return {
    header: {
      quantity: 'uvi',
      facing: 'aimed',
      counts: plan.counts,
      min_cm: plan.min_cm,
      max_cm: plan.max_cm,
      least: Math.min(...values),
      most: Math.max(...values),
    },
    values: Float32Array.from(values),
  };
}

const per = (share: number | undefined) => (share === undefined ? null : `${Math.round(100 * share)}\u00a0%`);

export type Shares = { inSun: string | null; inBand: string | null };

export function sharesAt(plan: ShadowPlan, time: string): Shares {
  const i = plan.times.indexOf(time);
  return { inSun: per(plan.share_in_sun[i]), inBand: per(plan.share_in_band?.[i]) };
}

// The spots with what a meter reads there at that moment of the curve.
export function spotsAt(pen: Enclosure, sun: Sun, moment: number, height_cm: number): readonly SpotReading[] {
  return (sun.shade?.spots ?? []).map(({ id, uvi }) => {
    const spot = pen.spots?.find((one) => one.id === id);
    const [width, depth] = pen.size_cm;
    const [x, y, z]: Vec3 = spot?.position_cm ?? [width / 2, depth / 2, 0];
    return {
      id,
      name: spot?.name ?? (id === 'middle' ? 'Middle of the floor' : id),
      point_cm: [x, y, z + height_cm] as const,
      uvi: uvi[moment] ?? 0,
      interval: null,
    };
  });
}
