// Lamps with their places as number fields: the way to move one by keyboard, and exactly.
import { NumberInput } from '@mantine/core';
import type { Enclosure, Lamp, Vec3 } from '../api/schema';
import { fromCm, showLength, toCm, useLengthUnit } from '../parts/units';
import { Nothing } from '../parts/Waiting';
import { nameOf } from './document';
import classes from './LampList.module.css';

type Props = {
  enclosure: Enclosure;
  chosen: string | null;
  onChoose: (id: string) => void;
  onMove: (id: string, centre_cm: Vec3) => void;
};

const fields = [
  { axis: 0, label: 'From left' },
  { axis: 1, label: 'From front' },
  { axis: 2, label: 'Height' },
] as const;

function kindWords(lamp: Lamp): string {
  const parts: string[] = [lamp.kind];
  if (typeof lamp.spectrum === 'string') parts.push(lamp.spectrum.replaceAll('_', ' '));
  if (lamp.power_w !== undefined) parts.push(`${lamp.power_w} W`);
  return parts.join(', ');
}

function outputWords(lamp: Lamp, unit: 'cm' | 'in'): string {
  const output = Array.isArray(lamp.output) ? (lamp.output as Lamp['output'][])[0] : lamp.output;
  if (!output || Array.isArray(output) || !('at_cm' in output)) return 'output unknown: counts as dark';
  const at = `at ${showLength(output.at_cm, unit)}`;
  if (output.uvi !== undefined) return `UVI ${output.uvi} ${at}`;
  if (output.lux !== undefined) return `${output.lux.toLocaleString('en')} lx ${at}`;
  return `${output.irradiance_w_m2 ?? 0} W/m² ${at}`;
}

export function LampList({ enclosure, chosen, onChoose, onMove }: Props) {
  const [unit] = useLengthUnit();
  const lamps = enclosure.lamps ?? [];
  if (lamps.length === 0) return <Nothing>No lamps.</Nothing>;
  return (
    <ul className={classes.list}>
      {lamps.map((lamp) => (
        <li key={lamp.id} data-chosen={lamp.id === chosen} className={classes.lamp}>
          <b>{nameOf(lamp)}</b>
          <span className={classes.soft}>
            {kindWords(lamp)}; {outputWords(lamp, unit)}
          </span>
          <div className={classes.fields}>
            {fields.map(({ axis, label }) => (
              <NumberInput
                key={axis}
                size="xs"
                label={`${label}, ${unit}`}
                aria-label={`${nameOf(lamp)}: ${label.toLowerCase()}, ${unit}`}
                step={unit === 'cm' ? 1 : 0.5}
                decimalScale={1}
                value={Number(fromCm(lamp.centre_cm[axis], unit).toFixed(1))}
                onFocus={() => onChoose(lamp.id)}
                onChange={(value) => {
                  if (typeof value !== 'number') return;
                  const centre: [number, number, number] = [...lamp.centre_cm];
                  centre[axis] = toCm(value, unit);
                  if (Math.abs(centre[axis] - lamp.centre_cm[axis]) > 0.06) onMove(lamp.id, centre);
                }}
              />
            ))}
          </div>
        </li>
      ))}
    </ul>
  );
}
