import { SimpleGrid, Text } from '@mantine/core';
import { useMaterials } from '../../api/queries';
import type { Screen } from '../../api/schema';
import { without } from '../edit/without';
import { ChoiceField, NumberField, PlaceFields } from './fields';

type Props = {
  screen: Screen;
  of: string;
  onChange: (what: string, to: (screen: Screen) => Screen) => void;
  onEnd: () => void;
};

type Sort = 'mesh' | 'pane' | 'measured';
const sorts = [
  { value: 'mesh', label: 'Wire mesh' },
  { value: 'pane', label: 'Clear pane' },
  { value: 'measured', label: 'Measured share' },
] as const;

const sortOf = (screen: Screen): Sort => (screen.mesh ? 'mesh' : screen.pane ? 'pane' : 'measured');

// A screen is a mesh or a pane; without either, what it lets through was measured.
export function withSort({ mesh, pane, transmittance, ...screen }: Screen, sort: Sort): Screen {
  if (sort === 'mesh') return { ...screen, mesh: mesh ?? { pitch_mm: 2, wire_mm: 0.4 } };
  if (sort === 'pane') return { ...screen, pane: pane ?? { material: 'float_glass', thickness_mm: 4 } };
  return { ...screen, transmittance: transmittance ?? 0.7 };
}

export function ScreenForm({ screen, of, onChange, onEnd }: Props) {
  const materials = useMaterials();
  const { mesh, pane } = screen;
  const panes = (materials.data?.materials ?? []).filter((material) => material.pane);
  return (
    <>
      <SimpleGrid cols={3} spacing={8}>
        <ChoiceField
          label="Made of"
          of={of}
          value={sortOf(screen)}
          options={sorts}
          onChange={(sort) => onChange('kind', (now) => withSort(now, sort as Sort))}
        />
        {mesh && (
          <>
            <NumberField
              label="Wire to wire, mm"
              of={of}
              value={mesh.pitch_mm}
              min={0.1}
              step={0.5}
              onChange={(mm) =>
                onChange('mesh', (now) => ({ ...now, mesh: { ...mesh, pitch_mm: mm ?? mesh.pitch_mm } }))
              }
              onEnd={onEnd}
            />
            <NumberField
              label="Wire, mm"
              of={of}
              value={mesh.wire_mm}
              min={0.01}
              step={0.1}
              onChange={(mm) =>
                onChange('wire', (now) => ({ ...now, mesh: { ...mesh, wire_mm: mm ?? mesh.wire_mm } }))
              }
              onEnd={onEnd}
            />
          </>
        )}
        {pane && (
          <>
            <ChoiceField
              label="Material"
              of={of}
              value={pane.material}
              options={panes.map(({ id, name }) => ({ value: id, label: name }))}
              onChange={(material) =>
                onChange('material', (now) => ({
                  ...now,
                  pane: { ...pane, material: material ?? pane.material },
                }))
              }
            />
            <NumberField
              label="Thickness, mm"
              of={of}
              value={pane.thickness_mm}
              min={0.1}
              step={0.5}
              onChange={(mm) =>
                onChange('thickness', (now) => ({
                  ...now,
                  pane: { ...pane, thickness_mm: mm ?? pane.thickness_mm },
                }))
              }
              onEnd={onEnd}
            />
          </>
        )}
        <NumberField
          label="Lets through, share"
          of={of}
          value={screen.transmittance}
          min={0}
          max={1}
          step={0.05}
          placeholder="computed"
          onChange={(share) => onChange('share', (now) => ({ ...now, transmittance: share ?? 1 }))}
          onEnd={onEnd}
          {...((mesh ?? pane) && {
            onClear: () => onChange('share', (now) => without(now, 'transmittance')),
          })}
        />
      </SimpleGrid>
      <PlaceFields
        label="near corner"
        of={of}
        value={screen.min_cm}
        words={['Left edge', 'Front edge', 'Underside']}
        onChange={(min_cm) => onChange('corner', (now) => ({ ...now, min_cm }))}
        onEnd={onEnd}
      />
      <PlaceFields
        label="far corner"
        of={of}
        value={screen.max_cm}
        words={['Right edge', 'Back edge', 'Upper side']}
        onChange={(max_cm) => onChange('corner', (now) => ({ ...now, max_cm }))}
        onEnd={onEnd}
      />
      <Text size="sm" c="dimmed">
        A screen is flat: one pair of edges is the same. A measured share replaces what mesh or pane would let
        through.
      </Text>
    </>
  );
}
