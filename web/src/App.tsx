// The frame around every screen, and which address shows which screen.
import { ActionIcon, SegmentedControl, useComputedColorScheme, useMantineColorScheme } from '@mantine/core';
import { lazy, Suspense } from 'react';
import { Link, Redirect, Route, Switch, useLocation } from 'wouter';
import classes from './App.module.css';
import { useEvents } from './api/events';
import { useMe } from './api/record';
import { useLengthUnit, type LengthUnit } from './parts/units';
import { Loading, Nothing } from './parts/Waiting';

const TodayPage = lazy(() => import('./today/TodayPage'));
const CollectionPage = lazy(() => import('./collection/CollectionPage'));
const SurveyPage = lazy(() => import('./survey/SurveyPage'));
const LampsPage = lazy(() => import('./lamps/LampsPage'));
const SunPage = lazy(() => import('./sun/SunPage'));
const SettingsPage = lazy(() => import('./settings/SettingsPage'));
const FirstRunPage = lazy(() => import('./first/FirstRunPage'));
const SignInPage = lazy(() => import('./people/SignInPage'));
const InvitedPage = lazy(() => import('./people/InvitedPage'));
const EnclosurePage = lazy(() => import('./enclosure/EnclosurePage'));
const SpeciesPage = lazy(() => import('./species/SpeciesPage'));

const screens = [
  { address: '/today', name: 'Today' },
  { address: '/collection', name: 'Collection' },
  { address: '/survey', name: 'Survey' },
  { address: '/lamps', name: 'Lamps' },
  { address: '/sun', name: 'Sun' },
  { address: '/species', name: 'Species' },
  { address: '/settings', name: 'Settings' },
] as const;

function UnitSwitch() {
  const [unit, setUnit] = useLengthUnit();
  return (
    <SegmentedControl
      size="xs"
      aria-label="Unit of length"
      data={['cm', 'in']}
      value={unit}
      onChange={(value) => setUnit(value as LengthUnit)}
    />
  );
}

function LightSwitch() {
  const { setColorScheme } = useMantineColorScheme();
  const scheme = useComputedColorScheme('light', { getInitialValueInEffect: false });
  const other = scheme === 'dark' ? 'light' : 'dark';
  return (
    <ActionIcon
      variant="default"
      size={30}
      aria-label={`Show in ${other} colours`}
      onClick={() => setColorScheme(other)}
    >
      <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
        <circle cx="8" cy="8" r="6.2" fill="none" stroke="currentColor" strokeWidth="1.5" />
        <path d="M8 1.8a6.2 6.2 0 0 1 0 12.4Z" fill="currentColor" />
      </svg>
    </ActionIcon>
  );
}

export function App() {
  const [address] = useLocation();
  const me = useMe();
  const isStranger = me.data?.person === null && !address.startsWith('/invited');
  useEvents(me.data?.person != null);
  if (isStranger) {
    return (
      <main id="main" className={classes.main}>
        <Suspense fallback={<Loading what="the page" />}>
          <SignInPage />
        </Suspense>
      </main>
    );
  }
  return (
    <>
      <a className={classes.skip} href="#main">
        To the content
      </a>
      <header className={classes.header}>
        <Link href="/today" className={classes.name}>
          Dapple
        </Link>
        <nav aria-label="Screens" className={classes.screens}>
          {screens.map((screen) => (
            <Link
              key={screen.address}
              href={screen.address}
              aria-current={address.startsWith(screen.address) ? 'page' : undefined}
            >
              {screen.name}
            </Link>
          ))}
        </nav>
        <div className={classes.settings}>
          <UnitSwitch />
          <LightSwitch />
        </div>
      </header>
      <main id="main" tabIndex={-1} className={classes.main}>
        <Suspense fallback={<Loading what="the page" />}>
          <Switch>
            <Route path="/">
              <Redirect to="/today" replace />
            </Route>
            <Route path="/today" component={TodayPage} />
            <Route path="/collection" component={CollectionPage} />
            <Route path="/new" component={FirstRunPage} />
            <Route path="/survey">
              <SurveyPage />
            </Route>
            <Route path="/survey/:id">{({ id }) => <SurveyPage key={id} enclosure={id} />}</Route>
            <Route path="/lamps">
              <LampsPage />
            </Route>
            <Route path="/lamps/:id">{({ id }) => <LampsPage id={id} />}</Route>
            <Route path="/sun" component={SunPage} />
            <Route path="/settings" component={SettingsPage} />
            <Route path="/invited" component={InvitedPage} />
            <Route path="/collection/:id">{({ id }) => <EnclosurePage key={id} id={id} />}</Route>
            <Route path="/species">
              <SpeciesPage />
            </Route>
            <Route path="/species/:id">{({ id }) => <SpeciesPage id={id} />}</Route>
            <Route>
              <h1>Nothing here</h1>
              <Nothing>
                No screen has this address. <Link href="/collection">Go to the collection</Link>.
              </Nothing>
            </Route>
          </Switch>
        </Suspense>
      </main>
      <footer className={classes.footer}>
        Values come from a model, not from a vet: a sick, young, albino or gravid animal needs a reptile vet.
        Switch lamps off and let them cool before moving anything; never look into one.
      </footer>
    </>
  );
}
