import { describe, expect, it } from 'vitest';
import { decodeField } from '../api/client';
import { gridOf, shapeOf, valueAt } from './slice';

// A field as the server writes it (src/server/field_grid.h).
function encoded(counts: [number, number, number], values: number[]): ArrayBuffer {
  const json = JSON.stringify({
    quantity: 'uvi',
    facing: 'aimed',
    counts,
    min_cm: [0, 0, 0],
    max_cm: [1, 1, 1],
  });
  const header = new TextEncoder().encode(json.padEnd(Math.ceil(json.length / 4) * 4));
  const buffer = new ArrayBuffer(4 + header.length + 4 * values.length);
  const view = new DataView(buffer);
  view.setUint32(0, header.length, true);
  new Uint8Array(buffer).set(header, 4);
  values.forEach((value, i) => view.setFloat32(4 + header.length + 4 * i, value, true));
  return buffer;
}

describe('a slice', () => {
  it('is read between its values, and at its edge beyond it', () => {
    const field = decodeField(encoded([2, 1, 3], [0, 10, 20, 30, 40, 50]));
    expect(shapeOf(field.header.counts)).toEqual([2, 3]);
    expect(valueAt(field, 0.5, 0)).toBe(5);
    expect(valueAt(field, 0.5, 0.25)).toBe(15);
    expect(valueAt(field, 2, 2)).toBe(50);
  });

  it('lies flat across its own axis, off the walls, with cells of about 1.5 cm', () => {
    const grid = gridOf('crosswise', 500, [120, 60, 45]);
    expect(grid.min_cm[0]).toBe(grid.max_cm[0]);
    expect(grid.max_cm[0]).toBeCloseTo(119.9, 9);
    expect(grid.counts).toEqual([1, 41, 31]);
  });
});
