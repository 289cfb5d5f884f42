// One lamp: what it is, where it burns, its decay, what its readings say, and what can be done with it.
import { Link } from 'wouter';
import { useThing } from '../api/record';
import type { KeptLamp, LampForecast } from '../api/schema';
import { Panel } from '../parts/Panel';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { DecayChart } from './DecayChart';
import { isoDay, showDay } from './days';
import { LampDeeds } from './LampDeeds';
import { LampHistory } from './LampHistory';
import { LampNotes } from './LampNotes';
import classes from './LampPage.module.css';
import { beyondWords, comparisonWords, hoursWords, leavingWords, standingOf } from './lampWords';
import { sortOf } from './shopping';
import { enclosureName, placeName, useLamps, type Lamps } from './useLamps';

const usual_hours_on = 12; // a day, where neither lamp nor document says (src/inference/life.h)

function hoursADay(lamp: KeptLamp, all: Lamps): number {
  const lamps = all.enclosures.find(({ id }) => id === lamp.enclosure)?.document.lamps;
  return lamp.hours_on ?? lamps?.find(({ id }) => id === lamp.place)?.hours_on ?? usual_hours_on;
}

function Facts({ lamp, all, forecast }: { lamp: KeptLamp; all: Lamps; forecast: LampForecast | undefined }) {
  const standing = standingOf(lamp);
  const place = placeName(all.enclosures, lamp);
  const facts: [string, string | undefined][] = [
    ['What', sortOf(lamp)],
    [
      'Where',
      standing === 'standing'
        ? `${enclosureName(all.enclosures, lamp.enclosure)}${place !== '' ? `, ${place}` : ''}`
        : standing === 'in store'
          ? 'In store'
          : `Retired on ${showDay(lamp.retired_on ?? '')}`,
    ],
    [
      'Burning there since',
      standing === 'standing' && lamp.installed_on !== undefined ? showDay(lamp.installed_on) : undefined,
    ],
    [
      'Hours burned',
      forecast
        ? hoursWords(forecast.hours)
        : lamp.hours_before !== undefined
          ? hoursWords(lamp.hours_before)
          : undefined,
    ],
    ['Hours a day', standing === 'standing' ? String(hoursADay(lamp, all)) : undefined],
    ['Bought', lamp.bought_on !== undefined ? showDay(lamp.bought_on) : undefined],
    ['Price', lamp.price !== undefined ? String(lamp.price) : undefined],
    ['Note', lamp.note],
  ];
  return (
    <dl className={classes.facts}>
      {facts.map(([name, value]) =>
        value === undefined ? null : (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ),
      )}
    </dl>
  );
}

function Readings({ forecast }: { forecast: LampForecast }) {
  if (forecast.readings.length === 0) return null;
  const spotName = (id: string) => forecast.life?.spots.find((spot) => spot.id === id)?.name ?? id;
  return (
    <details className={classes.readings}>
      <summary>Its {forecast.readings.length} readings as numbers</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col">Hours</th>
            <th scope="col">UVI</th>
            <th scope="col">Spot</th>
          </tr>
        </thead>
        <tbody>
          {forecast.readings.map((reading, i) => (
            <tr key={i}>
              <td>{reading.taken_at.slice(0, 10)}</td>
              <td>{Math.round(reading.hours).toLocaleString('en')}</td>
              <td>{reading.value}</td>
              <td>{spotName(reading.spot)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function Life({ lamp, all, forecast }: { lamp: KeptLamp; all: Lamps; forecast: LampForecast }) {
  const { life } = forecast;
  return (
    <Panel title="Its life">
      {life && (
        <>
          <p className={classes.leaving}>
            Leaves the band: <strong>{leavingWords(life)}</strong>
          </p>
          {life.beyond_limit && <p className={classes.beyond}>{beyondWords}</p>}
          <p>
            It loses {Math.round(100 * (1 - Math.exp(-life.alpha_per_1000h)))} % of its light in a thousand
            hours (90 %:{' '}
            {life.alpha_interval.map((alpha) => Math.round(100 * (1 - Math.exp(-alpha)))).join(' to ')} %) and
            half of it in {hoursWords(life.half_life_h)}.
          </p>
          <DecayChart forecast={forecast} hours_on={hoursADay(lamp, all)} today={isoDay(new Date())} />
          <Readings forecast={forecast} />
          {life.calendar && (
            <>
              <h3>Against the calendar</h3>
              <ul className={classes.words}>
                {comparisonWords(life.calendar).map((sentence) => (
                  <li key={sentence}>{sentence}</li>
                ))}
              </ul>
            </>
          )}
          {life.words.length > 0 && (
            <details className={classes.readings}>
              <summary>In the engine’s own words</summary>
              <ul className={classes.words}>
                {life.words.map((sentence) => (
                  <li key={sentence}>{sentence}</li>
                ))}
              </ul>
            </details>
          )}
        </>
      )}
      {!life && forecast.notes.length === 0 && <Nothing>Too few readings yet to tell how it ages.</Nothing>}
      {forecast.notes.map((note) => (
        <p key={note} className={classes.note}>
          {note}
        </p>
      ))}
      {lamp.enclosure !== undefined && (
        <p className={classes.note}>
          <Link href={`/survey/${encodeURIComponent(lamp.enclosure)}`}>Read its enclosure now</Link>
        </p>
      )}
    </Panel>
  );
}

export function LampPage({ id }: { id: string }) {
  const one = useThing('lamps', id);
  const { data: all, error, areLivesComing } = useLamps();
  const lamp = one.data;
  const forecast = all?.lives.find((life) => life.lamp === id);
  const failed = one.error ?? error;
  return (
    <>
      <p className={classes.back}>
        <Link href="/lamps">All lamps</Link>
      </p>
      <h1>{lamp?.name ?? 'Lamp'}</h1>
      {failed && <Failure error={failed} retry={() => void one.refetch()} />}
      {!failed && (!lamp || !all) && <Loading what="the lamp" lines={6} />}
      {lamp && all && (
        <div className={classes.parts}>
          <div className={classes.part}>
            <Panel title="The lamp">
              <Facts lamp={lamp} all={all} forecast={forecast} />
              <LampDeeds lamp={lamp} all={all} />
            </Panel>
            <LampNotes lamp={lamp} />
          </div>
          <div className={classes.part}>
            {forecast && <Life lamp={lamp} all={all} forecast={forecast} />}
            {!forecast && areLivesComing && standingOf(lamp) === 'standing' && (
              <Loading what="the lamp’s life" lines={6} />
            )}
            <LampHistory lamp={lamp} all={all} />
          </div>
        </div>
      )}
    </>
  );
}
