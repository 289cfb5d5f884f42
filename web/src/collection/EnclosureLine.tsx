// One enclosure of the collection: what it is and what comes next on one side, on the other its animals.
import { Button } from '@mantine/core';
import { Link } from 'wouter';
import type { Animal, AnimalJudgement, Card, KeptAnimal } from '../api/schema';
import { awayFrom, daysBetween, showDay } from '../parts/dayWords';
import { RangeStrip } from '../parts/RangeStrip';
import { showSize, useLengthUnit } from '../parts/units';
import { Nothing } from '../parts/Waiting';
import { SpeciesName } from '../species/SpeciesName';
import type { Asking } from './CollectionDialogs';
import classes from './CollectionPage.module.css';
import { nameOf, stateOf } from './glance';

function AnimalLine({ animal, card }: { animal: AnimalJudgement; card: Card }) {
  const state = stateOf(animal);
  const marks = (card.judgement?.spots ?? [])
    .filter((spot) => spot.id in animal.states)
    .map((spot) => ({ ...spot, state: animal.states[spot.id] }));
  return (
    <div className={classes.animal}>
      <div className={classes.who}>
        <span>
          {animal.count > 1 && `${animal.count} × `}
          <SpeciesName id={animal.species} />
        </span>
        <span className={classes.state} data-holds={String(state.holds)}>
          {state.words}
        </span>
      </div>
      <RangeStrip band={animal.band} ceiling={animal.ceiling} marks={marks} />
    </div>
  );
}

// Takes the very place the judged animal will take, so that nothing jumps when the verdict comes.
function AwaitedLine({ animal }: { animal: Animal }) {
  const id = typeof animal.species === 'string' ? animal.species : animal.species.id;
  return (
    <div className={classes.animal} role="status" aria-label="Being judged">
      <div className={classes.who}>
        <span>
          {(animal.count ?? 1) > 1 && `${animal.count} × `}
          {id === undefined ? 'An own species' : <SpeciesName id={id} />}
        </span>
        <span className={classes.state}>Being judged…</span>
      </div>
      <div className={classes.awaited} />
    </div>
  );
}

function Verdicts({ card }: { card: Card }) {
  const awaited = card.enclosure.document.animals ?? [];
  if (card.judgement) {
    return card.judgement.animals.length > 0 ? (
      card.judgement.animals.map((animal, i) => <AnimalLine key={i} animal={animal} card={card} />)
    ) : (
      <Nothing>No animals, so nothing to judge.</Nothing>
    );
  }
  if (card.judging) {
    return awaited.length > 0 ? (
      awaited.map((animal, i) => <AwaitedLine key={i} animal={animal} />)
    ) : (
      <Nothing>No animals, so nothing to judge.</Nothing>
    );
  }
  return (
    <div className={classes.problems}>
      <strong>This enclosure cannot be judged.</strong>
      {card.problems.map((problem) => (
        <p key={problem}>{problem}</p>
      ))}
    </div>
  );
}

function Facts({ card, today }: { card: Card; today: string }) {
  const { last_survey, next_survey, lamps, open_tasks } = card;
  const isLate = next_survey !== null && daysBetween(today, next_survey) < 0;
  return (
    <dl className={classes.facts}>
      <dt>Last survey</dt>
      <dd title={last_survey === null ? undefined : showDay(last_survey)}>
        {last_survey === null ? 'never' : awayFrom(today, last_survey)}
      </dd>
      {next_survey !== null && (
        <>
          <dt>Next survey</dt>
          <dd title={showDay(next_survey)} data-late={isLate}>
            {isLate ? `was due ${awayFrom(today, next_survey)}` : awayFrom(today, next_survey)}
          </dd>
        </>
      )}
      <dt>Lamps</dt>
      <dd>{lamps}</dd>
      {open_tasks > 0 && (
        <>
          <dt>Open tasks</dt>
          <dd>
            <Link href="/today">{open_tasks}</Link>
          </dd>
        </>
      )}
    </dl>
  );
}

const calledBy = ({ name, species }: KeptAnimal) => name ?? species.replaceAll('_', ' ');

function Individuals({ card, onAsk }: { card: Card; onAsk: ((asking: Asking) => void) | null }) {
  if (card.animals.length === 0) return null;
  return (
    <ul className={classes.individuals} aria-label={`Animals in ${nameOf(card)}`}>
      {card.animals.map((animal) => (
        <li key={animal.id}>
          <span>
            {calledBy(animal)}
            {(animal.count ?? 1) > 1 && ` (${animal.count})`}
            {animal.sex !== undefined && animal.sex !== 'unknown' && `, ${animal.sex}`}
          </span>
          {onAsk && (
            <>
              <Button
                variant="subtle"
                size="compact-sm"
                aria-label={`Move ${calledBy(animal)}`}
                onClick={() => onAsk({ what: 'move', animal })}
              >
                Move
              </Button>
              <Button
                variant="subtle"
                size="compact-sm"
                aria-label={`Write a note on ${calledBy(animal)}`}
                onClick={() =>
                  onAsk({ what: 'note', about_kind: 'animal', about: animal.id, name: calledBy(animal) })
                }
              >
                Note
              </Button>
            </>
          )}
        </li>
      ))}
    </ul>
  );
}

type Props = { card: Card; today: string; onAsk: ((asking: Asking) => void) | null };

export function EnclosureLine({ card, today, onAsk }: Props) {
  const [unit] = useLengthUnit();
  const { id, document } = card.enclosure;
  return (
    <li className={classes.enclosure}>
      <div className={classes.title}>
        <h3>
          <Link href={`/collection/${encodeURIComponent(id)}`}>{nameOf(card)}</Link>
        </h3>
        <span className={classes.size}>{showSize(document.size_cm, unit)}</span>
        <Facts card={card} today={today} />
        {onAsk && (
          <div className={classes.acts}>
            <Button
              component={Link}
              href={`/survey/${encodeURIComponent(id)}`}
              variant="default"
              size="compact-sm"
              aria-label={`Survey ${nameOf(card)}`}
            >
              Survey
            </Button>
            <Button
              variant="subtle"
              size="compact-sm"
              aria-label={`Write a note on ${nameOf(card)}`}
              onClick={() => onAsk({ what: 'note', about_kind: 'enclosure', about: id, name: nameOf(card) })}
            >
              Note
            </Button>
          </div>
        )}
      </div>
      <div className={classes.animals}>
        <Verdicts card={card} />
        <Individuals card={card} onAsk={onAsk} />
      </div>
    </li>
  );
}
