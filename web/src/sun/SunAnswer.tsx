// The day answered: when, the curve, the hour looked at, and what to beware of.
import { Slider } from '@mantine/core';
import { useState } from 'react';
import type { Enclosure, Sun } from '../api/schema';
import { DayCurve } from '../parts/DayCurve';
import { Panel } from '../parts/Panel';
import { showValue } from '../parts/quantities';
import { clock, duration, whyNever, windowsInWords } from './clock';
import { compassWord } from './direction';
import { CategoryChip, HourTable } from './HourTable';
import { PenView } from './PenView';
import classes from './SunAnswer.module.css';

type Props = { sun: Sun; name: string; pen: Enclosure | null; isUnderCloth: boolean };

export function Cautions({ cautions }: { cautions: readonly string[] }) {
  return (
    <ul className={classes.cautions} aria-label="Cautions">
      {cautions.map((words) => (
        <li key={words}>{words}</li>
      ))}
    </ul>
  );
}

function Headline({ sun, name }: { sun: Sun; name: string }) {
  const { windows, band } = sun;
  if (!band) {
    return (
      <ul className={classes.zones} aria-label="Hours of each UV zone">
        {(sun.zones ?? []).map((zone) => (
          <li key={zone.zone}>
            UV zone {zone.zone} ({showValue('uvi', zone.band[0])} to {showValue('uvi', zone.band[1])}):{' '}
            <b>{windowsInWords(zone.windows)}</b>
          </li>
        ))}
        {!sun.zones && <li>{whyNever(sun)}</li>}
      </ul>
    );
  }
  return (
    <>
      <p className={classes.headline} data-testid="windows">
        {windows.length === 0 ? (
          <>
            At no time is the sun in the band of {name}. {whyNever(sun)}
          </>
        ) : (
          <>
            In the band of {name}:{' '}
            {windows.map(({ from, to }, i) => (
              <span key={from}>
                {i > 0 && (i + 1 === windows.length ? ' and ' : ', ')}
                <b>
                  {clock(from)} to {clock(to)}
                </b>{' '}
                ({duration(from, to)})
              </span>
            ))}
          </>
        )}
      </p>
    </>
  );
}

// The part of the day worth a chart: from shortly before sunrise to shortly after sunset.
export function daylight(sun: Sun): { from: number; to: number } {
  const up = sun.curve.flatMap(({ elevation_deg }, i) => (elevation_deg > 0 ? [i] : []));
  const last = sun.curve.length - 1;
  return { from: Math.max(0, (up[0] ?? 0) - 1), to: Math.min(last, (up.at(-1) ?? last) + 1) };
}

function Key({ sun, isUnderCloth }: { sun: Sun; isUnderCloth: boolean }) {
  const where = sun.shade
    ? isUnderCloth
      ? 'a meter aimed under the cloth'
      : 'a meter aimed at the basking spot'
    : null;
  return (
    <p className={classes.key}>
      <span>
        <svg width="26" height="10" aria-hidden="true">
          <path d="M0 5H26" stroke="currentColor" strokeWidth="2.5" />
        </svg>
        {where ?? 'UVI on a level surface in the open'}
      </span>
      {where && (
        <span>
          <svg width="26" height="10" aria-hidden="true">
            <path d="M0 5H26" stroke="currentColor" strokeWidth="1.5" strokeDasharray="6 4" />
          </svg>
          a level surface in the open
        </span>
      )}
      {sun.band && <span>hatched: in the band</span>}
    </p>
  );
}

export function SunAnswer({ sun, name, pen, isUnderCloth }: Props) {
  const { from, to } = daylight(sun);
  const noon = sun.curve.findIndex(({ time }) => Date.parse(time) >= Date.parse(sun.max.time));
  const [chosen, setChosen] = useState<number | null>(null);
  const at = Math.min(to, Math.max(from, chosen ?? (noon < 0 ? from : noon)));
  const moment = sun.curve[at] ?? null;
  const band = sun.band ?? null;
  const words =
    `UV index through the day: highest ${showValue('uvi', sun.max.uvi)} at ${clock(sun.max.time)}. ` +
    (band ? `In the band of ${name}: ${windowsInWords(sun.windows)}.` : '') +
    ' The table below has the numbers.';
  return (
    <div className={classes.answer}>
      <Cautions cautions={sun.cautions} />
      <Panel title="The sun’s day">
        <Headline sun={sun} name={name} />
        <p className={classes.facts}>
          Highest: UVI <b>{showValue('uvi', sun.max.uvi)}</b> at {clock(sun.max.time)}
          {!sun.shade && (
            <>
              {' '}
              <CategoryChip uvi={sun.max.uvi} />
            </>
          )}
          . Clock of {sun.time_zone}; ozone {Math.round(sun.ozone_du)} DU
          {sun.forecast !== undefined && <>; forecast by {sun.forecast}</>}.
        </p>
        <DayCurve
          moments={sun.curve.slice(from, to + 1)}
          band={band}
          windows={band ? sun.windows : []}
          at={moment}
          label={words}
        />
        <Slider
          className={classes.slider}
          thumbLabel="Time of day"
          label={null}
          min={from}
          max={to}
          step={1}
          value={at}
          onChange={setChosen}
          thumbProps={{ 'aria-valuetext': moment ? clock(moment.time) : '' }}
        />
        {moment && (
          <p className={classes.reading} data-testid="reading">
            At <b>{clock(moment.time)}</b>: UVI <b>{showValue('uvi', moment.uvi)}</b>
            {moment.open_uvi !== undefined && <>, in the open {showValue('uvi', moment.open_uvi)}</>}; sun{' '}
            {Math.round(moment.elevation_deg)}° high in the {compassWord(moment.azimuth_deg)}.
          </p>
        )}
        <Key sun={sun} isUnderCloth={isUnderCloth} />
      </Panel>
      {pen && sun.plan && <PenView pen={pen} sun={sun} plan={sun.plan} at={at} />}
      {sun.dose && sun.windows.length > 0 && (
        <Panel title="What its back would get">
          <p className={classes.dose}>
            A flat back lying {sun.shade ? 'there' : 'in the open'} through these hours gets{' '}
            <b>{Math.round(sun.dose.erythemal_j_m2).toLocaleString('en')} J/m²</b> erythemal and{' '}
            <b>{Math.round(sun.dose.d3_j_m2).toLocaleString('en')} J/m²</b> of what makes vitamin D3.
          </p>
          <p className={classes.soft}>
            An animal that may choose takes less. How much is enough is not known for most species.
          </p>
        </Panel>
      )}
      <Panel title="By the hour">
        <HourTable sun={sun} />
        <p className={classes.soft}>
          “For people” is the WHO’s category of the UV index in the open, for your own skin and eyes.
        </p>
      </Panel>
    </div>
  );
}
