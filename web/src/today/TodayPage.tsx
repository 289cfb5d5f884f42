// What needs doing, most urgent first, each with the one action that settles it.
import { Button } from '@mantine/core';
import { useState } from 'react';
import { Link } from 'wouter';
import { useCards, useDue } from '../api/record';
import type { Card, Due } from '../api/schema';
import { mayWrite, useSite } from '../parts/site';
import { Failure, Loading } from '../parts/Waiting';
import { CalibrateDialog } from '../settings/CalibrateDialog';
import { Cautions } from './Cautions';
import { DueLine } from './DueLine';
import { SettleDialog } from './SettleDialog';
import classes from './TodayPage.module.css';
import { failingOf, groupsOf, type Failing } from './urgency';

const nameOf = (card: Card) => card.enclosure.document.name ?? card.enclosure.id;

function FailingLine({ failing: { card, animal, why } }: { failing: Failing }) {
  const title = `${animal.name}, ${nameOf(card)}`;
  return (
    <li className={classes.line}>
      <div className={classes.what}>
        <h3>{title}</h3>
        <p>{why}</p>
      </div>
      <Button
        component={Link}
        variant="default"
        href={`/collection/${encodeURIComponent(card.enclosure.id)}`}
        aria-label={`See what helps: ${title}`}
      >
        See what helps
      </Button>
    </li>
  );
}

function Empty({ isBare }: { isBare: boolean }) {
  return (
    <div className={classes.empty}>
      <h2>{isBare ? 'Nothing here yet' : 'Nothing to do'}</h2>
      {isBare ? (
        <p>
          Once there is an enclosure, this page says when to survey it, when its lamps leave the range and
          which animal needs something. <Link href="/new">Describe the first enclosure</Link>.
        </p>
      ) : (
        <p>
          Every survey and calibration is in time, no lamp is about to leave its range, no task is open, and
          every animal that can be judged has what it needs. <Link href="/collection">Look around</Link>, or
          see <Link href="/sun">when the sun is in range today</Link>.
        </p>
      )}
    </div>
  );
}

export default function TodayPage() {
  const here = useSite();
  const due = useDue(here?.site.id);
  const cards = useCards(here?.site.id);
  const [settling, setSettling] = useState<Due | null>(null);
  const [settled, setSettled] = useState('');
  // Both come before anything is listed: what came second would push down what somebody is reading.
  const isPending = due.isPending || cards.isPending;
  const groups = isPending ? [] : groupsOf(due.data ?? []);
  const failing = isPending ? [] : failingOf(cards.data?.cards ?? []);
  const isJudging = cards.data?.cards.some(({ judging }) => judging) ?? false;
  const names = new Map(cards.data?.cards.map((card) => [card.enclosure.id, nameOf(card)]));
  const isQuiet = due.data && cards.data && groups.length === 0 && failing.length === 0 && !isJudging;
  function close(isDone: boolean) {
    if (isDone && settling) setSettled(`Done: ${settling.title}`);
    setSettling(null);
  }
  return (
    <>
      <h1>Today</h1>
      <p aria-live="polite" className={classes.settled}>
        {settled}
      </p>
      {isPending && !due.error && !cards.error && <Loading what="what is due" lines={6} />}
      {due.error && <Failure error={due.error} retry={() => void due.refetch()} />}
      {cards.error && !due.error && <Failure error={cards.error} retry={() => void cards.refetch()} />}
      {isQuiet && <Empty isBare={cards.data.cards.length === 0} />}
      {failing.length > 0 && (
        <section aria-label="Animals to put right">
          <h2 className={classes.group}>
            Animals to put right <span>{failing.length}</span>
          </h2>
          <ul className={classes.lines}>
            {failing.map((one, i) => (
              <FailingLine key={`${one.card.enclosure.id} ${i}`} failing={one} />
            ))}
          </ul>
        </section>
      )}
      {groups.map((group) => (
        <section key={group.title} aria-label={group.title}>
          <h2 className={classes.group}>
            {group.title} <span>{group.due.length}</span>
          </h2>
          <ul className={classes.lines}>
            {group.due.map((one) => (
              <DueLine
                key={`${one.kind} ${one.thing}`}
                due={one}
                mayAct={mayWrite(here?.role)}
                where={one.enclosure === null ? null : (names.get(one.enclosure) ?? one.enclosure)}
                onSettle={setSettling}
              />
            ))}
          </ul>
        </section>
      ))}
      {isJudging && (
        <p className={classes.judging} role="status">
          Some verdicts are still being worked out; animals that need something appear as they come.
        </p>
      )}
      {!isPending && <Cautions />}
      {settling?.settling === 'settle_task' && <SettleDialog task={settling.thing} onClose={close} />}
      {settling?.settling === 'calibrate_meter' && (
        <CalibrateDialog
          meter={{
            id: settling.thing,
            site: settling.site,
            name: settling.title.replace(/^Calibrate /, ''),
          }}
          zone={here?.site.time_zone}
          onClose={close}
        />
      )}
    </>
  );
}
