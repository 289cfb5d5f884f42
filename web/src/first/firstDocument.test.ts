import { describe, expect, it } from 'vitest';
import type { Plan, Species } from '../api/schema';
import { fromPlan, idFor, plainBox, shapes } from './firstDocument';

const species = { id: 'crotaphytus_collaris' } as Species;

describe('the first document', () => {
  it('gets an id that can be read and is nobody else’s', () => {
    expect(idFor('Échse, Nordwand!', 'ab-12cd34ef')).toBe('echse-nordwand-ab12cd');
    expect(idFor('日本', 'ab12cd34')).toBe('enclosure-ab12cd');
  });

  it.each(shapes.map((shape) => [shape.name, shape.size_cm] as const))(
    'of a %s box has everything inside, and a spot on the stone',
    (_, size) => {
      const box = plainBox(species, size, { id: 'a', name: 'A' }, 2);
      const corners = [
        ...(box.furniture ?? []).flatMap(({ min_cm, max_cm }) => [min_cm, max_cm]),
        ...(box.spots ?? []).map(({ position_cm }) => position_cm),
      ];
      for (const corner of corners) {
        for (const axis of [0, 1, 2] as const) {
          expect(corner?.[axis]).toBeGreaterThanOrEqual(0);
          expect(corner?.[axis]).toBeLessThanOrEqual(size[axis]);
        }
      }
      expect(box.spots?.[0]?.position_cm[2]).toBe(box.furniture?.[0]?.max_cm?.[2]);
      expect(box.animals).toEqual([{ species: 'crotaphytus_collaris', count: 2 }]);
    },
  );

  it('from a plan keeps the plan and takes the keeper’s name and number', () => {
    const plan = {
      enclosure: {
        format: 'dapple/enclosure@1',
        id: 'planned',
        size_cm: [90, 45, 60],
        animals: [{ species: 'a_b', back_height_cm: 3 }],
        lamps: [{ id: 'uv', kind: 'tube', centre_cm: [1, 2, 3] }],
      },
    } as unknown as Plan;
    const made = fromPlan(plan, { id: 'mine', name: 'Mine' }, 3);
    expect(made).toMatchObject({ id: 'mine', name: 'Mine', size_cm: [90, 45, 60] });
    expect(made.animals).toEqual([{ species: 'a_b', back_height_cm: 3, count: 3 }]);
    expect(made.lamps).toBe(plan.enclosure.lamps);
  });
});
