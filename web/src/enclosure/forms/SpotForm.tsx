import { SimpleGrid } from '@mantine/core';
import type { Enclosure, Spot } from '../../api/schema';
import { without } from '../edit/without';
import { ChoiceField, LengthField } from './fields';

type Props = {
  spot: Spot;
  of: string;
  enclosure: Enclosure;
  onChange: (what: string, to: (spot: Spot) => Spot) => void;
  onEnd: () => void;
};

const roles = [
  { value: 'bask', label: 'To bask' },
  { value: 'retreat', label: 'To retreat' },
  { value: 'other', label: 'Other' },
] as const;

export function SpotForm({ spot, of, enclosure, onChange, onEnd }: Props) {
  const species = (enclosure.animals ?? []).flatMap((animal) =>
    typeof animal.species === 'string' ? [animal.species] : (animal.species.id ?? []),
  );
  return (
    <SimpleGrid cols={3} spacing={8}>
      <ChoiceField
        label="Used"
        of={of}
        value={spot.role ?? 'other'}
        options={roles}
        onChange={(role) => onChange('use', (now) => ({ ...now, role: role as NonNullable<Spot['role']> }))}
      />
      <LengthField
        label="Read above it"
        of={of}
        value={spot.height_cm}
        min={0}
        placeholder="back height"
        onChange={(cm) => onChange('reading height', (now) => ({ ...now, height_cm: cm ?? 0 }))}
        onEnd={onEnd}
      />
      {species.length > 1 && (
        <ChoiceField
          label="Whose"
          of={of}
          value={spot.animal}
          none="the first animal’s"
          options={species.map((id) => ({ value: id, label: id.replaceAll('_', ' ') }))}
          onChange={(animal) =>
            onChange('animal', (now) =>
              typeof animal === 'string' ? { ...now, animal } : without(now, 'animal'),
            )
          }
        />
      )}
    </SimpleGrid>
  );
}
