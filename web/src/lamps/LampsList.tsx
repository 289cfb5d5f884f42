// All lamps: those that burn with the day they leave the band, those in store, those that are gone; and what to order.
import { Button } from '@mantine/core';
import { useState } from 'react';
import { Link } from 'wouter';
import { Panel } from '../parts/Panel';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { isoDay } from './days';
import { LampForm } from './LampForm';
import classes from './LampsList.module.css';
import { hoursWords, isUrgent, leavingWords, standingOf, type Standing } from './lampWords';
import { LeavingBar, LeavingScale } from './LeavingBar';
import { Shopping } from './Shopping';
import { sortOf } from './shopping';
import { enclosureName, placeName, useLamps, type Lamps } from './useLamps';
import type { KeptLamp } from '../api/schema';

function LampLine({ lamp, all }: { lamp: KeptLamp; all: Lamps }) {
  const forecast = all.lives.find((life) => life.lamp === lamp.id);
  const standing = standingOf(lamp);
  const place = placeName(all.enclosures, lamp);
  return (
    <li className={classes.lamp}>
      <div>
        <Link href={`/lamps/${encodeURIComponent(lamp.id)}`} className={classes.name}>
          {lamp.name}
        </Link>
        <span className={classes.sort}>{sortOf(lamp)}</span>
      </div>
      {standing === 'standing' && (
        <>
          <div>
            {enclosureName(all.enclosures, lamp.enclosure)}
            <span className={classes.sort}>
              {place !== '' && `${place}, `}
              {hoursWords(forecast?.hours)}
            </span>
          </div>
          <div className={classes.leaving} data-urgent={String(forecast ? isUrgent(forecast) : false)}>
            {leavingWords(forecast?.life ?? null)}
            <LeavingBar leaving={forecast?.life?.leaves_band ?? null} today={isoDay(new Date())} />
          </div>
        </>
      )}
      {standing === 'retired' && <div>Retired on {lamp.retired_on}</div>}
      {standing === 'in store' && <div>{lamp.bought_on !== undefined && `Bought on ${lamp.bought_on}`}</div>}
    </li>
  );
}

function Lines({ which, title, all }: { which: Standing; title: string; all: Lamps }) {
  const lamps = all.lamps.filter((lamp) => standingOf(lamp) === which);
  const early = (lamp: KeptLamp) =>
    all.lives.find((life) => life.lamp === lamp.id)?.life?.leaves_band?.interval[0] ?? '9999';
  const sorted = [...lamps].sort((a, b) => early(a).localeCompare(early(b)) || a.name.localeCompare(b.name));
  return (
    <Panel title={`${title} (${lamps.length})`} aside={which === 'standing' && <LeavingScale />}>
      {sorted.length === 0 && <Nothing>None.</Nothing>}
      <ul className={classes.lamps}>
        {sorted.map((lamp) => (
          <LampLine key={lamp.id} lamp={lamp} all={all} />
        ))}
      </ul>
    </Panel>
  );
}

export function LampsList() {
  const { data, error, retry, areLivesComing, livesError } = useLamps();
  const [isAdding, setAdding] = useState(false);
  const isComing = !error && (!data || areLivesComing);
  return (
    <>
      <div className={classes.head}>
        <h1>Lamps</h1>
        {!isAdding && <Button onClick={() => setAdding(true)}>Add a lamp</Button>}
      </div>
      <p className={classes.lead}>
        A lamp is done when its own readings leave the animal’s band, not when a calendar says so. Switch it
        off and let it cool before you change it.
      </p>
      {isAdding && (
        <Panel title="A new lamp">
          <LampForm onDone={() => setAdding(false)} />
        </Panel>
      )}
      {error && <Failure error={error} retry={retry} />}
      {/* Their order is that of their ends, so they wait for these. */}
      {isComing && <Loading what="the lamps" lines={6} />}
      {data && !areLivesComing && (
        <div className={classes.parts}>
          <div className={classes.part}>
            {livesError && <Failure error={livesError} />}
            <Lines which="standing" title="Burning" all={data} />
            <Lines which="in store" title="In store" all={data} />
            <Lines which="retired" title="Retired" all={data} />
          </div>
          <div className={classes.part}>
            <Shopping all={data} />
          </div>
        </div>
      )}
    </>
  );
}
