// Whether two JSON values say the same; the order of an object's fields says nothing, a field without a value is none.
export function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    return (
      Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((one, i) => same(one, b[i]))
    );
  }
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...names].every((name) =>
    same((a as Record<string, unknown>)[name], (b as Record<string, unknown>)[name]),
  );
}
