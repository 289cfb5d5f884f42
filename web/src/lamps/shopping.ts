// What to order and until when: every standing lamp that leaves its band within a year, by the early end of its
// interval less the days a delivery takes. Lamps in store serve the first that need one of their sort.
import type { KeptLamp, LampForecast } from '../api/schema';
import { addDays } from './days';
import { kindWords } from './lampWords';

export type Order = {
  lamp: KeptLamp; // that is to be replaced
  what: string;
  needed_by: string;
  order_by: string;
  price: number | null;
  fromStore: KeptLamp | null; // no order needed
  isBeyond: boolean; // its date rests on more than readings can tell
};

// Lamps of one sort take each other's place.
export function sortOf(lamp: KeptLamp): string {
  const kind = lamp.lamp_kind ? kindWords[lamp.lamp_kind] : 'Lamp';
  const power = lamp.power_w !== undefined ? `, ${lamp.power_w} W` : '';
  return lamp.model !== undefined ? `${kind}, ${lamp.model}` : `${kind}${power}`;
}

export type Planning = { today: string; delivery_days: number; ahead_days: number };

export function shoppingList(
  lamps: readonly KeptLamp[],
  lives: readonly LampForecast[],
  { today, delivery_days, ahead_days }: Planning,
): Order[] {
  const last = addDays(today, ahead_days);
  const store = lamps.filter((lamp) => lamp.enclosure === undefined && lamp.retired_on === undefined);
  const needs = lives.flatMap(({ lamp: id, life }) => {
    const lamp = lamps.find((one) => one.id === id);
    // One that was too weak from its first day wants a fix of the enclosure, not another of its kind.
    if (life?.leaves_band?.from_start) return [];
    const needed = life?.leaves_band?.interval[0] ?? life?.leaves_band?.date;
    return lamp && life && needed && needed <= last ? [{ lamp, needed, isBeyond: life.beyond_limit }] : [];
  });
  needs.sort((a, b) => a.needed.localeCompare(b.needed) || a.lamp.name.localeCompare(b.lamp.name));
  return needs.map(({ lamp, needed, isBeyond }) => {
    const what = sortOf(lamp);
    const at = store.findIndex((one) => sortOf(one) === what);
    const fromStore = at < 0 ? null : (store.splice(at, 1)[0] ?? null);
    const needed_by = needed < today ? today : needed;
    const order_by = addDays(needed_by, -delivery_days);
    return {
      lamp,
      what,
      needed_by,
      order_by: order_by < today ? today : order_by,
      price: lamp.price ?? null,
      fromStore,
      isBeyond,
    };
  });
}
