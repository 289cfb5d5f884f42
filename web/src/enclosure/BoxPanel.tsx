// The enclosure itself: its size, its walls, where it stands, and what the record keeps about it.
import { NumberInput, Select, SimpleGrid, Switch, Textarea, TextInput } from '@mantine/core';
import { memo } from 'react';
import { useMaterials } from '../api/queries';
import { useMe, useThings } from '../api/record';
import type { ChangedEnclosure, Enclosure, Problem } from '../api/schema';
import { Panel } from '../parts/Panel';
import { problemsAt } from './edit/problems';
import type { Editing } from './edit/useEditing';
import { without } from './edit/without';
import { ChoiceField, NumberField, PlaceFields } from './forms/fields';
import { Problems } from './forms/Problems';
import classes from './BoxPanel.module.css';

// What the panel shows; what stands in the enclosure may move meanwhile.
export const boxOf = ({ document, room, survey_every_days, note }: ChangedEnclosure) => {
  const { id, name, size_cm, walls, outdoors } = document;
  return {
    id,
    name,
    size_cm,
    walls,
    outdoors: outdoors as Outdoors | undefined,
    room,
    survey_every_days,
    note,
  };
};

type Props = Pick<Editing, 'base' | 'change' | 'changeFields' | 'endStroke'> & {
  box: ReturnType<typeof boxOf>;
  problems: readonly Problem[];
};

const walls = [
  ['floor', 'Floor'],
  ['top', 'Top'],
  ['left', 'Left wall'],
  ['right', 'Right wall'],
  ['front', 'Front'],
  ['back', 'Back'],
] as const;

type Outdoors = { lat: number; lon: number; bearing_deg?: number };
const outdoorsOf = (enclosure: Enclosure) => enclosure.outdoors as Outdoors | undefined;

function Walls({ box, change }: Pick<Props, 'box' | 'change'>) {
  const materials = useMaterials();
  const options = [
    { value: 'open', label: 'open' },
    ...(materials.data?.materials ?? []).map(({ id, name }) => ({ value: id, label: name })),
  ];
  return (
    <SimpleGrid cols={2} spacing={8}>
      {walls.map(([wall, label]) => (
        <ChoiceField
          key={wall}
          label={label}
          of="Enclosure"
          value={box.walls?.[wall] ?? (wall === 'top' ? 'open' : 'black')}
          options={options}
          onChange={(material) =>
            change(`${label.toLowerCase()}: material`, (now) => ({
              ...now,
              walls: { ...now.walls, [wall]: material ?? 'black' },
            }))
          }
        />
      ))}
    </SimpleGrid>
  );
}

function OutdoorFields({ base, box, change, endStroke }: Props) {
  const site = useMe().data?.sites.find((one) => one.site.id === base.site)?.site;
  const { outdoors } = box;
  const set = (what: string, fields: Partial<Outdoors>) =>
    change(
      `outdoors: ${what}`,
      (now) => ({ ...now, outdoors: { ...(outdoorsOf(now) ?? { lat: 0, lon: 0 }), ...fields } }),
      `outdoors ${what}`,
    );
  return (
    <>
      <Switch
        label="Stands outdoors, under the sun"
        checked={outdoors !== undefined}
        onChange={(event) => {
          if (event.currentTarget.checked) set('on', { lat: site?.lat_deg ?? 0, lon: site?.lon_deg ?? 0 });
          else change('outdoors: off', (now) => without(now, 'outdoors'));
        }}
      />
      {outdoors && (
        <SimpleGrid cols={3} spacing={8}>
          <NumberField
            label="Latitude, °N"
            of="Outdoors"
            value={outdoors.lat}
            min={-90}
            max={90}
            digits={4}
            onChange={(lat) => set('latitude', { lat: lat ?? 0 })}
            onEnd={endStroke}
          />
          <NumberField
            label="Longitude, °E"
            of="Outdoors"
            value={outdoors.lon}
            min={-180}
            max={180}
            digits={4}
            onChange={(lon) => set('longitude', { lon: lon ?? 0 })}
            onEnd={endStroke}
          />
          <NumberField
            label="Back faces, ° from north"
            of="Outdoors"
            value={outdoors.bearing_deg}
            min={0}
            max={360}
            placeholder="0"
            onChange={(deg) => set('bearing', { bearing_deg: deg ?? 0 })}
            onEnd={endStroke}
          />
        </SimpleGrid>
      )}
    </>
  );
}

function RecordFields({ base, box, changeFields, endStroke }: Props) {
  const rooms = useThings('rooms', { site: base.site ?? undefined });
  const set = (what: string, to: (now: ChangedEnclosure) => ChangedEnclosure) =>
    changeFields(what, to, `record ${what}`);
  return (
    <>
      <SimpleGrid cols={2} spacing={8}>
        <Select
          size="xs"
          label="Room"
          data={[
            { value: '', label: 'none' },
            ...(rooms.data ?? []).map((room) => ({ value: room.id, label: room.name })),
          ]}
          allowDeselect={false}
          value={box.room ?? ''}
          onChange={(room) => set('room', (now) => (room ? { ...now, room } : without(now, 'room')))}
        />
        <NumberInput
          size="xs"
          label="Days between surveys"
          placeholder="as the site"
          min={1}
          decimalScale={0}
          value={box.survey_every_days ?? ''}
          onBlur={endStroke}
          onChange={(days) =>
            set('days between surveys', (now) =>
              typeof days === 'number' && days >= 1
                ? { ...now, survey_every_days: days }
                : without(now, 'survey_every_days'),
            )
          }
        />
      </SimpleGrid>
      <Textarea
        size="xs"
        label="Note"
        autosize
        minRows={2}
        value={box.note ?? ''}
        onBlur={endStroke}
        onChange={(event) => {
          const note = event.currentTarget.value;
          set('note', (now) => (note === '' ? without(now, 'note') : { ...now, note }));
        }}
      />
    </>
  );
}

export const BoxPanel = memo(function BoxPanel(props: Props) {
  const { box, problems, change, endStroke } = props;
  const own = ['size_cm', 'walls', 'outdoors', 'name'].flatMap((list) => problemsAt(problems, list, null));
  return (
    <Panel title="The enclosure">
      <div className={classes.box}>
        <Problems problems={own} />
        <TextInput
          size="xs"
          label="Name"
          value={box.name ?? ''}
          placeholder={box.id}
          onBlur={endStroke}
          onChange={(event) => {
            const name = event.currentTarget.value;
            change('rename', (now) => (name === '' ? without(now, 'name') : { ...now, name }), 'name');
          }}
        />
        <PlaceFields
          label="size"
          of="Enclosure"
          value={box.size_cm}
          words={['Width', 'Depth', 'Height']}
          min={1}
          onChange={(size_cm) => change('size', (now) => ({ ...now, size_cm }), 'size')}
          onEnd={endStroke}
        />
        <Walls box={box} change={change} />
        <OutdoorFields {...props} />
        <RecordFields {...props} />
      </div>
    </Panel>
  );
});
