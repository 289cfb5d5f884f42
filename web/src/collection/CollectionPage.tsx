// Every enclosure at a glance: its animals, its range strip, its state.
import { Link } from 'wouter';
import { useCards } from '../api/record';
import type { AnimalJudgement, Card } from '../api/schema';
import { RangeStrip } from '../parts/RangeStrip';
import { showSize, useLengthUnit } from '../parts/units';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { verdictParts } from '../parts/words';
import { SpeciesName } from '../species/SpeciesName';
import classes from './CollectionPage.module.css';

// How an animal stands in few words: what does not hold, or that all does.
export function stateOf({ verdict }: AnimalJudgement): { holds: boolean | null; words: string } {
  const failing = verdictParts
    .filter(({ part }) => verdict[part].holds === false)
    .map(({ title }) => title.toLowerCase());
  if (failing.length > 0) return { holds: false, words: `To put right: ${failing.join(', ')}` };
  if (verdict.overall.holds === null) return { holds: null, words: 'Cannot be judged' };
  return { holds: true, words: 'Every part holds' };
}

function AnimalLine({ animal, card }: { animal: AnimalJudgement; card: Card }) {
  const state = stateOf(animal);
  const spots = card.judgement?.spots ?? [];
  const marks = spots
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

function EnclosureLine({ card }: { card: Card }) {
  const [unit] = useLengthUnit();
  return (
    <li className={classes.enclosure}>
      <div className={classes.title}>
        <h2>
          <Link href={`/collection/${encodeURIComponent(card.enclosure.id)}`}>
            {card.enclosure.document.name ?? card.enclosure.id}
          </Link>
        </h2>
        <span className={classes.size}>{showSize(card.enclosure.document.size_cm, unit)}</span>
      </div>
      <div className={classes.animals}>
        {card.judgement?.animals.map((animal, i) => (
          <AnimalLine key={i} animal={animal} card={card} />
        ))}
        {card.judgement?.animals.length === 0 && <Nothing>No animals, so nothing to judge.</Nothing>}
        {card.judging && <Loading what="the verdict" lines={2} />}
        {!card.judgement && !card.judging && (
          <Nothing>This enclosure cannot be judged. {card.problems.join(' ')}</Nothing>
        )}
      </div>
    </li>
  );
}

export default function CollectionPage() {
  const { data, error, isPending, refetch } = useCards();
  return (
    <>
      <h1>Collection</h1>
      <p className={classes.lead}>
        Each strip is the animal’s UVI axis: the frame is its band, the marks are what a meter would read at
        its spots.
      </p>
      {isPending && <Loading what="the collection" lines={6} />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      {data?.cards.length === 0 && <Nothing>No enclosures yet.</Nothing>}
      <ul className={classes.list}>
        {data?.cards.map((card) => (
          <EnclosureLine key={card.enclosure.id} card={card} />
        ))}
      </ul>
    </>
  );
}
