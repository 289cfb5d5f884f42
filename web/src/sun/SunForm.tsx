import { Select, Slider, TextInput } from '@mantine/core';
import type { Enclosure, Site } from '../api/schema';
import { Panel } from '../parts/Panel';
import { compassWord } from './direction';
import { ForecastChoice } from './ForecastChoice';
import { cloths, grounds, outdoorsOf, type Fault, type Form } from './question';
import classes from './SunForm.module.css';
import { WhomChoice } from './WhomChoice';

type Props = {
  form: Form;
  sites: readonly Site[]; // those that say where they are
  pens: readonly Enclosure[];
  faults: readonly Fault[];
  onChange: (form: Form) => void;
};

const elsewhere = '(elsewhere)';
const shown = (fault: Fault | undefined, text: string) => (text === '' ? undefined : fault?.words);

function PlaceFields({ form, sites, faults, onChange }: Omit<Props, 'pens'>) {
  const place = (changed: Partial<Form['place']>) =>
    onChange({ ...form, place: { ...form.place, ...changed } });
  const fault = (field: Fault['field']) => faults.find((one) => one.field === field);
  return (
    <>
      {sites.length > 0 && (
        <Select
          label="Site"
          allowDeselect={false}
          data={[
            ...sites.map(({ id, name }) => ({ value: id, label: name })),
            { value: elsewhere, label: 'Somewhere else' },
          ]}
          value={form.site ?? elsewhere}
          onChange={(site) => onChange({ ...form, site: site === elsewhere ? null : site })}
        />
      )}
      {form.site === null && (
        <>
          <div className={classes.pair}>
            <TextInput
              label="Latitude, ° north"
              inputMode="decimal"
              placeholder="48.2"
              value={form.place.lat}
              error={shown(fault('lat'), form.place.lat)}
              onChange={(event) => place({ lat: event.currentTarget.value })}
            />
            <TextInput
              label="Longitude, ° east"
              inputMode="decimal"
              placeholder="16.4"
              value={form.place.lon}
              error={shown(fault('lon'), form.place.lon)}
              onChange={(event) => place({ lon: event.currentTarget.value })}
            />
          </div>
          <TextInput
            label="Time zone"
            description="IANA name; empty: whole hours by longitude"
            value={form.place.timeZone}
            onChange={(event) => place({ timeZone: event.currentTarget.value })}
          />
        </>
      )}
    </>
  );
}

function PenStands({ pen }: { pen: Enclosure }) {
  const stands = outdoorsOf(pen);
  if (!stands) return null;
  return (
    <p className={classes.stands}>
      It stands at {stands.lat.toFixed(2)}, {stands.lon.toFixed(2)}; its back looks{' '}
      {compassWord(stands.bearing_deg)}.
    </p>
  );
}

export function SunForm(props: Props) {
  const { form, pens, faults, onChange } = props;
  const { whom } = form;
  const pen = whom.kind === 'enclosure' ? pens.find(({ id }) => id === whom.id) : undefined;
  const set = (changed: Partial<Form>) => onChange({ ...form, ...changed });
  return (
    <Panel title="Whose day, where and when">
      <form className={classes.form} onSubmit={(event) => event.preventDefault()}>
        <fieldset className={classes.group}>
          <legend>Whose</legend>
          <WhomChoice
            whom={whom}
            pens={pens}
            faults={faults}
            onChange={(changed) => set({ whom: changed })}
          />
        </fieldset>
        <fieldset className={classes.group}>
          <legend>Where and when</legend>
          {pen ? <PenStands pen={pen} /> : <PlaceFields {...props} />}
          <TextInput
            type="date"
            label="Day"
            value={form.date}
            error={faults.find(({ field }) => field === 'date')?.words}
            onChange={(event) => set({ date: event.currentTarget.value })}
          />
        </fieldset>
        <fieldset className={classes.group}>
          <legend>Sky and shade</legend>
          <span className={classes.sliderName}>Cloud: {form.cloud} % of the sky</span>
          <Slider
            className={classes.slider}
            thumbLabel="Cloud, per cent of the sky"
            label={(value) => `${value} %`}
            step={5}
            marks={[
              { value: 0, label: 'clear' },
              { value: 50, label: 'half' },
              { value: 100, label: 'covered' },
            ]}
            value={form.cloud}
            onChange={(cloud) => set({ cloud })}
          />
          <Select
            label="Shade cloth"
            allowDeselect={false}
            data={cloths.map((shade) => ({
              value: String(shade),
              label: shade === 0 ? 'None' : `${shade} % shade, over the whole top`,
            }))}
            value={String(form.cloth)}
            onChange={(value) => set({ cloth: Number(value ?? 0) })}
          />
          <Select
            label="Ground around"
            allowDeselect={false}
            data={[...grounds]}
            value={form.ground}
            onChange={(value) => set({ ground: value ?? '' })}
          />
          <TextInput
            label="Ozone, Dobson units"
            description="Empty: as usual for the place and the season"
            inputMode="numeric"
            placeholder="as usual"
            value={form.ozone}
            error={faults.find(({ field }) => field === 'ozone')?.words}
            onChange={(event) => set({ ozone: event.currentTarget.value })}
          />
          <ForecastChoice forecast={form.forecast} onChange={(forecast) => set({ forecast })} />
        </fieldset>
      </form>
    </Panel>
  );
}
