import { describe, expect, it } from 'vitest';
import type { Enclosure } from '../api/schema';
import { movedThings } from './document';
import { movedBy } from './edit/placing';

const enclosure: Enclosure = {
  format: 'dapple/enclosure@1',
  id: 'box',
  size_cm: [120, 60, 60],
  lamps: [
    { id: 'uv', kind: 'tube', centre_cm: [60, 30, 56] },
    { id: 'heat', kind: 'spot', centre_cm: [30, 30, 58] },
  ],
};

describe('a document tried on', () => {
  it('leaves a ghost of what moved, and of nothing else', () => {
    const { lamps, furniture } = movedThings(enclosure, movedBy(enclosure, 'heat', [10, 0, 0]));
    expect(lamps.map(({ id }) => id)).toEqual(['heat']);
    expect(furniture).toEqual([]);
  });
});
