// The first document of an enclosure: from a plan, or a plain box in which lamps are still to be placed.
import type { Enclosure, Plan, Species, Vec3 } from '../api/schema';

export type Shape = { key: string; name: string; size_cm: Vec3 };

// Common shapes, inner sizes; common practice, no source.
export const shapes: readonly Shape[] = [
  { key: 'low', name: 'Low and wide', size_cm: [120, 60, 60] },
  { key: 'long', name: 'Long', size_cm: [180, 60, 60] },
  { key: 'middle', name: 'Middling', size_cm: [90, 45, 60] },
  { key: 'small', name: 'Small', size_cm: [60, 45, 45] },
  { key: 'tall', name: 'Tall', size_cm: [60, 60, 120] },
  { key: 'column', name: 'Small and tall', size_cm: [45, 45, 90] },
];

// Readable in an address, and nobody else's: the name in plain letters and a few signs of chance.
export function idFor(name: string, chance: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40);
  return `${plain === '' ? 'enclosure' : plain}-${chance.replace(/[^a-z0-9]/gi, '').slice(0, 6)}`;
}

type Named = { id: string; name: string };

// The plan's document under its own name. What is planned is for one animal; the number is the keeper's.
export function fromPlan(plan: Plan, { id, name }: Named, count: number): Enclosure {
  return {
    ...plan.enclosure,
    id,
    name,
    animals: plan.enclosure.animals?.map((animal, i) => (i === 0 ? { ...animal, count } : animal)),
  };
}

// A box of glass with soil and an open top, a flat stone to bask on at one end and a hide at the other: something to
// hang lamps over. Sizes of stone and hide: common practice, no source.
export function plainBox(species: Species, size_cm: Vec3, { id, name }: Named, count: number): Enclosure {
  const [w, d, h] = size_cm;
  const stone: Vec3 = [Math.min(30, w / 3), Math.min(20, d / 2), Math.min(10, h / 5)];
  const near: Vec3 = [Math.round(w / 4 - stone[0] / 2), Math.round(d / 2 - stone[1] / 2), 0];
  const far: Vec3 = [near[0] + stone[0], near[1] + stone[1], stone[2]];
  const roof = { x: Math.round(w * 0.8), wide: Math.min(12, w / 8), deep: Math.min(12, d / 4) };
  return {
    format: 'dapple/enclosure@1',
    id,
    name,
    size_cm,
    walls: {
      floor: 'soil',
      left: 'float_glass',
      right: 'float_glass',
      front: 'float_glass',
      back: 'float_glass',
      top: 'open',
    },
    animals: [{ species: species.id, count }],
    lamps: [],
    furniture: [
      {
        id: 'stone',
        name: 'Flat stone',
        shape: 'box',
        min_cm: near,
        max_cm: far,
        material: 'slate',
        perch: true,
      },
      {
        id: 'roof',
        name: 'Bark to hide under',
        shape: 'box',
        min_cm: [roof.x - roof.wide, d / 2 - roof.deep, Math.min(12, h / 3)],
        max_cm: [roof.x + roof.wide, d / 2 + roof.deep, Math.min(12, h / 3) + 2],
        material: 'bark',
      },
    ],
    spots: [
      {
        id: 'bask',
        name: 'Flat stone',
        position_cm: [(near[0] + far[0]) / 2, (near[1] + far[1]) / 2, far[2]],
        role: 'bask',
      },
      { id: 'retreat', name: 'Under the bark', position_cm: [roof.x, d / 2, 0], role: 'retreat' },
    ],
  };
}
