// Which enclosure next: those that are due first.
import { useLiveQuery } from 'dexie-react-hooks';
import { Link } from 'wouter';
import { kept } from '../offline/database';
import { Loading, Nothing } from '../parts/Waiting';
import classes from './ChoosePage.module.css';
import { dueWords, keptWords } from './words';
import { nameOf, useFreshened, usePlaces, type DuePlace } from './useKept';
import { WaitingCount } from './WaitingCount';

function PlaceLine({ place, isGoingOn }: { place: DuePlace; isGoingOn: boolean }) {
  return (
    <li>
      <Link href={`/survey/${encodeURIComponent(place.id)}`} className={classes.place}>
        <span className={classes.name}>{nameOf(place)}</span>
        <span className={classes.due} data-due={String((place.due?.days_over ?? -1) >= 0)}>
          {isGoingOn ? 'Going on' : dueWords(place)}
        </span>
        {place.card.room_name !== null && <span className={classes.room}>{place.card.room_name}</span>}
      </Link>
    </li>
  );
}

export function ChoosePage() {
  const places = usePlaces();
  const { isComing, isAway } = useFreshened();
  const going = useLiveQuery(async () => {
    const open = await kept.rounds.filter((round) => round.ended_at === null).toArray();
    const begun = await Promise.all(open.map((round) => kept.outbox.where('id').equals(round.id).count()));
    return new Set(
      open.filter((round, i) => (begun[i] ?? 0) > 0 || round.draft !== '').map((r) => r.enclosure),
    );
  });
  const oldest = places?.map((place) => place.kept_at).sort()[0];
  return (
    <>
      <div className={classes.head}>
        <h1>Survey</h1>
        <WaitingCount />
      </div>
      <p className={classes.lead}>
        At each spot hold the meter at the height of the animal’s back and turn it for its highest value.
        Leave the lamps’ guards in place and do not look into a lamp.
      </p>
      {isAway && oldest !== undefined && (
        <p className={classes.away}>
          No answer from the server: these are kept here since {keptWords(oldest)}.
        </p>
      )}
      {(places === undefined || (places.length === 0 && isComing)) && (
        <Loading what="the enclosures" lines={5} />
      )}
      {places?.length === 0 && !isComing && (
        <Nothing>
          {isAway
            ? 'Nothing is kept on this device yet: open this page once while the server can be reached.'
            : 'No enclosures yet.'}
        </Nothing>
      )}
      <ul className={classes.list}>
        {places?.map((place) => (
          <PlaceLine key={place.id} place={place} isGoingOn={going?.has(place.id) ?? false} />
        ))}
      </ul>
    </>
  );
}
