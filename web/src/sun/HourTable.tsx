// The day by the hour, in numbers.
import type { Sun } from '../api/schema';
import { showValue } from '../parts/quantities';
import { clock } from './clock';
import { sharesAt } from './plan';
import classes from './SunAnswer.module.css';
import { categoryOf } from './whoIndex';

export function CategoryChip({ uvi }: { uvi: number }) {
  const { name, colour, ink } = categoryOf(uvi);
  return (
    <span className={classes.chip} style={{ background: colour, color: ink }}>
      {name}
    </span>
  );
}

export function HourTable({ sun }: { sun: Sun }) {
  const hours = sun.curve.filter(
    ({ time, elevation_deg }) => elevation_deg > 0 && time.slice(14, 16) === '00',
  );
  const { plan } = sun;
  return (
    <div className={classes.scroll} tabIndex={0} role="region" aria-label="The day by the hour">
      <table className={classes.table}>
        <thead>
          <tr>
            <th scope="col">Time</th>
            <th scope="col">Sun, ° high</th>
            {sun.shade && <th scope="col">At the spot</th>}
            <th scope="col">In the open</th>
            <th scope="col">For people</th>
            {plan && <th scope="col">Floor in sun</th>}
            {plan?.share_in_band && <th scope="col">In band</th>}
          </tr>
        </thead>
        <tbody>
          {hours.map(({ time, elevation_deg, uvi, open_uvi }) => (
            <tr key={time}>
              <th scope="row">{clock(time)}</th>
              <td>{Math.round(elevation_deg)}</td>
              {sun.shade && <td>{showValue('uvi', uvi)}</td>}
              <td>{showValue('uvi', open_uvi ?? uvi)}</td>
              <td>
                <CategoryChip uvi={open_uvi ?? uvi} />
              </td>
              {plan && <td>{sharesAt(plan, time).inSun}</td>}
              {plan?.share_in_band && <td>{sharesAt(plan, time).inBand}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
