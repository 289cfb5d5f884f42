// A round as the screen needs it: where one stands, what was read there, and what one can do.
import { useLiveQuery } from 'dexie-react-hooks';
import { useEffect, useState } from 'react';
import type { Spot } from '../api/schema';
import { fromCelsius, temperatureWords, toCelsius, useTemperatureUnit } from '../parts/units';
import { kept, type Place, type Round, type Row } from '../offline/database';
import type { Key } from './digits';
import { quantityOf, type ReadQuantity } from './quantities';
import { repeatsOf, type Repeats } from './repeats';
import {
  changeRound,
  endRound,
  goTo,
  openRound,
  pressKey,
  takeValue,
  undoLast,
  valuesOf,
  type Names,
  type Where,
} from './round';
import { useMeterChoice, useMeters } from './useKept';
import { walkingOrder } from './walking';

export function useRound({ enclosure, site, spot }: Where): Round | undefined {
  const [id, setId] = useState<string | null>(null);
  useEffect(() => {
    let isHere = true;
    if (spot !== '') void openRound({ enclosure, site, spot }).then((round) => isHere && setId(round.id));
    return () => void (isHere = false);
  }, [enclosure, site, spot]);
  return useLiveQuery(async () => (id === null ? undefined : kept.rounds.get(id)), [id]);
}

export const spotName = (spot: Spot): string => spot.name ?? spot.id;

export type RoundHere = {
  round: Round;
  quantity: ReadQuantity;
  walk: readonly Spot[];
  at: number; // of the walk
  spot: Spot;
  rows: readonly Row[]; // read at this spot
  repeats: Repeats | null; // as shown
  unit: string; // of what is typed and shown
  toShown: (recorded: number) => number;
  toRecord: (typed: number) => number;
  done: ReadonlySet<string>; // spots with a value
  said: string; // of the last deed, for who does not see
  press: (key: Key) => void;
  type: (draft: string) => void;
  take: () => void;
  go: (spot: Spot) => void;
  undo: () => void;
  set: (change: Parameters<typeof changeRound>[1]) => void;
  end: () => void;
};

const vibrate = () => void ('vibrate' in navigator && navigator.vibrate(20));

const units = { uvi: '', lux: 'lx' } as const;
const unchanged = (value: number) => value;

// Temperatures are recorded in degrees Celsius and shown as the person likes.
function useMeasure(quantity: ReadQuantity): Pick<RoundHere, 'unit' | 'toShown' | 'toRecord'> {
  const [degrees] = useTemperatureUnit();
  if (quantity !== 'temperature') return { unit: units[quantity], toShown: unchanged, toRecord: unchanged };
  return {
    unit: temperatureWords[degrees],
    toShown: (celsius) => fromCelsius(celsius, degrees),
    toRecord: (typed) => Number(toCelsius(typed, degrees).toFixed(3)),
  };
}

export const valueIn = (row: Row): number => Number(row.write.fields?.value);

export function useRoundHere(place: Place, round: Round): RoundHere {
  const quantity = quantityOf(round.quantity);
  const walk = walkingOrder(place.card.enclosure.document.spots ?? []);
  const at = Math.max(
    0,
    walk.findIndex(({ id }) => id === round.spot),
  );
  const spot = walk[at] ?? { id: round.spot, position_cm: [0, 0, 0] }; // a round is shown only where there are spots
  const all = useLiveQuery(() => valuesOf(round.id), [round.id]) ?? [];
  const rows = all.filter((row) => row.spot === spot.id && row.quantity === quantity);
  const [chosen] = useMeterChoice(quantity);
  const meters = useMeters(quantity);
  const meter = meters.find(({ id }) => id === chosen)?.id ?? null;
  const [said, say] = useState('');
  const measure = useMeasure(quantity);
  const names: Names = { spot: spotName(spot), meter, toRecord: measure.toRecord };
  const shown = (deed: Promise<unknown>) =>
    void deed.catch((error: unknown) => say(`Not kept on this device: ${String(error)}`));
  return {
    round,
    quantity,
    walk,
    at,
    spot,
    rows,
    repeats: repeatsOf(rows.map((row) => measure.toShown(valueIn(row)))),
    ...measure,
    done: new Set(all.filter((row) => row.quantity === quantity).flatMap((row) => row.spot ?? [])),
    said,
    press: (key) => shown(pressKey(round.id, key)),
    type: (draft) => shown(changeRound(round.id, { draft })),
    take: () =>
      shown(
        takeValue(round.id, names).then((typed) => {
          say(typed === null ? 'Type a value first' : `${typed} taken at ${spotName(spot)}`);
          if (typed !== null) vibrate();
        }),
      ),
    go: (to) => shown(goTo(round.id, to.id, names).then(() => say(''))),
    undo: () =>
      shown(
        undoLast(round.id, spot.id, quantity).then((words) =>
          say(words === null ? 'Nothing to take back here' : `Taken back: ${words}`),
        ),
      ),
    set: (change) => shown(changeRound(round.id, change)),
    end: () => shown(endRound(round.id, names)),
  };
}
