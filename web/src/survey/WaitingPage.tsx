// Everything on this device that the record does not have yet, and what became of the rest.
import { Button } from '@mantine/core';
import { useLiveQuery } from 'dexie-react-hooks';
import { Link } from 'wouter';
import { kept, type Row, type WriteState } from '../offline/database';
import { sendingHere, useSending } from '../offline/sendingHere';
import { tryAgain } from '../offline/outbox';
import type { Sending } from '../offline/sendingLoop';
import { Nothing } from '../parts/Waiting';
import { RefusedRow } from './RefusedRow';
import classes from './WaitingPage.module.css';

function standing({ busy, outcome, again_at_ms }: Sending): string {
  if (busy) return 'Sending.';
  if (!outcome || outcome.what === 'nothing waits') return 'Everything has been sent.';
  if (outcome.what === 'signed out') return 'You are signed out. Nothing is lost: sign in, and it is sent.';
  if (outcome.what === 'another person')
    return 'Somebody else typed these on this device. They are sent when that person signs in here.';
  const again =
    again_at_ms === null ? '' : ` Tried again at ${new Date(again_at_ms).toLocaleTimeString('en-GB')}.`;
  return `${outcome.why}${again}`;
}

function Rows({ title, rows, state }: { title: string; rows: readonly Row[]; state: WriteState }) {
  const own = rows.filter((row) => row.state === state);
  if (own.length === 0) return null;
  const mendable = state === 'refused' || state === 'aside';
  return (
    <section aria-label={title} className={classes.part}>
      <h2>
        {title} ({own.length})
      </h2>
      <ul className={classes.rows}>
        {own.map((row) => (
          <li key={row.seq}>
            {mendable ? (
              <RefusedRow row={row} />
            ) : (
              <>
                <span>{row.words}</span>
                <time dateTime={row.made_at}>{new Date(row.made_at).toLocaleString('en-GB')}</time>
                {row.problem !== null && <span className={classes.problem}>{row.problem}</span>}
              </>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

export function WaitingPage() {
  const rows = useLiveQuery(() => kept.outbox.orderBy('seq').toArray());
  const sending = useSending();
  const refused = rows?.filter((row) => row.state === 'refused') ?? [];
  const isWaiting = rows?.some((row) => row.state === 'waiting') ?? false;
  return (
    <>
      <h1>Waiting on this device</h1>
      <p data-testid="standing">{isWaiting ? standing(sending) : 'Nothing waits to be sent.'}</p>
      <div className={classes.deeds}>
        {isWaiting && (
          <Button size="lg" loading={sending.busy} onClick={sendingHere.now}>
            Send now
          </Button>
        )}
        {refused.length > 1 && (
          <Button variant="default" size="lg" onClick={() => void tryAgain(refused.map(({ seq }) => seq))}>
            Try all refused again
          </Button>
        )}
        <Button variant="default" size="lg" component={Link} href="/survey">
          To the survey
        </Button>
      </div>
      {rows?.length === 0 && <Nothing>Nothing was typed on this device in the last days.</Nothing>}
      <Rows title="Refused" state="refused" rows={rows ?? []} />
      <Rows title="Waiting" state="waiting" rows={rows ?? []} />
      <Rows title="Set aside" state="aside" rows={rows ?? []} />
      <Rows title="Sent in the last days" state="sent" rows={rows ?? []} />
      <Rows title="Taken back before they were sent" state="undone" rows={rows ?? []} />
    </>
  );
}
