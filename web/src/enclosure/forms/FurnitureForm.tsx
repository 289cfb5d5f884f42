import { Checkbox, SimpleGrid, Text } from '@mantine/core';
import { useMaterials } from '../../api/queries';
import type { Furniture, Vec3 } from '../../api/schema';
import { without } from '../edit/without';
import { ChoiceField, LengthField, NumberField, PlaceFields } from './fields';

type Props = {
  piece: Furniture;
  of: string;
  onChange: (what: string, to: (piece: Furniture) => Furniture) => void;
  onEnd: () => void;
};

const sides = ['Width', 'Depth', 'Height'] as const;

// A block grows from its near lower corner: it stays standing where it stands.
export const withSize = (piece: Furniture, [w, d, h]: Vec3): Furniture => {
  const [x, y, z] = piece.min_cm ?? [0, 0, 0];
  return { ...piece, max_cm: [x + w, y + d, z + h] };
};

function Extent({ piece, of, onChange, onEnd }: Props) {
  if (piece.from_cm && piece.to_cm) {
    const { from_cm, to_cm } = piece;
    return (
      <>
        <PlaceFields
          label="One end"
          of={of}
          value={from_cm}
          onChange={(place) => onChange('end', (now) => ({ ...now, from_cm: place }))}
          onEnd={onEnd}
        />
        <PlaceFields
          label="Other end"
          of={of}
          value={to_cm}
          onChange={(place) => onChange('end', (now) => ({ ...now, to_cm: place }))}
          onEnd={onEnd}
        />
        <LengthField
          label="Diameter"
          of={of}
          value={piece.diameter_cm}
          min={0.1}
          onChange={(cm) => onChange('diameter', (now) => ({ ...now, diameter_cm: cm ?? 1 }))}
          onEnd={onEnd}
        />
      </>
    );
  }
  if (piece.radii_cm) {
    const [a, b, c] = piece.radii_cm;
    return (
      <PlaceFields
        label="size"
        of={of}
        value={[2 * a, 2 * b, 2 * c]}
        words={sides}
        min={0.2}
        onChange={([w, d, h]) => onChange('size', (now) => ({ ...now, radii_cm: [w / 2, d / 2, h / 2] }))}
        onEnd={onEnd}
      />
    );
  }
  if (piece.min_cm && piece.max_cm) {
    const { min_cm: a, max_cm: b } = piece;
    return (
      <PlaceFields
        label="size"
        of={of}
        value={[b[0] - a[0], b[1] - a[1], b[2] - a[2]]}
        words={sides}
        min={0.1}
        onChange={(size) => onChange('size', (now) => withSize(now, size))}
        onEnd={onEnd}
      />
    );
  }
  return (
    <Text size="sm" c="dimmed">
      Its shape comes from a file.
    </Text>
  );
}

export function FurnitureForm(props: Props) {
  const { piece, of, onChange, onEnd } = props;
  const materials = useMaterials();
  const turn = piece.turn_deg ?? [0, 0, 0];
  return (
    <>
      <Extent {...props} />
      <SimpleGrid cols={3} spacing={8}>
        {piece.shape === 'foliage' ? (
          <NumberField
            label="Leaves, m² in a m³"
            of={of}
            value={piece.leaf_area_density}
            min={0}
            step={0.5}
            placeholder="3"
            onChange={(density) => onChange('leaves', (now) => ({ ...now, leaf_area_density: density ?? 3 }))}
            onEnd={onEnd}
          />
        ) : (
          <ChoiceField
            label="Material"
            of={of}
            value={piece.material}
            none="black"
            options={(materials.data?.materials ?? []).map(({ id, name }) => ({ value: id, label: name }))}
            onChange={(material) =>
              onChange('material', (now) =>
                material === undefined ? without(now, 'material') : { ...now, material },
              )
            }
          />
        )}
        <NumberField
          label="Turned, degrees"
          of={of}
          value={turn[2]}
          step={5}
          onChange={(deg) => onChange('turn', (now) => ({ ...now, turn_deg: [turn[0], turn[1], deg ?? 0] }))}
          onEnd={onEnd}
        />
        {piece.shape !== 'foliage' && (
          <Checkbox
            mt={26}
            size="sm"
            label="To perch on"
            checked={piece.perch ?? false}
            onChange={(event) => {
              const perch = event.currentTarget.checked;
              onChange('perch', (now) => ({ ...now, perch }));
            }}
          />
        )}
      </SimpleGrid>
    </>
  );
}
