// One's own units, the site and what belongs to it, people, imports, the trail. Only what the reader may do is offered.
import { useHash } from '@mantine/hooks';
import type { ReactNode } from 'react';
import { useMe } from '../api/record';
import type { Role, Site } from '../api/schema';
import { mayManage, mayWrite, useSite } from '../parts/site';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { AboutPart } from './AboutPart';
import { ImportPart } from './ImportPart';
import { MetersPart } from './MetersPart';
import { OwnPart } from './OwnPart';
import { PeoplePart } from './PeoplePart';
import classes from './SettingsPage.module.css';
import { SitePart } from './SitePart';
import { TrailPart } from './TrailPart';

export type Here = { site: Site; role: Role };
type Part = { id: string; name: string; show: (here: Here) => ReactNode };

const parts: readonly Part[] = [
  { id: 'you', name: 'You', show: () => <OwnPart /> },
  { id: 'site', name: 'Site and rooms', show: (here) => <SitePart key={here.site.id} here={here} /> },
  { id: 'meters', name: 'Meters', show: (here) => <MetersPart here={here} /> },
  { id: 'people', name: 'People', show: (here) => <PeoplePart here={here} /> },
  {
    id: 'in-and-out',
    name: 'Import and export',
    show: (here) => <ImportPart key={here.site.id} here={here} />,
  },
  { id: 'trail', name: 'Who did what', show: (here) => <TrailPart here={here} /> },
  { id: 'about', name: 'About Dapple', show: () => <AboutPart /> },
];

export default function SettingsPage() {
  const [hash] = useHash({ getInitialValueInEffect: false });
  const me = useMe();
  const here = useSite();
  const shown = parts.find(({ id }) => hash === `#${id}`) ?? parts[0];
  return (
    <>
      <h1>Settings</h1>
      {here && !mayManage(here.role) && (
        <p className={classes.role}>
          You are a {here.role} at {here.site.name}:{' '}
          {mayWrite(here.role)
            ? 'the site itself, people and imports are its managers’ business.'
            : 'you see everything and change only what is your own.'}
        </p>
      )}
      <div className={classes.page}>
        <nav aria-label="Parts of the settings" className={classes.parts}>
          {parts.map((part) => (
            <a key={part.id} href={`#${part.id}`} aria-current={part === shown ? 'true' : undefined}>
              {part.name}
            </a>
          ))}
        </nav>
        <section aria-label={shown?.name} className={classes.part}>
          {me.isPending && <Loading what="the settings" />}
          {me.error && <Failure error={me.error} retry={() => void me.refetch()} />}
          {me.data && (here || shown?.id === 'you' || shown?.id === 'about') ? (
            shown?.show(here as Here)
          ) : me.data ? (
            <Nothing>You belong to no site yet. Its manager can invite you.</Nothing>
          ) : null}
        </section>
      </div>
    </>
  );
}
