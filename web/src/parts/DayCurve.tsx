// A day's UV index by the clock, with a band on the axis and the hours in which the curve runs inside it. Tone and
// texture carry everything; there is no meaning in hue.
import { useElementSize } from '@mantine/hooks';
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { useId } from 'react';
import classes from './DayCurve.module.css';
import { showValue } from './quantities';

export type DayMoment = { time: string; uvi: number; open_uvi?: number };
export type DayWindow = { from: string; to: string };

type Props = {
  moments: readonly DayMoment[]; // in their order
  band: readonly [number, number] | null;
  windows: readonly DayWindow[];
  at: DayMoment | null; // where the reading line stands
  label: string; // the whole chart in words
};

const height = 300;
const room = { left: 46, right: 14, top: 16, bottom: 40 };
const floor = height - room.bottom;
const clock = (time: string) => time.slice(11, 16);
const when = (time: string) => Date.parse(time);

// The time of every third hour, or of every second where there is room; read off the moments, so that a clock that is put
// forward or back keeps its own hours.
function hoursOf(moments: readonly DayMoment[], width: number): readonly DayMoment[] {
  const full = moments.filter(({ time }) => time.slice(14, 16) === '00');
  const every = full.length * 46 > width ? (full.length * 23 > width ? 4 : 2) : 1;
  return full.filter(({ time }) => Number(time.slice(11, 13)) % every === 0);
}

// A little more than the day's highest value, and always enough to show where the band begins.
export function topOf(moments: readonly DayMoment[], band: Props['band']): number {
  const most = Math.max(...moments.map(({ uvi, open_uvi = 0 }) => Math.max(uvi, open_uvi)), 0.5);
  return Math.max(most * 1.12, band ? Math.min(band[1], most * 2, band[0] * 1.5 + 0.5) : 0);
}

export function DayCurve({ moments, band, windows, at, label }: Props) {
  const { ref, width: measured } = useElementSize();
  const texture = useId();
  const width = measured > 0 ? measured : 640;
  const first = moments[0];
  const last = moments.at(-1);
  if (!first || !last) return null;
  const x = scaleLinear([when(first.time), when(last.time)], [room.left + 14, width - room.right]);
  const y = scaleLinear([0, topOf(moments, band)], [floor, room.top]).nice(6);
  const place = (time: string) => x(when(time));
  const curve = line<DayMoment>(
    (m) => place(m.time),
    (m) => y(m.uvi),
  );
  const open = line<DayMoment>(
    (m) => place(m.time),
    (m) => y(m.open_uvi ?? 0),
  );
  const under = area<DayMoment>(
    (m) => place(m.time),
    floor,
    (m) => y(m.uvi),
  );
  const hasOpen = moments.some(({ open_uvi }) => open_uvi !== undefined);
  const [bandTop, bandFoot] = band ? [y(Math.min(band[1], y.domain()[1] ?? band[1])), y(band[0])] : [0, 0];
  return (
    <div ref={ref}>
      <svg className={classes.chart} height={height} role="img" aria-label={label}>
        <defs>
          <pattern
            id={texture}
            width="6"
            height="6"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <rect className={classes.window} width="6" height="6" />
            <line className={classes.windowEdge} x1="0" x2="0" y1="0" y2="6" opacity="0.45" />
          </pattern>
          {windows.map(({ from, to }, i) => (
            <clipPath key={from} id={`${texture}-${i}`}>
              <rect x={place(from)} width={Math.max(0, place(to) - place(from))} y="0" height={height} />
            </clipPath>
          ))}
        </defs>
        {y.ticks(6).map((tick) => (
          <g key={tick}>
            <line
              className={classes.grid}
              x1={room.left + 14}
              x2={width - room.right}
              y1={y(tick)}
              y2={y(tick)}
            />
            <text className={classes.label} x={room.left - 8} y={y(tick) + 4} textAnchor="end">
              {tick}
            </text>
          </g>
        ))}
        {band && (
          <g>
            <rect
              className={classes.bandAcross}
              x={room.left + 14}
              width={width - room.left - 14 - room.right}
              y={bandTop}
              height={Math.max(0, bandFoot - bandTop)}
            />
            {[bandTop, bandFoot].map((edge) => (
              <line
                key={edge}
                className={classes.bandEdge}
                x1={room.left + 14}
                x2={width - room.right}
                y1={edge}
                y2={edge}
              />
            ))}
            <rect
              className={classes.bandOnAxis}
              x={room.left}
              width={12}
              rx={3}
              y={bandTop}
              height={Math.max(2, bandFoot - bandTop)}
            />
          </g>
        )}
        {windows.map(({ from }, i) => (
          <path
            key={from}
            clipPath={`url(#${texture}-${i})`}
            fill={`url(#${texture})`}
            d={under(moments) ?? ''}
          />
        ))}
        {hasOpen && <path className={classes.open} d={open(moments) ?? ''} />}
        <path className={classes.curve} d={curve(moments) ?? ''} />
        <line className={classes.axis} x1={room.left + 14} x2={width - room.right} y1={floor} y2={floor} />
        {windows.map(({ from, to }) => (
          <rect
            key={from}
            className={classes.windowBar}
            x={place(from)}
            width={Math.max(2, place(to) - place(from))}
            y={floor - 2}
            height={5}
          />
        ))}
        {hoursOf(moments, width - room.left - room.right).map(({ time }) => (
          <g key={time}>
            <line className={classes.axis} x1={place(time)} x2={place(time)} y1={floor + 3} y2={floor + 8} />
            <text className={classes.label} x={place(time)} y={floor + 22} textAnchor="middle">
              {clock(time)}
            </text>
          </g>
        ))}
        <text className={classes.label} x={room.left - 8} y={room.top - 4} textAnchor="end">
          UVI
        </text>
        {band && (
          <text className={classes.bandName} x={room.left + 20} y={Math.max(room.top + 10, bandTop + 15)}>
            band {showValue('uvi', band[0])} to {showValue('uvi', band[1])}
          </text>
        )}
        {at && (
          <g>
            <line className={classes.now} x1={place(at.time)} x2={place(at.time)} y1={room.top} y2={floor} />
            <circle className={classes.dot} cx={place(at.time)} cy={y(at.uvi)} r={5.5} />
          </g>
        )}
      </svg>
    </div>
  );
}
