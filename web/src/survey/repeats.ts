// What several values at one spot say together.
export type Repeats = { count: number; median: number; least: number; most: number; scatter: number | null };

// Scatter: the sample standard deviation over the mean, once there are two values to differ.
export function repeatsOf(values: readonly number[]): Repeats | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const at = (i: number) => sorted[i] ?? 0;
  const n = sorted.length;
  const median = n % 2 === 1 ? at((n - 1) / 2) : (at(n / 2 - 1) + at(n / 2)) / 2;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const spread = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1));
  return {
    count: n,
    median,
    least: at(0),
    most: at(n - 1),
    scatter: n > 1 && mean !== 0 ? spread / Math.abs(mean) : null,
  };
}
