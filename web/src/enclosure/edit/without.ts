// A copy without one of its optional fields.
export const without = <T extends object>(thing: T, field: keyof T & string): T =>
  Object.fromEntries(Object.entries(thing).filter(([name]) => name !== field)) as T;
