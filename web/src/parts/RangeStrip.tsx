// A band on the UVI axis, with readings as marks. The coloured line is the scale of the field views.
import { useId } from 'react';
import type { State } from '../api/schema';
import { colourAt } from './colourScale';
import { showValue } from './quantities';
import { axisTicks, bandOnAxis, placeOnAxis } from './rangeAxis';
import classes from './RangeStrip.module.css';
import { stateWords } from './words';

export type Mark = {
  id: string;
  name: string;
  uvi: number;
  state?: State | undefined;
  interval?: readonly [number, number] | null | undefined;
};

type Props = {
  band: readonly [number, number] | null | undefined;
  ceiling?: number | null | undefined;
  marks: readonly Mark[];
  axis?: boolean;
  chosen?: string | null;
};

const inset = 2; // per cent kept free at both ends for marks and labels
const x = (place: number) => `${inset + (100 - 2 * inset) * place}%`;
const width = (from: number, to: number) => `${(100 - 2 * inset) * (to - from)}%`;

export function describeStrip({ band, ceiling, marks }: Props): string {
  const range = band
    ? `Band ${showValue('uvi', band[0])} to ${showValue('uvi', band[1])} UVI`
    : 'Band unknown';
  const top = ceiling && band && ceiling > band[1] ? `, ceiling ${showValue('uvi', ceiling)}` : '';
  const spots = marks.map(
    (m) => `${m.name} ${showValue('uvi', m.uvi)}${m.state ? `, ${stateWords[m.state]}` : ''}`,
  );
  return `${range}${top}.${spots.length > 0 ? ` ${spots.join('; ')}.` : ''}`;
}

export function RangeStrip(props: Props) {
  const { band, ceiling, marks, axis = true, chosen = null } = props;
  const gradientId = useId();
  const spans = band ? bandOnAxis(band) : null;
  return (
    <svg
      className={classes.strip}
      height={axis ? 48 : 26}
      width="100%"
      role="img"
      aria-label={describeStrip(props)}
    >
      <defs>
        <linearGradient id={gradientId}>
          {Array.from({ length: 9 }, (_, i) => (
            <stop key={i} offset={`${12.5 * i}%`} stopColor={colourAt(i / 8)} />
          ))}
        </linearGradient>
      </defs>
      <rect
        className={classes.scale}
        x={x(0)}
        width={width(0, 1)}
        y={11}
        height={4}
        fill={`url(#${gradientId})`}
      />
      {spans && (
        <>
          <rect
            className={classes.band}
            x={x(spans.whole.from)}
            width={width(spans.whole.from, spans.whole.to)}
            y={3}
            height={20}
            rx={4}
          />
          <rect
            className={classes.middle}
            x={x(spans.middle.from)}
            width={width(spans.middle.from, spans.middle.to)}
            y={3}
            height={20}
          />
        </>
      )}
      {band && ceiling && ceiling > band[1] && (
        <line
          className={classes.ceiling}
          x1={x(placeOnAxis(ceiling))}
          x2={x(placeOnAxis(ceiling))}
          y1={1}
          y2={25}
        />
      )}
      {marks.map((mark) => (
        <g key={mark.id} className={mark.id === chosen ? classes.chosen : undefined}>
          {mark.interval && (
            <line
              className={classes.interval}
              x1={x(placeOnAxis(mark.interval[0]))}
              x2={x(placeOnAxis(mark.interval[1]))}
              y1={13}
              y2={13}
            />
          )}
          <svg x={x(placeOnAxis(mark.uvi))} y={13} overflow="visible">
            <title>{`${mark.name}: ${showValue('uvi', mark.uvi)}`}</title>
            <path className={classes.mark} d="M0 -11 L5 0 L0 11 L-5 0 Z" />
          </svg>
        </g>
      ))}
      {axis &&
        axisTicks.map((tick) => (
          <g key={tick}>
            <line
              className={classes.tick}
              x1={x(placeOnAxis(tick))}
              x2={x(placeOnAxis(tick))}
              y1={25}
              y2={30}
            />
            <text className={classes.label} x={x(placeOnAxis(tick))} y={43}>
              {tick}
            </text>
          </g>
        ))}
      {axis && (
        <text className={classes.unit} x="100%" y={43}>
          UVI
        </text>
      )}
    </svg>
  );
}
