// Who lives here: species, number, and where this group differs from its sheet.
import { Button, Select, SimpleGrid } from '@mantine/core';
import { memo } from 'react';
import type { Animal, Problem } from '../api/schema';
import { Panel } from '../parts/Panel';
import { SpeciesSearch, speciesName } from '../parts/SpeciesSearch';
import { Nothing } from '../parts/Waiting';
import { SpeciesName } from '../species/SpeciesName';
import classes from './AnimalsPanel.module.css';
import { problemsAt } from './edit/problems';
import type { ChangeDocument } from './edit/useEditing';
import { without } from './edit/without';
import { LengthField, NumberField } from './forms/fields';
import { Problems } from './forms/Problems';

type Props = {
  animals: readonly Animal[];
  problems: readonly Problem[];
  onChange: ChangeDocument;
  onEnd: () => void;
};

const zones = [[1], [1, 2], [2], [2, 3], [3], [3, 4], [4]];
const zoneKey = (zone: readonly number[] | undefined) => zone?.join(',') ?? '';
const climbing = [
  { value: '', label: 'as its species' },
  { value: 'yes', label: 'climbs' },
  { value: 'no', label: 'stays on the ground' },
];

export const idOf = ({ species }: Animal) =>
  typeof species === 'string' ? species : (species.id ?? 'own sheet');

export const AnimalsPanel = memo(function AnimalsPanel({ animals, problems, onChange, onEnd }: Props) {
  const change = (i: number, what: string, to: (animal: Animal) => Animal) =>
    onChange(
      `animals: ${what}`,
      (now) => ({ ...now, animals: now.animals?.map((animal, j) => (i === j ? to(animal) : animal)) }),
      `animal ${i} ${what}`,
    );
  const remove = (i: number) =>
    onChange('take an animal out', (now) => ({ ...now, animals: now.animals?.filter((_, j) => j !== i) }));
  return (
    <Panel title="Animals">
      {animals.length === 0 && <Nothing>Nobody lives here yet, so there is nothing to judge.</Nothing>}
      <ul className={classes.animals}>
        {animals.map((animal, i) => {
          const of = idOf(animal).replaceAll('_', ' ');
          return (
            <li key={`${idOf(animal)}-${i}`} className={classes.animal}>
              <div className={classes.head}>
                <SpeciesName id={idOf(animal)} />
                <Button size="compact-xs" variant="default" onClick={() => remove(i)}>
                  Take out<span className={classes.hidden}> {of}</span>
                </Button>
              </div>
              <Problems problems={problemsAt(problems, 'animals', i)} />
              <SimpleGrid cols={2} spacing={8}>
                <NumberField
                  label="How many"
                  of={of}
                  value={animal.count}
                  min={1}
                  step={1}
                  digits={0}
                  placeholder="1"
                  onChange={(count) => change(i, 'number', (now) => ({ ...now, count: count ?? 1 }))}
                  onEnd={onEnd}
                />
                <LengthField
                  label="Back height"
                  of={of}
                  value={animal.back_height_cm}
                  min={0.1}
                  placeholder="as its species"
                  onChange={(cm) => change(i, 'back height', (now) => ({ ...now, back_height_cm: cm ?? 1 }))}
                  onEnd={onEnd}
                />
                <Select
                  size="xs"
                  label="Climbing"
                  aria-label={`${of}: climbing`}
                  data={climbing}
                  allowDeselect={false}
                  value={animal.climbs === undefined ? '' : animal.climbs ? 'yes' : 'no'}
                  onChange={(value) =>
                    change(i, 'climbing', (now) =>
                      value === '' || value === null
                        ? without(now, 'climbs')
                        : { ...now, climbs: value === 'yes' },
                    )
                  }
                />
                <Select
                  size="xs"
                  label="UV zone"
                  aria-label={`${of}: UV zone`}
                  data={[
                    { value: '', label: animal.band ? 'own band' : 'as its species' },
                    ...zones.map((zone) => ({ value: zoneKey(zone), label: zone.join(' to ') })),
                  ]}
                  allowDeselect={false}
                  value={zoneKey(animal.zone)}
                  onChange={(value) =>
                    change(i, 'zone', (now) =>
                      value === '' || value === null
                        ? without(now, 'zone')
                        : { ...now, zone: value.split(',').map(Number) },
                    )
                  }
                />
              </SimpleGrid>
            </li>
          );
        })}
      </ul>
      <SpeciesSearch
        label="Add an animal"
        onChoose={(sheet) =>
          onChange(`add ${speciesName(sheet)}`, (now) => ({
            ...now,
            animals: [...(now.animals ?? []), { species: sheet.id, count: 1 }],
          }))
        }
      />
    </Panel>
  );
});
