// A number in a form: nothing typed is nothing said.
export const said = (typed: number | string): number | undefined =>
  typed === '' || Number.isNaN(Number(typed)) ? undefined : Number(typed);

// Only what was said goes to the server; it takes a missing field for "nothing", and refuses an empty one.
export function onlySaid<T extends object>(fields: T): T {
  return Object.fromEntries(
    Object.entries(fields).filter(([, value]) => value !== undefined && value !== ''),
  ) as T;
}
