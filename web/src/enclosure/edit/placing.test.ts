import { describe, expect, it } from 'vitest';
import type { Enclosure } from '../../api/schema';
import { boundsOf, centreOf, liftedTo, movedBy, slidTo } from './placing';
import { freeId, pieceNamed, withoutPiece } from './pieces';
import { surfaceBelow } from './surfaces';

const enclosure: Enclosure = {
  format: 'dapple/enclosure@1',
  id: 'box',
  size_cm: [120, 60, 60],
  lamps: [{ id: 'uv', kind: 'tube', length_cm: 85, centre_cm: [60, 30, 56] }],
  furniture: [
    { id: 'stone', shape: 'box', min_cm: [40, 20, 0], max_cm: [70, 40, 18] },
    { id: 'ball', shape: 'ellipsoid', centre_cm: [100, 30, 0], radii_cm: [10, 10, 8] },
    { id: 'log', shape: 'cylinder', from_cm: [0, 10, 20], to_cm: [30, 10, 20], diameter_cm: 4 },
    { id: 'ramp', shape: 'box', min_cm: [80, 40, 0], max_cm: [100, 60, 10], turn_deg: [0, 0, 45] },
  ],
  spots: [{ id: 'bask', position_cm: [55, 30, 18] }],
};
const centre = (document: Enclosure, id: string) => {
  const found = pieceNamed(document, id);
  if (!found) throw new Error(`${id} is gone`);
  return centreOf(found);
};

describe('surfaces', () => {
  it('are met from above: a block at its top, a ball by its own equation, a branch at its back', () => {
    expect(surfaceBelow(enclosure, 50, 30, 60)).toBe(18);
    expect(surfaceBelow(enclosure, 106, 30, 60)).toBeCloseTo(8 * 0.8, 9); // 6-8-10: height 8 sqrt(1 - 0.36)
    expect(surfaceBelow(enclosure, 15, 10, 60)).toBeCloseTo(22, 9);
    expect(surfaceBelow(enclosure, 5, 50, 60)).toBe(0);
  });

  it('turn with their piece: the corner of a square turned by an eighth lies on its middle line', () => {
    expect(surfaceBelow(enclosure, 90 + 14, 50, 60)).toBeCloseTo(10, 9); // half diagonal 14.14
    expect(surfaceBelow(enclosure, 99, 59, 60)).toBe(0);
  });
});

describe('moving', () => {
  it('keeps every piece in the box, and a lamp below a closed top', () => {
    expect(centre(movedBy(enclosure, 'stone', [500, 0, 0]), 'stone')).toEqual([105, 30, 9]);
    expect(centre(movedBy(enclosure, 'uv', [0, 0, 30]), 'uv')).toEqual([60, 30, 86]);
    const closed = { ...enclosure, walls: { top: 'wood' } };
    expect(centre(movedBy(closed, 'uv', [0, 0, 30]), 'uv')).toEqual([60, 30, 59]);
  });

  it('takes a spot down from the stone it sat on, and back up', () => {
    const down = slidTo(enclosure, 'bask', 20, 50);
    expect(centre(down, 'bask')).toEqual([20, 50, 0]);
    expect(centre(slidTo(down, 'bask', 50, 25), 'bask')).toEqual([50, 25, 18]);
  });

  it('leaves a lamp at its height', () => {
    expect(centre(slidTo(enclosure, 'uv', 50.4, 29.6), 'uv')).toEqual([50, 30, 56]);
  });

  it('lets surfaces catch what is lowered onto them', () => {
    const lifted = liftedTo(enclosure, 'bask', 31.3);
    expect(centre(lifted, 'bask')[2]).toBe(31);
    expect(centre(liftedTo(lifted, 'bask', 19.2), 'bask')[2]).toBe(18);
  });

  it('changes nothing when there is nowhere to go', () => {
    expect(movedBy(enclosure, 'bask', [0, 0, 0])).toBe(enclosure);
    expect(movedBy(enclosure, 'nobody', [1, 0, 0])).toBe(enclosure);
  });
});

describe('pieces', () => {
  it('get free ids and go without a trace', () => {
    expect(freeId(enclosure, 'stone')).toBe('stone-2');
    expect(freeId(enclosure, 'fern')).toBe('fern');
    expect(pieceNamed(withoutPiece(enclosure, 'uv'), 'uv')).toBeUndefined();
  });

  it('have bounds', () => {
    const log = pieceNamed(enclosure, 'log');
    expect(log && boundsOf(log)).toEqual({ min: [0, 10, 20], max: [30, 10, 20] });
  });
});
