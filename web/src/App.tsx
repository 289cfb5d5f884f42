// The frame around every screen.
import { lazy, Suspense, type ReactNode } from 'react';
import { Link, useLocation } from 'wouter';
import classes from './App.module.css';
import { useEvents } from './api/events';
import { useMe } from './api/record';
import { useSettingsOfPerson } from './frame/ownSettings';
import { PersonMenu } from './frame/PersonMenu';
import { PhoneBar } from './frame/PhoneBar';
import { useReach } from './frame/reach';
import { ScreenBoundary } from './frame/ScreenBoundary';
import { isAt, screens } from './frame/screens';
import { SiteChooser } from './frame/SiteChooser';
import { Unreachable } from './frame/Unreachable';
import { Loading } from './parts/Waiting';
import { Screens } from './Screens';

const SignInPage = lazy(() => import('./people/SignInPage'));
const InvitedPage = lazy(() => import('./people/InvitedPage'));

function Header() {
  const [address] = useLocation();
  return (
    <header className={classes.header}>
      <Link href="/today" className={classes.name}>
        Dapple
      </Link>
      <nav aria-label="Screens" className={classes.screens}>
        {screens.map((screen) => (
          <Link
            key={screen.address}
            href={screen.address}
            aria-current={isAt(address, screen) ? 'page' : undefined}
          >
            {screen.name}
          </Link>
        ))}
      </nav>
      <div className={classes.settings}>
        <SiteChooser />
        <PersonMenu />
      </div>
    </header>
  );
}

function Main({ children }: { children: ReactNode }) {
  const [address] = useLocation();
  return (
    <main id="main" tabIndex={-1} className={classes.main}>
      <ScreenBoundary address={address}>
        <Suspense fallback={<Loading what="the page" />}>{children}</Suspense>
      </ScreenBoundary>
    </main>
  );
}

// Somebody who is not signed in, or comes with an invitation, has no screens yet.
function Threshold({ children }: { children: ReactNode }) {
  return (
    <>
      <header className={classes.header}>
        <span className={classes.name}>Dapple</span>
      </header>
      <Main>{children}</Main>
    </>
  );
}

export function App() {
  const [address] = useLocation();
  const me = useMe();
  const isReached = useReach();
  useEvents(me.data?.person != null);
  useSettingsOfPerson();
  const line = isReached ? null : <Unreachable />;
  if (address.startsWith('/invited')) {
    return (
      <Threshold>
        {line}
        <InvitedPage />
      </Threshold>
    );
  }
  if (me.data?.person === null) {
    return (
      <Threshold>
        {line}
        <SignInPage />
      </Threshold>
    );
  }
  // Out of reach it stays unknown who asks; the screens then show what this device has.
  const isUnknown = me.isPending && me.fetchStatus === 'fetching' && me.failureCount === 0;
  // A round with the meter is done in the dark and with gloves: nothing to touch by mistake there.
  const isRound = /^\/survey\/./.test(address);
  return (
    <>
      <a className={classes.skip} href="#main">
        To the content
      </a>
      {line}
      <Header />
      <Main>{isUnknown ? <Loading what="the page" /> : <Screens />}</Main>
      <footer className={classes.footer}>
        Values come from a model, not from a vet: a sick, young, albino or gravid animal needs a reptile vet.
        Switch lamps off and let them cool before moving anything; never look into one.
      </footer>
      {!isRound && <PhoneBar />}
    </>
  );
}
