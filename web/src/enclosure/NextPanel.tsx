// Where to measure next: the readings that would settle most, marked in the model.
import { Button } from '@mantine/core';
import { Link } from 'wouter';
import type { Enclosure, NextReading } from '../api/schema';
import { Panel } from '../parts/Panel';
import { Progress } from '../parts/Progress';
import { showLength, useLengthUnit } from '../parts/units';
import type { Job } from '../parts/useJob';
import { Failure, Nothing } from '../parts/Waiting';
import { nameOf } from './document';
import type { Pin } from './model/SpotPins';
import classes from './NextPanel.module.css';

export type NextJob = Job<Enclosure, { readonly next: readonly NextReading[] }>;

type Props = { job: NextJob; enclosure: Enclosure; surveyId: string | null };

// Marks for the model; at a spot the mark stands where the spot is read.
export function pinsOf(next: readonly NextReading[], known: readonly Pin[]): Pin[] {
  return next.flatMap(({ spot, point_cm }, i) => {
    const at = point_cm ?? known.find(({ id }) => id === spot)?.point_cm;
    return at
      ? [{ id: `next-${i}`, name: 'measure', value: String(i + 1), point_cm: at, isAsked: true }]
      : [];
  });
}

export function NextPanel({ job, enclosure, surveyId }: Props) {
  const [unit] = useLengthUnit();
  const next = job.answer?.next;
  const placeWords = ({ spot, point_cm }: NextReading) => {
    const named = enclosure.spots?.find(({ id }) => id === spot);
    if (named) return nameOf(named);
    if (!point_cm) return spot ?? 'a place';
    const [x, y, z] = point_cm.map((cm) => showLength(cm, unit));
    return `${x} from the left, ${y} from the front, ${z} high`;
  };
  return (
    <Panel title="Where to measure next">
      {job.isBusy ? (
        <Progress what="Weighing the places" onCancel={job.cancel} />
      ) : (
        <>
          {job.error && <Failure error={job.error} />}
          {next?.length === 0 && <Nothing>No further reading would settle anything.</Nothing>}
          {next && next.length > 0 && (
            <ol className={classes.next}>
              {next.map((one, i) => (
                <li key={i}>
                  <b>{placeWords(one)}</b>
                  <p>{one.settles}</p>
                </li>
              ))}
            </ol>
          )}
          {!next && !job.error && (
            <Nothing>One reading at the right place says more than five at the wrong ones.</Nothing>
          )}
          <div className={classes.deeds}>
            <Button size="compact-sm" variant="default" onClick={() => job.ask(enclosure)}>
              {next ? 'Weigh again' : 'Find the places'}
            </Button>
            {surveyId !== null && <Link href={`/survey/${encodeURIComponent(surveyId)}`}>Survey now</Link>}
          </div>
        </>
      )}
    </Panel>
  );
}
