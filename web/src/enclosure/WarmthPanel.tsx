// Warmth on the same places as the light: surface and air with their intervals, the night, and what it rests on.
import { memo } from 'react';
import type { AnimalJudgement, Enclosure, Reading, Spot, SpotWarmth } from '../api/schema';
import { Panel } from '../parts/Panel';
import { showTemperature, showTemperatures, useTemperatureUnit } from '../parts/units';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { nameOf } from './document';
import { useWarmth, type Readings } from './asking';
import { isSuperseded, problemsOf } from './edit/problems';
import { latestAt } from './latest';
import classes from './WarmthPanel.module.css';

type Props = {
  enclosure: Enclosure;
  animals: readonly AnimalJudgement[];
  readings: Readings;
  recorded: readonly Reading[];
  round: number;
};

// What the animal whose basking spot it is wants of its surface.
function wantedAt(spot: Spot | undefined, animals: readonly AnimalJudgement[]) {
  if (spot?.role !== 'bask') return null;
  const owner = animals.find(({ species }) => species === spot.animal) ?? animals[0];
  return owner?.basking_surface_c ?? null;
}

function Row({
  warmth,
  enclosure,
  animals,
  read,
}: {
  warmth: SpotWarmth;
  enclosure: Enclosure;
  animals: readonly AnimalJudgement[];
  read: number | undefined;
}) {
  const [unit] = useTemperatureUnit();
  const spot = enclosure.spots?.find(({ id }) => id === warmth.id);
  const goal = wantedAt(spot, animals);
  return (
    <tr>
      <th scope="row">{spot ? nameOf(spot) : warmth.id}</th>
      <td>
        <b>{showTemperature(warmth.surface_c, unit)}</b> <i>{showTemperatures(warmth.interval, unit)}</i>
        {read !== undefined && <i>read {showTemperature(read, unit)}</i>}
        {goal && <i>wanted {showTemperatures(goal, unit)}</i>}
      </td>
      <td>
        {showTemperature(warmth.air_c, unit)} <i>{showTemperatures(warmth.air_interval, unit)}</i>
      </td>
      <td>{showTemperature(warmth.night_c, unit)}</td>
    </tr>
  );
}

export const WarmthPanel = memo(function WarmthPanel({
  enclosure,
  animals,
  readings,
  recorded,
  round,
}: Props) {
  const { data, error, isBehind, refetch } = useWarmth(enclosure, readings, round);
  const read = latestAt(recorded, 'temperature');
  const isRefused = error && !isSuperseded(error) && problemsOf(error).length === 0;
  return (
    <Panel title="Warmth">
      {isRefused && <Failure error={error} retry={() => void refetch()} />}
      {!data && !error && <Loading what="the warmth" />}
      {data?.spots.length === 0 && <Nothing>No spots, so no temperatures.</Nothing>}
      {data && data.spots.length > 0 && (
        <div className={classes.wide} aria-busy={isBehind}>
          <table className={classes.warmth}>
            <thead>
              <tr>
                <th scope="col">Spot</th>
                <th scope="col">Surface</th>
                <th scope="col">Air</th>
                <th scope="col">Night</th>
              </tr>
            </thead>
            <tbody>
              {data.spots.map((warmth) => (
                <Row
                  key={warmth.id}
                  warmth={warmth}
                  enclosure={enclosure}
                  animals={animals}
                  read={read.get(warmth.id)?.value}
                />
              ))}
            </tbody>
          </table>
        </div>
      )}
      {data && (
        <ul className={classes.notes} aria-label="About these temperatures">
          {[...data.notes, ...(data.cannot_tell ?? [])].map((note) => (
            <li key={note}>{note}</li>
          ))}
          <li>A model’s temperature is no substitute for a thermostat and a thermometer.</li>
        </ul>
      )}
    </Panel>
  );
});
