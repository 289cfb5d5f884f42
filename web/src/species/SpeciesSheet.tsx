import type { ReactNode } from 'react';
import { useSpecies } from '../api/queries';
import type { Species } from '../api/schema';
import { RangeStrip } from '../parts/RangeStrip';
import { showValue } from '../parts/quantities';
import {
  showLength,
  showTemperatures,
  useLengthUnit,
  useTemperatureUnit,
  type LengthUnit,
  type TemperatureUnit,
} from '../parts/units';
import { Failure, Loading } from '../parts/Waiting';
import { KeptHere } from './KeptHere';
import classes from './SpeciesSheet.module.css';

type Row = { field: string; title: string; value: ReactNode };

const words = (text: string) => text.replaceAll('_', ' ');

function zoneWords(zones: readonly number[]): string {
  if (zones.length === 0) return 'unknown';
  return zones.length === 1 ? `zone ${zones[0] ?? ''}` : `between zones ${zones.join(' and ')}`;
}

export function rowsOf(sheet: Species, unit: LengthUnit, degrees: TemperatureUnit): Row[] {
  const warmth = (range: readonly [number, number] | null) => range && showTemperatures(range, degrees);
  const rows: Row[] = [
    { field: 'zones', title: 'UV zone', value: zoneWords(sheet.zones) },
    {
      field: 'zones',
      title: 'Band where it basks',
      value: sheet.band && `${showValue('uvi', sheet.band[0])}–${showValue('uvi', sheet.band[1])} UVI`,
    },
    {
      field: 'back_height_cm',
      title: 'Back height',
      value: sheet.back_height_cm === null ? null : showLength(sheet.back_height_cm, unit),
    },
    { field: 'climbs', title: 'Climbs', value: sheet.climbs ? 'yes' : 'no' },
    { field: 'basking_surface_c', title: 'Basking surface', value: warmth(sheet.basking_surface_c) },
    { field: 'air_warm_c', title: 'Air, warm end', value: warmth(sheet.air_warm_c) },
    { field: 'air_cool_c', title: 'Air, cool end', value: warmth(sheet.air_cool_c) },
    { field: 'night_c', title: 'Night', value: warmth(sheet.night_c) },
    { field: 'photoperiod', title: 'Photoperiod', value: sheet.photoperiod },
    { field: 'habit', title: 'Habit', value: words(sheet.habit) },
    { field: 'activity', title: 'Activity', value: words(sheet.activity) },
    { field: 'habitat', title: 'Habitat', value: words(sheet.habitat) },
  ];
  return rows.filter(({ value }) => value !== null && value !== '');
}

function Sheet({ sheet }: { sheet: Species }) {
  const [unit] = useLengthUnit();
  const [degrees] = useTemperatureUnit();
  return (
    <article aria-label={sheet.scientific_name}>
      <h2 className={classes.name}>{sheet.common_names[0] ?? sheet.scientific_name}</h2>
      <p className={classes.also}>
        <i>{sheet.scientific_name}</i>, {sheet.family}
        {sheet.common_names.length > 1 && `; also ${sheet.common_names.slice(1).join(', ')}`}
        {sheet.synonyms.length > 0 && `; formerly ${sheet.synonyms.join(', ')}`}
      </p>
      {sheet.estimate && (
        <p className={classes.estimate}>
          An estimate: nobody listed this species. Every value was derived from its relatives, named beside
          it.
        </p>
      )}
      <div className={classes.strip}>
        <RangeStrip band={sheet.band} ceiling={sheet.ceiling} marks={[]} />
      </div>
      <table className={classes.values}>
        <thead>
          <tr>
            <th scope="col">Value</th>
            <th scope="col">
              <span className={classes.hidden}>Amount</span>
            </th>
            <th scope="col">Confidence</th>
            <th scope="col">Source</th>
          </tr>
        </thead>
        <tbody>
          {rowsOf(sheet, unit, degrees).map(({ field, title, value }) => (
            <tr key={title}>
              <th scope="row">{title}</th>
              <td>{value}</td>
              <td>{sheet.sources[field]?.confidence ?? 'not stated'}</td>
              <td className={classes.source}>{sheet.sources[field]?.source ?? 'not stated'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {sheet.note !== '' && <p>{sheet.note}</p>}
      <KeptHere species={sheet.id} />
      <p className={classes.also}>
        Guidance from the literature or from memory, as said beside each value; it does not replace a reptile
        vet.
      </p>
    </article>
  );
}

export function SpeciesSheet({ id }: { id: string }) {
  const { data, error, isPending, refetch } = useSpecies(id);
  if (isPending) return <Loading what="the sheet" lines={8} />;
  if (error) return <Failure error={error} retry={() => void refetch()} />;
  return <Sheet sheet={data} />;
}
