// The spot's band with what was read and what was expected, and the state in words.
import type { Place } from '../offline/database';
import { RangeStrip, type Mark } from '../parts/RangeStrip';
import { stateWords } from '../parts/words';
import { bandsAt, judged, warmthAt } from './bands';
import { valueOf } from './digits';
import { readWords } from './quantities';
import classes from './SpotFace.module.css';
import type { RoundHere } from './useRound';
import { figures } from './words';
import { retreat_uvi } from './zone';

function expectedWords(place: Place, here: RoundHere): string {
  const { card } = place;
  const predicted = card.judgement?.spots.find(({ id }) => id === here.spot.id);
  const last = card.readings.find((r) => r.spot === here.spot.id && r.quantity === here.quantity);
  const parts: string[] = [];
  if (here.quantity === 'uvi' && predicted) {
    const [low, high] = predicted.interval ?? [predicted.uvi, predicted.uvi];
    parts.push(low === high ? `Predicted ${figures(low)}` : `Predicted ${figures(low)} to ${figures(high)}`);
  }
  for (const { range, of } of here.quantity === 'temperature' ? warmthAt(card, here.spot) : [])
    parts.push(
      `${of} ${range.map((degrees) => Math.round(here.toShown(degrees))).join(' to ')} ${here.unit}`,
    );
  if (last) parts.push(`last ${figures(here.toShown(last.value))} on ${last.taken_at.slice(0, 10)}`);
  return parts.join('; ');
}

// The state of what is being typed, else of the median.
export function SpotFace({ place, here }: { place: Place; here: RoundHere }) {
  const { card } = place;
  const { spot, quantity, repeats, round } = here;
  const typed = valueOf(round.draft);
  const shown = typed ?? repeats?.median ?? null;
  const value = shown === null ? null : here.toRecord(shown);
  const states = value === null ? [] : judged(card, spot, quantity, value);
  const predicted = card.judgement?.spots.find(({ id }) => id === spot.id);
  const marks: Mark[] = [
    ...(value !== null ? [{ id: 'value', name: 'Read', uvi: value, state: states[0]?.state }] : []),
    ...(predicted?.interval
      ? [{ id: 'predicted', name: 'Predicted', uvi: predicted.uvi, interval: predicted.interval }]
      : []),
  ];
  const bands = bandsAt(card, spot);
  const isRetreat = spot.role === 'retreat' && quantity === 'uvi';
  const expected = expectedWords(place, here);
  return (
    <section className={classes.face} aria-label="State">
      <p className={classes.expected}>{expected === '' ? 'Nothing is expected here yet' : expected}</p>
      {quantity === 'uvi' && (
        <RangeStrip
          band={bands[0] && [bands[0].band.low, bands[0].band.high]}
          ceiling={bands[0]?.band.ceiling}
          marks={marks}
          chosen="value"
        />
      )}
      <p className={classes.state} data-testid="state" aria-live="polite">
        {value === null && `${readWords[quantity].name}: no value yet`}
        {value !== null && isRetreat && (
          <span data-state={value <= retreat_uvi ? 'in' : 'above'}>
            {value <= retreat_uvi
              ? 'Shade enough for a retreat'
              : `Too bright for a retreat (at most ${retreat_uvi})`}
          </span>
        )}
        {states.map(({ animal, state, overCeiling }) => (
          <span key={animal} data-state={state}>
            {stateWords[state].replace(/^./, (letter) => letter.toUpperCase())}
            {overCeiling && ', over the ceiling'}
            {states.length > 1 && <small> {animal}</small>}
          </span>
        ))}
        {value !== null && states.length === 0 && !isRetreat && <span>No band is known here</span>}
      </p>
    </section>
  );
}
