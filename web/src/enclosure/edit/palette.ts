// What can be put into an enclosure: generic pieces of common sizes, placed where there is room for them to be seen.
// Outputs are typical of their kind, from memory; a reading or the lamp's own figure replaces them.
import type { Enclosure, Furniture, Lamp, Screen, Spot, Vec3 } from '../../api/schema';
import type { List } from './pieces';

type Make = (id: string, enclosure: Enclosure) => Lamp | Screen | Furniture | Spot;
export type Choice = { list: List; key: string; words: string; make: Make };

const half = (enclosure: Enclosure): Vec3 => [
  Math.round(enclosure.size_cm[0] / 2),
  Math.round(enclosure.size_cm[1] / 2),
  Math.round(enclosure.size_cm[2] / 2),
];
const isTopOpen = (enclosure: Enclosure) => (enclosure.walls?.top ?? 'open') === 'open';

// Under a closed top, just above an open one (where a lid may lie).
function hung(enclosure: Enclosure): Vec3 {
  const [x, y] = half(enclosure);
  return [x, y, Math.round(enclosure.size_cm[2] + (isTopOpen(enclosure) ? 3 : -4))];
}

// A block standing on the floor in the middle, no wider than the enclosure.
function standing({ size_cm }: Enclosure, [w, d, h]: Vec3): { min_cm: Vec3; max_cm: Vec3 } {
  const fits = [Math.min(w, size_cm[0]), Math.min(d, size_cm[1]), Math.min(h, size_cm[2])] as const;
  const min_cm: Vec3 = [Math.round((size_cm[0] - fits[0]) / 2), Math.round((size_cm[1] - fits[1]) / 2), 0];
  return { min_cm, max_cm: [min_cm[0] + fits[0], min_cm[1] + fits[1], fits[2]] };
}

function level(enclosure: Enclosure, z: number, share: number): { min_cm: Vec3; max_cm: Vec3 } {
  const [w, d] = enclosure.size_cm;
  const [x, y] = half(enclosure);
  const [dx, dy] = [Math.round((w * share) / 2), Math.round((d * share) / 2)];
  if (share === 1) return { min_cm: [0, 0, z], max_cm: [w, d, z] };
  return { min_cm: [x - dx, y - dy, z], max_cm: [x + dx, y + dy, z] };
}

export const choices: readonly Choice[] = [
  {
    list: 'lamps',
    key: 'uv-tube',
    words: 'UV tube',
    make: (id, enclosure) => ({
      id,
      name: 'UV tube',
      kind: 'tube',
      length_cm: enclosure.size_cm[0] >= 100 ? 85 : enclosure.size_cm[0] >= 65 ? 55 : 30,
      diameter_cm: 1.6,
      spread: { forward_power: 2 },
      centre_cm: hung(enclosure),
      spectrum: 'fluorescent_uvb_mid',
      output: { uvi: 3, at_cm: 30 },
      power_w: 24,
      hours_on: 11,
    }),
  },
  {
    list: 'lamps',
    key: 'uv-coil',
    words: 'Compact UV lamp',
    make: (id, enclosure) => ({
      id,
      name: 'Compact UV lamp',
      kind: 'coil',
      length_cm: 9,
      diameter_cm: 5,
      centre_cm: hung(enclosure),
      spectrum: 'fluorescent_uvb_mid',
      output: { uvi: 1, at_cm: 30 },
      power_w: 23,
      hours_on: 11,
    }),
  },
  {
    list: 'lamps',
    key: 'uv-spot',
    words: 'UV spot lamp',
    make: (id, enclosure) => ({
      id,
      name: 'UV spot lamp',
      kind: 'spot',
      diameter_cm: 9,
      beam_deg: 60,
      centre_cm: hung(enclosure),
      spectrum: 'metal_halide',
      output: { uvi: 4, at_cm: 30 },
      power_w: 50,
      hours_on: 8,
    }),
  },
  {
    list: 'lamps',
    key: 'heat-spot',
    words: 'Halogen for warmth',
    make: (id, enclosure) => ({
      id,
      name: 'Halogen',
      kind: 'spot',
      diameter_cm: 9,
      beam_deg: 40,
      centre_cm: hung(enclosure),
      spectrum: 'halogen',
      output: { lux: 16000, at_cm: 30 },
      power_w: 60,
      hours_on: 10,
    }),
  },
  {
    list: 'lamps',
    key: 'light-bar',
    words: 'White light bar',
    make: (id, enclosure) => ({
      id,
      name: 'Light bar',
      kind: 'bar',
      length_cm: 55,
      count: 24,
      beam_deg: 120,
      centre_cm: hung(enclosure),
      spectrum: 'led_white',
      output: { lux: 9000, at_cm: 30 },
      power_w: 30,
      hours_on: 12,
    }),
  },
  {
    list: 'screens',
    key: 'lid',
    words: 'Mesh lid',
    make: (id, enclosure) => ({
      id,
      name: 'Mesh lid',
      ...level(enclosure, enclosure.size_cm[2], 1),
      mesh: { pitch_mm: 2, wire_mm: 0.4 },
    }),
  },
  {
    list: 'screens',
    key: 'guard',
    words: 'Lamp guard',
    make: (id, enclosure) => ({
      id,
      name: 'Lamp guard',
      ...level(enclosure, Math.round(enclosure.size_cm[2] * 0.85), 0.3),
      mesh: { pitch_mm: 12, wire_mm: 1.5 },
    }),
  },
  {
    list: 'screens',
    key: 'pane',
    words: 'Glass pane',
    make: (id, enclosure) => ({
      id,
      name: 'Glass pane',
      ...level(enclosure, Math.round(enclosure.size_cm[2] / 2), 0.4),
      pane: { material: 'float_glass', thickness_mm: 4 },
    }),
  },
  {
    list: 'furniture',
    key: 'stone',
    words: 'Flat stone',
    make: (id, enclosure) => ({
      id,
      name: 'Flat stone',
      shape: 'box',
      ...standing(enclosure, [30, 20, 10]),
      material: 'slate',
      perch: true,
    }),
  },
  {
    list: 'furniture',
    key: 'branch',
    words: 'Branch',
    make: (id, { size_cm: [w, d, h] }) => ({
      id,
      name: 'Branch',
      shape: 'cylinder',
      from_cm: [Math.round(w * 0.2), Math.round(d * 0.4), Math.round(h * 0.1)],
      to_cm: [Math.round(w * 0.7), Math.round(d * 0.6), Math.round(h * 0.55)],
      diameter_cm: 4,
      material: 'bark',
      perch: true,
    }),
  },
  {
    list: 'furniture',
    key: 'hide',
    words: 'Rounded hide',
    make: (id, enclosure) => ({
      id,
      name: 'Hide',
      shape: 'ellipsoid',
      centre_cm: [half(enclosure)[0], half(enclosure)[1], 0],
      radii_cm: [12, 10, 8],
      material: 'bark',
      perch: true,
    }),
  },
  {
    list: 'furniture',
    key: 'plant',
    words: 'Plant',
    make: (id, enclosure) => ({
      id,
      name: 'Plant',
      shape: 'foliage',
      ...standing(enclosure, [25, 20, 30]),
      leaf_area_density: 3,
    }),
  },
  {
    list: 'spots',
    key: 'bask',
    words: 'Basking spot',
    make: (id, enclosure) => ({
      id,
      name: 'Basking spot',
      position_cm: [half(enclosure)[0], half(enclosure)[1], 0],
      role: 'bask',
    }),
  },
  {
    list: 'spots',
    key: 'retreat',
    words: 'Retreat',
    make: (id, enclosure) => ({
      id,
      name: 'Retreat',
      position_cm: [Math.round(enclosure.size_cm[0] * 0.88), half(enclosure)[1], 0],
      role: 'retreat',
    }),
  },
  {
    list: 'spots',
    key: 'place',
    words: 'Other place',
    make: (id, enclosure) => ({
      id,
      name: 'Place',
      position_cm: [half(enclosure)[0], half(enclosure)[1], 0],
      role: 'other',
    }),
  },
];
