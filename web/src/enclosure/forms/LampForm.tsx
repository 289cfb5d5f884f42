import { SimpleGrid, Text } from '@mantine/core';
import { useSpectra } from '../../api/queries';
import type { Lamp, Output } from '../../api/schema';
import { ChoiceField, LengthField, NumberField, type Option } from './fields';

type Props = {
  lamp: Lamp;
  of: string;
  onChange: (what: string, to: (lamp: Lamp) => Lamp) => void;
  onEnd: () => void;
};

const kinds: readonly Option[] = [
  { value: 'tube', label: 'Tube' },
  { value: 'coil', label: 'Compact' },
  { value: 'spot', label: 'Spot' },
  { value: 'bar', label: 'Bar of LEDs' },
];
const measures = [
  { value: 'uvi', label: 'UVI' },
  { value: 'lux', label: 'Light, lx' },
  { value: 'irradiance_w_m2', label: 'Radiation, W/m²' },
] as const;
type Measure = (typeof measures)[number]['value'];

const common = [
  'id',
  'name',
  'kind',
  'centre_cm',
  'aim',
  'spectrum',
  'output',
  'power_w',
  'hours_on',
  'installed',
  'age_factor',
  'heat_kind',
  'thermostat_c',
];
const ownFields: Record<Lamp['kind'], readonly string[]> = {
  tube: ['length_cm', 'diameter_cm', 'spread', 'along'],
  coil: ['length_cm', 'diameter_cm', 'along'],
  spot: ['diameter_cm', 'beam_deg'],
  bar: ['length_cm', 'count', 'beam_deg', 'along'],
};
const firstValues: Record<Lamp['kind'], Partial<Lamp>> = {
  tube: { length_cm: 55, diameter_cm: 1.6, spectrum: 'fluorescent_uvb_mid' },
  coil: { length_cm: 9, diameter_cm: 5, spectrum: 'fluorescent_uvb_mid' },
  spot: { diameter_cm: 9, beam_deg: 60, spectrum: 'halogen' },
  bar: { length_cm: 55, count: 24, beam_deg: 120, spectrum: 'led_white' },
};

// A lamp of another kind keeps what that kind has too.
export function withKind(lamp: Lamp, kind: Lamp['kind']): Lamp {
  const kept = Object.entries(lamp).filter(([name]) => [...common, ...ownFields[kind]].includes(name));
  return { ...firstValues[kind], ...(Object.fromEntries(kept) as Lamp), kind };
}

export function firstOutput(lamp: Lamp): Output | undefined {
  return Array.isArray(lamp.output)
    ? (lamp.output as readonly Output[])[0]
    : (lamp.output as Output | undefined);
}

// The reading by which the lamp's strength is known; further ones of a list stay.
export function withOutput(lamp: Lamp, output: Output): Lamp {
  if (!Array.isArray(lamp.output)) return { ...lamp, output };
  return { ...lamp, output: [output, ...(lamp.output as readonly Output[]).slice(1)] };
}

function OutputFields({ lamp, of, onChange, onEnd }: Props) {
  const output = firstOutput(lamp);
  const measure: Measure = measures.find(({ value }) => output?.[value] !== undefined)?.value ?? 'uvi';
  const more = Array.isArray(lamp.output) ? lamp.output.length - 1 : 0;
  const say = (next: Output) => onChange('output', (now) => withOutput(now, next));
  const at_cm = output?.at_cm ?? 30;
  return (
    <>
      <SimpleGrid cols={3} spacing={8}>
        <ChoiceField
          label="Output as"
          of={of}
          value={measure}
          options={measures}
          onChange={(to) => say({ [to as Measure]: output?.[measure] ?? 1, at_cm } as Output)}
        />
        <NumberField
          label="Reading"
          of={of}
          value={output?.[measure]}
          min={0}
          step={measure === 'uvi' ? 0.1 : 100}
          placeholder="unknown"
          onChange={(value) => value !== undefined && value > 0 && say({ [measure]: value, at_cm } as Output)}
          onEnd={onEnd}
        />
        <LengthField
          label="At a distance of"
          of={of}
          value={output ? output.at_cm : undefined}
          min={1}
          onChange={(cm) => say({ [measure]: output?.[measure] ?? 1, at_cm: cm ?? 30 } as Output)}
          onEnd={onEnd}
        />
      </SimpleGrid>
      {!output && (
        <Text size="sm" c="dimmed">
          Without a reading of its strength this lamp counts as dark.
        </Text>
      )}
      {more > 0 && (
        <Text size="sm" c="dimmed">
          {more} more {more === 1 ? 'reading' : 'readings'} of its strength in the document.
        </Text>
      )}
    </>
  );
}

export function LampForm(props: Props) {
  const { lamp, of, onChange, onEnd } = props;
  const spectra = useSpectra();
  const set = (field: keyof Lamp, what: string) => (value: Lamp[keyof Lamp]) =>
    onChange(what, (now) => ({ ...now, [field]: value }));
  const has = (field: string) => ownFields[lamp.kind].includes(field);
  return (
    <>
      <SimpleGrid cols={2} spacing={8}>
        <ChoiceField
          label="Kind"
          of={of}
          value={lamp.kind}
          options={kinds}
          onChange={(kind) => onChange('kind', (now) => withKind(now, kind as Lamp['kind']))}
        />
        <ChoiceField
          label="Spectrum"
          of={of}
          value={lamp.spectrum}
          none="usual for its kind"
          options={(spectra.data?.spectra ?? []).map(({ id, name }) => ({ value: id, label: name }))}
          onChange={set('spectrum', 'spectrum')}
        />
      </SimpleGrid>
      <OutputFields {...props} />
      <SimpleGrid cols={3} spacing={8}>
        {has('length_cm') && (
          <LengthField
            label="Length"
            of={of}
            value={lamp.length_cm}
            min={1}
            onChange={set('length_cm', 'length')}
            onEnd={onEnd}
          />
        )}
        {has('beam_deg') && (
          <NumberField
            label="Beam, degrees"
            of={of}
            value={lamp.beam_deg}
            min={1}
            max={179}
            step={5}
            placeholder="120"
            onChange={set('beam_deg', 'beam')}
            onEnd={onEnd}
          />
        )}
        {has('diameter_cm') && (
          <LengthField
            label="Diameter"
            of={of}
            value={lamp.diameter_cm}
            min={0}
            onChange={set('diameter_cm', 'diameter')}
            onEnd={onEnd}
          />
        )}
        <NumberField
          label="Power, W"
          of={of}
          value={lamp.power_w}
          min={0}
          onChange={set('power_w', 'power')}
          onEnd={onEnd}
        />
        <NumberField
          label="Hours a day"
          of={of}
          value={lamp.hours_on}
          min={0}
          max={24}
          step={0.5}
          placeholder="12"
          onChange={set('hours_on', 'hours')}
          onEnd={onEnd}
        />
      </SimpleGrid>
    </>
  );
}
