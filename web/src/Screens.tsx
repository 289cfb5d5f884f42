// Which address shows which screen.
import { lazy } from 'react';
import { Link, Redirect, Route, Switch } from 'wouter';
import { Nothing } from './parts/Waiting';

const TodayPage = lazy(() => import('./today/TodayPage'));
const CollectionPage = lazy(() => import('./collection/CollectionPage'));
const SurveyPage = lazy(() => import('./survey/SurveyPage'));
const LampsPage = lazy(() => import('./lamps/LampsPage'));
const SunPage = lazy(() => import('./sun/SunPage'));
const ReportPage = lazy(() => import('./report/ReportPage'));
const SettingsPage = lazy(() => import('./settings/SettingsPage'));
const FirstRunPage = lazy(() => import('./first/FirstRunPage'));
const EnclosurePage = lazy(() => import('./enclosure/EnclosurePage'));
const SpeciesPage = lazy(() => import('./species/SpeciesPage'));

export function Screens() {
  return (
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
      <Route path="/report" component={ReportPage} />
      <Route path="/settings" component={SettingsPage} />
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
  );
}
