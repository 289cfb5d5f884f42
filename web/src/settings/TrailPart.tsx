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
import { addressOf, deedWords } from './trailWords';
import trailClasses from './TrailPart.module.css';

const page = 100;

function TrailRow({
  change,
  by,
  name,
  zone,
}: {
  change: Change;
  by: string;
  name: string;
  zone?: string | undefined;
}) {
  const address = addressOf(change);
  return (
    <li className={trailClasses.line}>
      <time dateTime={change.at}>{showMoment(change.at, zone)}</time>
      <span>
        <strong>{by}</strong> {deedWords(change)}:{' '}
        {address === null ? name : <Link href={address}>{name}</Link>}
        {change.why !== '' && <span className={classes.soft}> ({change.why})</span>}
      </span>
    </li>
  );
}

export function TrailPart({ here: { site } }: { here: Here }) {
  const me = useMe().data;
  const [limit, setLimit] = useState(page);
  const people = useThings('people', { retired: '1' }, me?.accounts ?? false);
  const cards = useCards(site.id);
  const { data, error, isPending, refetch } = useQuery({
    queryKey: ['record', 'trail', site.id, limit],
    queryFn: async ({ signal }) =>
      (await get('/api/trail', { signal, query: { site: site.id, limit: String(limit) } })).changes,
    placeholderData: keepPreviousData,
  });
  const names = new Map<string, string>([
    ...(people.data ?? []).map(({ id, name }) => [id, name] as const),
    ...(me?.person ? [[me.person.id, me.person.name] as const] : []),
  ]);
  const enclosures = new Map(
    cards.data?.cards.map(({ enclosure }) => [enclosure.id, enclosure.document.name ?? enclosure.id]),
  );
  return (
    <div>
      <h2>Who did what</h2>
      {isPending && <Loading what="the trail" lines={6} />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      {data?.length === 0 && <Nothing>Nothing was done yet.</Nothing>}
      {data && data.length > 0 && (
        <ol className={trailClasses.lines} aria-label="The trail, newest first">
          {data.map((change) => (
            <TrailRow
              key={change.seq}
              change={change}
              by={names.get(change.by) ?? change.by}
              name={enclosures.get(change.id) ?? names.get(change.id) ?? change.id}
              zone={site.time_zone}
            />
          ))}
        </ol>
      )}
      {data && data.length >= limit && limit < 10_000 && (
        <Button variant="default" onClick={() => setLimit(Math.min(10_000, 2 * limit))}>
          Show earlier
        </Button>
      )}
    </div>
  );
}
