// Readings of a lamp over its hours, its decay with the 90 % interval, where the band begins, and the hours at which it
// leaves. Readable in greys: readings are marks, the curve a line, the interval a tint, the band a labelled line.
import { useElementSize } from '@mantine/hooks';
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import type { LampForecast } from '../api/schema';
import { daysBetween } from './days';
import classes from './DecayChart.module.css';
import { decayOf, tellingSpot } from './decay';
import { leavingWords } from './lampWords';

const height = 260;
const edge = { left: 40, right: 14, top: 14, bottom: 38 };
const steps = 48;

type Props = { forecast: LampForecast; hours_on: number; today: string };

// The hours the lamp will have burned on a day, from those it has now.
const hoursOn = (day: string, { forecast, hours_on, today }: Props) =>
  (forecast.hours ?? 0) + daysBetween(today, day) * hours_on;

export function DecayChart(props: Props) {
  const { forecast } = props;
  const { ref, width } = useElementSize();
  const telling = tellingSpot(forecast);
  const { life } = forecast;
  if (!telling || !life) return null;
  const own = forecast.readings.filter(({ spot }) => spot === telling.id);
  const decay = decayOf(own, life);
  if (!decay) return null;
  const low = telling.spot?.low ?? null;
  const now = forecast.hours;
  const [early, late] = life.leaves_band?.interval ?? [null, null];
  const read = Math.max(...forecast.readings.map(({ hours }) => hours));
  const leaves = life.leaves_band?.hours ?? 0;
  // The curve is drawn no further than six times what the readings span, nor than anybody plans.
  const end = Math.min(Math.max(read, now ?? 0, leaves) * 1.08, 6 * Math.max(read, 500));
  const top = Math.max(decay.between(0)[1], low ?? 0, ...forecast.readings.map(({ value }) => value)) * 1.08;
  const x = scaleLinear([0, end], [edge.left, Math.max(edge.left + 1, width - edge.right)]);
  const y = scaleLinear([0, top], [height - edge.bottom, edge.top]);
  const hours = Array.from({ length: steps + 1 }, (_, i) => (i * end) / steps);
  const tint = area<number>()
    .x((h) => x(h))
    .y0((h) => y(decay.between(h)[0]))
    .y1((h) => y(decay.between(h)[1]));
  const curve = line<number>()
    .x((h) => x(h))
    .y((h) => y(decay.at(h)));
  const within = (h: number) => Math.min(end, Math.max(0, h));
  const name = telling.spot?.name ?? telling.id;
  const words = `UVI at ${name} over the lamp’s hours: ${own.length} readings from ${Math.min(...own.map((r) => r.value))} to ${Math.max(...own.map((r) => r.value))}. ${leavingWords(life)}.`;
  return (
    <figure className={classes.chart} ref={ref}>
      <svg width="100%" height={height} role="img" aria-label={words}>
        {y.ticks(5).map((tick) => (
          <g key={tick}>
            <line className={classes.grid} x1={edge.left} x2={width - edge.right} y1={y(tick)} y2={y(tick)} />
            <text className={classes.side} x={edge.left - 6} y={y(tick) + 4}>
              {tick}
            </text>
          </g>
        ))}
        {x.ticks(Math.max(2, width / 110)).map((tick) => (
          <text key={tick} className={classes.foot} x={x(tick)} y={height - edge.bottom + 18}>
            {tick.toLocaleString('en')}
          </text>
        ))}
        <text className={classes.foot} x={(edge.left + width - edge.right) / 2} y={height - 4}>
          hours burned
        </text>
        <path className={classes.tint} d={tint(hours) ?? ''} />
        <path className={classes.curve} d={curve(hours) ?? ''} />
        {low !== null && low > 0 && (
          <>
            <line className={classes.band} x1={edge.left} x2={width - edge.right} y1={y(low)} y2={y(low)} />
            <text className={classes.word} x={edge.left + 4} y={y(low) + 15}>
              band begins at {low}
            </text>
            {early && (
              <line
                className={classes.leaving}
                x1={x(within(hoursOn(early, props)))}
                x2={x(within(late ? hoursOn(late, props) : end))}
                y1={y(low)}
                y2={y(low)}
              />
            )}
          </>
        )}
        {now !== null && (
          <>
            <line
              className={classes.now}
              x1={x(within(now))}
              x2={x(within(now))}
              y1={edge.top}
              y2={height - edge.bottom}
            />
            <text className={classes.now_word} x={x(within(now)) - 5} y={edge.top + 8}>
              now
            </text>
          </>
        )}
        {forecast.readings.map((reading) => (
          <circle
            key={`${reading.spot} ${reading.taken_at} ${reading.value}`}
            className={reading.spot === telling.id ? classes.reading : classes.other}
            cx={x(reading.hours)}
            cy={y(reading.value)}
            r="4.5"
          >
            <title>{`${reading.value} at ${Math.round(reading.hours)} h`}</title>
          </circle>
        ))}
      </svg>
      <figcaption>
        UVI at {name}. The tint is the 90 % interval of the decay
        {early &&
          low !== null &&
          '; the thick part of the band’s line is when it leaves, with 90 % certainty'}
        .{forecast.readings.length > own.length && ' Hollow marks are readings at other spots.'}
      </figcaption>
    </figure>
  );
}
