// Every enclosure at a glance, room by room: its animals, its range strips, its state, what comes next.
import { Button, Switch, TextInput } from '@mantine/core';
import { useState } from 'react';
import { Link } from 'wouter';
import { useCards } from '../api/record';
import { todayIn } from '../parts/dayWords';
import { mayWrite, useSite } from '../parts/site';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import classes from './CollectionPage.module.css';
import { CollectionDialogs, type Asking } from './CollectionDialogs';
import { EnclosureLine } from './EnclosureLine';
import { byRoom, fitsWords, needsAttention } from './glance';

export default function CollectionPage() {
  const here = useSite();
  const { data, error, isPending, refetch } = useCards(here?.site.id);
  const [words, setWords] = useState('');
  const [isUrgentOnly, setUrgentOnly] = useState(false);
  const [asking, setAsking] = useState<Asking | null>(null);
  const today = todayIn(here?.site.time_zone);
  const mayAct = mayWrite(here?.role);
  const all = data?.cards.filter((card) => card.enclosure.retired_at === null) ?? [];
  const shown = all.filter(
    (card) => fitsWords(card, words.trim()) && (!isUrgentOnly || needsAttention(card, today)),
  );
  const rooms = byRoom(shown);
  return (
    <>
      <div className={classes.head}>
        <h1>Collection</h1>
        {mayAct && (
          <div className={classes.buttons}>
            <Button variant="default" onClick={() => setAsking({ what: 'animal' })}>
              Add an animal
            </Button>
            <Button component={Link} href="/new">
              New enclosure
            </Button>
          </div>
        )}
      </div>
      <p className={classes.lead}>
        Each strip is the animal’s UVI axis: the frame is its band, the marks are what a meter would read at
        its spots.
      </p>
      {all.length > 0 && (
        <div className={classes.filter}>
          <TextInput
            type="search"
            label="Find an enclosure"
            placeholder="Name, room or animal"
            value={words}
            onChange={(event) => setWords(event.currentTarget.value)}
          />
          <Switch
            label="Only what needs attention"
            checked={isUrgentOnly}
            onChange={(event) => setUrgentOnly(event.currentTarget.checked)}
          />
          <span className={classes.count} aria-live="polite">
            {shown.length === all.length ? `${all.length} in all` : `${shown.length} of ${all.length}`}
          </span>
        </div>
      )}
      {isPending && <Loading what="the collection" lines={6} />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      {data && all.length === 0 && (
        <Nothing>No enclosures yet. {mayAct && <Link href="/new">Describe the first one</Link>}</Nothing>
      )}
      {all.length > 0 && shown.length === 0 && (
        <Nothing>
          {words.trim() === ''
            ? 'Nothing needs attention.'
            : 'No enclosure fits. Try fewer words, or part of a name.'}
        </Nothing>
      )}
      {rooms.map((room) => (
        <section key={room.name ?? ''} aria-label={room.name ?? 'In no room'}>
          {(rooms.length > 1 || room.name !== null) && (
            <h2 className={classes.room}>{room.name ?? 'In no room'}</h2>
          )}
          <ul className={classes.list}>
            {room.cards.map((card) => (
              <EnclosureLine
                key={card.enclosure.id}
                card={card}
                today={today}
                onAsk={mayAct ? setAsking : null}
              />
            ))}
          </ul>
        </section>
      ))}
      {asking && here && (
        <CollectionDialogs asking={asking} site={here.site} cards={all} onClose={() => setAsking(null)} />
      )}
    </>
  );
}
