// The site: what it is called, where it lies, how often it is surveyed; its rooms; another site.
import { Button, NumberInput, Textarea, TextInput } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useState, type SyntheticEvent } from 'react';
import { newKey, post, put } from '../api/client';
import { useDoing } from '../api/record';
import type { Site } from '../api/schema';
import { AskDialog, Refused } from '../parts/AskDialog';
import { mayManage, useSiteChoice } from '../parts/site';
import { onlySaid, said } from './fields';
import formClasses from './Forms.module.css';
import { RoomList } from './RoomList';
import classes from './SettingsPage.module.css';
import type { Here } from './SettingsPage';

const zones = Intl.supportedValuesOf('timeZone');

// Comes anew with every revision; `isKept`: this one was just written here.
function SiteForm({
  site,
  isKept,
  onKept,
}: {
  site: Site;
  isKept: boolean;
  onKept: (revision: number) => void;
}) {
  const queries = useQueryClient();
  const [name, setName] = useState(site.name);
  const [zone, setZone] = useState(site.time_zone ?? '');
  const [lat, setLat] = useState<number | string>(site.lat_deg ?? '');
  const [lon, setLon] = useState<number | string>(site.lon_deg ?? '');
  const [elevation, setElevation] = useState<number | string>(site.elevation_m ?? '');
  const [every, setEvery] = useState<number | string>(site.survey_every_days ?? '');
  const [note, setNote] = useState(site.note ?? '');
  const change = useDoing(async () => {
    const { revision } = await put(
      '/api/sites/{id}',
      onlySaid({
        name: name.trim(),
        time_zone: zone,
        lat_deg: said(lat),
        lon_deg: said(lon),
        elevation_m: said(elevation),
        survey_every_days: said(every),
        note: note.trim(),
      }),
      { id: site.id, seen: site.revision },
    );
    onKept(revision);
    await queries.invalidateQueries({ queryKey: ['me'] });
  });
  function submit(event: SyntheticEvent) {
    event.preventDefault();
    change.mutate(undefined);
  }
  return (
    <form aria-label="The site" className={formClasses.form} onSubmit={submit}>
      <TextInput
        label="Name"
        required
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <TextInput
        label="Time zone"
        description="Days and sun windows are in its clock time; such as Europe/Paris"
        list="time-zones"
        value={zone}
        error={
          zone !== '' && !zones.includes(zone) && zone !== 'UTC' ? 'Not a time zone this browser knows' : null
        }
        onChange={(event) => setZone(event.currentTarget.value)}
      />
      <datalist id="time-zones">
        {zones.map((one) => (
          <option key={one} value={one} />
        ))}
      </datalist>
      <div className={formClasses.pair}>
        <NumberInput label="Latitude, ° north" min={-90} max={90} value={lat} onChange={setLat} />
        <NumberInput label="Longitude, ° east" min={-180} max={180} value={lon} onChange={setLon} />
        <NumberInput label="Elevation, m" min={-430} max={9000} value={elevation} onChange={setElevation} />
      </div>
      <NumberInput
        label="Survey its enclosures every … days"
        description="30 where nothing is said; an enclosure may have its own"
        min={1}
        max={1000}
        allowDecimal={false}
        value={every}
        onChange={setEvery}
      />
      <Textarea
        label="Note"
        autosize
        minRows={2}
        value={note}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
      {change.error && <Refused error={change.error} />}
      <div className={formClasses.buttons}>
        <Button type="submit" loading={change.isPending}>
          Keep the changes
        </Button>
        <span aria-live="polite">{isKept && 'Kept.'}</span>
      </div>
    </form>
  );
}

function SiteInWords({ site }: { site: Site }) {
  const lines = [
    ['Time zone', site.time_zone],
    ['Latitude', site.lat_deg === undefined ? undefined : `${site.lat_deg}° north`],
    ['Longitude', site.lon_deg === undefined ? undefined : `${site.lon_deg}° east`],
    ['Elevation', site.elevation_m === undefined ? undefined : `${site.elevation_m} m`],
    ['Surveys', `every ${site.survey_every_days ?? 30} days`],
    ['Note', site.note],
  ].filter(([, value]) => value !== undefined && value !== '');
  return (
    <>
      <h3>{site.name}</h3>
      {lines.map(([name, value]) => (
        <p key={name} className={classes.soft}>
          {name}: {value}
        </p>
      ))}
    </>
  );
}

function NewSiteDialog({ onClose }: { onClose: () => void }) {
  const queries = useQueryClient();
  const [, choose] = useSiteChoice();
  const [key] = useState(newKey);
  const [name, setName] = useState('');
  const make = useDoing(async () => {
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    const site = await post('/api/sites', { name: name.trim(), time_zone: zone }, { key });
    await queries.invalidateQueries({ queryKey: ['me'] });
    choose(site.id);
  });
  return (
    <AskDialog
      title="Another site"
      act="Add the site"
      onAct={() => make.mutateAsync(undefined)}
      onClose={onClose}
    >
      <TextInput
        label="Name"
        description="A place with its own people and collection"
        required
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
      />
    </AskDialog>
  );
}

export function SitePart({ here: { site, role } }: { here: Here }) {
  const [isAdding, setAdding] = useState(false);
  const [kept, setKept] = useState<number | null>(null);
  return (
    <>
      <div>
        <h2>Site</h2>
        {mayManage(role) ? (
          <>
            <SiteForm key={site.revision} site={site} isKept={kept === site.revision} onKept={setKept} />
            <p>
              <Button variant="subtle" onClick={() => setAdding(true)}>
                Another site…
              </Button>
            </p>
          </>
        ) : (
          <SiteInWords site={site} />
        )}
      </div>
      <RoomList here={{ site, role }} />
      {isAdding && <NewSiteDialog onClose={() => setAdding(false)} />}
    </>
  );
}
