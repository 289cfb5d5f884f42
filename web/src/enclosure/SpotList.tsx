// Spots: what a meter would read at each, with its interval, beside what it did read; choosing one shows everything
// that arrives there.
import { UnstyledButton } from '@mantine/core';
import { useMemo } from 'react';
import type { AnimalJudgement, Enclosure, Judgement, Quantity, SpotReading } from '../api/schema';
import { quantityWords, showValue } from '../parts/quantities';
import { RangeStrip, type Mark } from '../parts/RangeStrip';
import { showLength, useLengthUnit } from '../parts/units';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { stateWords } from '../parts/words';
import { useArrivals } from './asking';
import { isOutside, type Latest } from './latest';
import classes from './SpotList.module.css';

type Props = {
  enclosure: Enclosure;
  judgement: Judgement;
  animal: AnimalJudgement | undefined;
  latest: ReadonlyMap<string, Latest>;
  chosen: string | null;
  onChoose: (id: string) => void;
};

const roleWords = { bask: 'basking', retreat: 'retreat', other: '' } as const;
const listed: readonly Quantity[] = [
  'uvi',
  'uvc_w_m2',
  'uvb_w_m2',
  'uva_w_m2',
  'd3_w_m2',
  'lux',
  'irradiance_w_m2',
];

function Everything({ enclosure, spot }: { enclosure: Enclosure; spot: SpotReading }) {
  const points = useMemo(() => [spot.point_cm], [spot.point_cm]);
  const [unit] = useLengthUnit();
  const { data, error } = useArrivals(enclosure, points, 'aimed', 'spot');
  const arrival = data?.points[0];
  if (error) return <Failure error={error} />;
  if (!arrival) return <Loading what="what arrives here" />;
  return (
    <dl className={classes.everything}>
      {listed.map((quantity) => (
        <div key={quantity}>
          <dt>{quantityWords[quantity].name}</dt>
          <dd>{showValue(quantity, arrival[quantity])}</dd>
        </div>
      ))}
      <div className={classes.place}>
        <dt>Read at</dt>
        <dd>{spot.point_cm.map((cm) => showLength(cm, unit)).join(', ')} (left, front, floor)</dd>
      </div>
    </dl>
  );
}

function intervalWords(interval: SpotReading['interval']): string | null {
  if (!interval) return null;
  const [low, high] = interval.map((uvi) => showValue('uvi', uvi));
  return low === high ? null : `${low}–${high}`;
}

function ReadingLine({ spot, latest }: { spot: SpotReading; latest: Latest | undefined }) {
  const interval = intervalWords(spot.interval);
  return (
    <p className={classes.beside}>
      {interval && <>Predicted {interval}. </>}
      {latest ? (
        <>
          Read <b>{showValue('uvi', latest.value)}</b> on {latest.day}
          {latest.count > 1 && `, median of ${latest.count}`}
          {spot.interval && isOutside(latest.value, spot.interval) && <b> (outside what is predicted)</b>}.
        </>
      ) : (
        interval && 'Not read yet.'
      )}
    </p>
  );
}

function marksOf(spot: SpotReading, state: Mark['state'], latest: Latest | undefined): Mark[] {
  const predicted: Mark = { ...spot, name: `${spot.name}, predicted`, state };
  if (!latest) return [{ ...predicted, name: spot.name }];
  return [predicted, { id: `${spot.id}-read`, name: `${spot.name}, read`, uvi: latest.value }];
}

export function SpotList({ enclosure, judgement, animal, latest, chosen, onChoose }: Props) {
  const spots = animal ? judgement.spots.filter((spot) => spot.id in animal.states) : judgement.spots;
  if (spots.length === 0) return <Nothing>No spots are named in this enclosure.</Nothing>;
  return (
    <ul className={classes.list}>
      {spots.map((spot) => {
        const state = animal?.states[spot.id];
        const role = enclosure.spots?.find(({ id }) => id === spot.id)?.role ?? 'other';
        const isChosen = spot.id === chosen;
        return (
          <li key={spot.id} data-testid={`spot-${spot.id}`}>
            <UnstyledButton
              className={classes.spot}
              aria-expanded={isChosen}
              onClick={() => onChoose(spot.id)}
            >
              <span className={classes.line}>
                <span>
                  <b>{spot.name}</b> <span className={classes.soft}>{roleWords[role]}</span>
                </span>
                <span>
                  <b className={classes.value}>{showValue('uvi', spot.uvi)}</b>{' '}
                  <span className={classes.soft}>{state ? stateWords[state] : 'UVI'}</span>
                </span>
              </span>
            </UnstyledButton>
            <RangeStrip
              band={animal?.band}
              ceiling={animal?.ceiling}
              marks={marksOf(spot, state, latest.get(spot.id))}
            />
            <ReadingLine spot={spot} latest={latest.get(spot.id)} />
            {isChosen && <Everything enclosure={enclosure} spot={spot} />}
          </li>
        );
      })}
    </ul>
  );
}
