// The fields that a piece's form is made of. Typing in one field is one stroke: one step to take back.
import { NumberInput, Select, SimpleGrid } from '@mantine/core';
import type { MaterialName, Vec3 } from '../../api/schema';
import { fromCm, toCm, useLengthUnit } from '../../parts/units';

export type FieldProps<T> = {
  label: string;
  of: string; // the piece's name: what a screen reader says first
  value: T;
  onChange: (value: T) => void;
  onEnd?: (() => void) | undefined;
};

const least_cm = 0.06; // what is shown to a tenth is not changed by being shown

type LengthProps = FieldProps<number | undefined> & { min?: number; placeholder?: string };

export function LengthField({ label, of, value, onChange, onEnd, min, placeholder }: LengthProps) {
  const [unit] = useLengthUnit();
  return (
    <NumberInput
      size="xs"
      label={`${label}, ${unit}`}
      aria-label={`${of}: ${label.toLowerCase()}, ${unit}`}
      step={unit === 'cm' ? 1 : 0.5}
      decimalScale={2}
      {...(min !== undefined && { min: fromCm(min, unit) })}
      {...(placeholder !== undefined && { placeholder })}
      value={value === undefined ? '' : Number(fromCm(value, unit).toFixed(unit === 'cm' ? 1 : 2))}
      onBlur={onEnd}
      onChange={(shown) => {
        if (typeof shown !== 'number') return;
        const cm = toCm(shown, unit);
        if (value === undefined || Math.abs(cm - value) > least_cm) onChange(cm);
      }}
    />
  );
}

type NumberProps = FieldProps<number | undefined> & {
  min?: number;
  max?: number;
  step?: number;
  digits?: number;
  placeholder?: string;
  onClear?: () => void; // there where the field may be left empty
};

export function NumberField({
  label,
  of,
  value,
  onChange,
  onEnd,
  onClear,
  digits = 2,
  ...rest
}: NumberProps) {
  return (
    <NumberInput
      size="xs"
      label={label}
      aria-label={`${of}: ${label.toLowerCase()}`}
      decimalScale={digits}
      {...rest}
      value={value ?? ''}
      onBlur={onEnd}
      onChange={(shown) => {
        if (typeof shown === 'number' && shown !== value) onChange(shown);
        if (shown === '' && value !== undefined) onClear?.();
      }}
    />
  );
}

const ways = [
  { axis: 0, label: 'From left' },
  { axis: 1, label: 'From front' },
  { axis: 2, label: 'Height' },
] as const;

type PlaceProps = FieldProps<Vec3> & { words?: readonly [string, string, string]; min?: number };

export function PlaceFields({ label, of, value, words, min, onChange, onEnd }: PlaceProps) {
  return (
    <SimpleGrid cols={3} spacing={8} role="group" aria-label={`${of}: ${label}`}>
      {ways.map(({ axis, label: way }) => (
        <LengthField
          key={axis}
          label={words?.[axis] ?? (label === '' ? way : `${label}: ${way.toLowerCase()}`)}
          of={of}
          value={value[axis]}
          {...(min !== undefined && { min })}
          onEnd={onEnd}
          onChange={(cm) => {
            const place: [number, number, number] = [...value];
            place[axis] = cm ?? 0;
            onChange(place);
          }}
        />
      ))}
    </SimpleGrid>
  );
}

export type Option = { value: string; label: string };

type ChoiceProps = FieldProps<MaterialName | undefined> & { options: readonly Option[]; none?: string };
const own = 'defined in this document';

// A name of a library; what the document defines itself stays as it is until another is chosen.
export function ChoiceField({ label, of, value, options, none, onChange }: ChoiceProps) {
  const isOwn = typeof value === 'object';
  const data = [
    ...(none !== undefined ? [{ value: '', label: none }] : []),
    ...options,
    ...(isOwn ? [{ value: own, label: own }] : []),
  ];
  const known = isOwn ? own : (value ?? '');
  const all = data.some((option) => option.value === known)
    ? data
    : [...data, { value: known, label: known.replaceAll('_', ' ') }];
  return (
    <Select
      size="xs"
      label={label}
      aria-label={`${of}: ${label.toLowerCase()}`}
      data={all}
      value={known}
      searchable={all.length > 8}
      allowDeselect={false}
      checkIconPosition="right"
      comboboxProps={{ withinPortal: true }}
      onChange={(chosen) => {
        if (chosen === null || chosen === own) return;
        onChange(chosen === '' ? undefined : chosen);
      }}
    />
  );
}
