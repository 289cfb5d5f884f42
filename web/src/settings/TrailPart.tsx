// Who did what, newest first. Nothing is ever taken out of the trail.
import { Button } from '@mantine/core';
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { get } from '../api/client';
import { useCards, useMe, useThings } from '../api/record';
import type { Change } from '../api/schema';
import { showMoment } from '../parts/dayWords';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import classes from './SettingsPage.module.css';
import type { Here } from './SettingsPage';
import { addressOf, deedWords, gathered, type Gathered } from './trailWords';
import trailClasses from './TrailPart.module.css';

const page = 200;
const most = 10_000; // the interface gives no more at once

// What things are called, as far as they have a name; the others go by their kind.
function useNames(site: string): (id: string) => string | undefined {
  const me = useMe().data;
  const of = { site, retired: '1' };
  const people = useThings('people', { retired: '1' }, me?.accounts ?? false);
  const named = [
    people,
    useThings('rooms', of),
    useThings('animals', of),
    useThings('lamps', of),
    useThings('meters', of),
  ].flatMap(({ data }) => (data ?? []) as readonly { id: string; name?: string }[]);
  const tasks = useThings('tasks', of).data ?? [];
  const cards = useCards(site).data?.cards ?? [];
  const names = new Map<string, string | undefined>([
    ...named.map(({ id, name }) => [id, name] as const),
    ...tasks.map(({ id, title }) => [id, title] as const),
    ...cards.map(({ enclosure: { id, document } }) => [id, document.name ?? id] as const),
    ...(me?.person ? [[me.person.id, me.person.name] as const] : []),
  ]);
  return (id) => names.get(id);
}

type LineProps = { line: Gathered; nameOf: (id: string) => string | undefined; zone?: string | undefined };

function Thing({ change, name }: { change: Change; name: string | undefined }) {
  const address = addressOf(change);
  if (name === undefined && address === null) return null;
  return <>: {address === null ? name : <Link href={address}>{name ?? 'see it'}</Link>}</>;
}

function TrailLine({ line: { newest, count }, nameOf, zone }: LineProps) {
  return (
    <li className={trailClasses.line}>
      <time dateTime={newest.at}>{showMoment(newest.at, zone)}</time>
      <span>
        <strong>{nameOf(newest.by) ?? newest.by}</strong> {deedWords(newest, count)}
        {count === 1 && <Thing change={newest} name={nameOf(newest.id)} />}
        {newest.why !== '' && <span className={classes.soft}> ({newest.why})</span>}
      </span>
    </li>
  );
}

export function TrailPart({ here: { site } }: { here: Here }) {
  const [limit, setLimit] = useState(page);
  const nameOf = useNames(site.id);
  const { data, error, isPending, refetch } = useQuery({
    queryKey: ['record', 'trail', site.id, limit],
    queryFn: async ({ signal }) =>
      (await get('/api/trail', { signal, query: { site: site.id, limit: String(limit) } })).changes,
    placeholderData: keepPreviousData,
  });
  return (
    <div>
      <h2>Who did what</h2>
      {isPending && <Loading what="the trail" lines={6} />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      {data?.length === 0 && <Nothing>Nothing was done yet.</Nothing>}
      {data && data.length > 0 && (
        <ol className={trailClasses.lines} aria-label="The trail, newest first">
          {gathered(data).map((line) => (
            <TrailLine key={line.newest.seq} line={line} nameOf={nameOf} zone={site.time_zone} />
          ))}
        </ol>
      )}
      {data && data.length >= limit && limit < most && (
        <Button variant="default" onClick={() => setLimit(Math.min(most, 4 * limit))}>
          Show earlier
        </Button>
      )}
    </div>
  );
}
