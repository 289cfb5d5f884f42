// What happened to a lamp, newest first.
import { useThings } from '../api/record';
import type { KeptLamp, LampEvent } from '../api/schema';
import { Panel } from '../parts/Panel';
import { Nothing } from '../parts/Waiting';
import { showDay } from './days';
import classes from './LampPage.module.css';
import { hoursWords } from './lampWords';
import { enclosureName, placeName, type Lamps } from './useLamps';

const eventWords: Record<LampEvent['what'], string> = {
  bought: 'Bought',
  installed: 'Installed',
  moved: 'Moved',
  removed: 'Taken into store',
  retired: 'Discarded',
};

export function LampHistory({ lamp, all }: { lamp: KeptLamp; all: Lamps }) {
  const { data } = useThings('lamp_events', { lamp: lamp.id });
  const events = [...(data ?? [])].sort((a, b) => b.happened_on.localeCompare(a.happened_on));
  return (
    <Panel title="What happened to it">
      {data?.length === 0 && <Nothing>Nothing was noted yet.</Nothing>}
      <ul className={classes.words}>
        {events.map((event) => {
          const place = placeName(all.enclosures, event);
          return (
            <li key={event.id}>
              {showDay(event.happened_on)}: {eventWords[event.what]}
              {event.enclosure !== undefined && `, ${enclosureName(all.enclosures, event.enclosure)}`}
              {place !== '' && `, ${place}`}
              {event.hours !== undefined && `, after ${hoursWords(event.hours)}`}
              {event.note !== undefined && `. ${event.note}`}
            </li>
          );
        })}
      </ul>
    </Panel>
  );
}
