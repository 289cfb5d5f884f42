// What is due, for the calendar somebody keeps anyway.
import { Button } from '@mantine/core';
import { useMe } from '../api/record';
import type { Site } from '../api/schema';
import { Panel } from '../parts/Panel';
import classes from './ReportPage.module.css';

export function CalendarPart({ site }: { site: Site }) {
  const me = useMe();
  const path = `/api/calendar?site=${encodeURIComponent(site.id)}&remind_hour=9`;
  return (
    <Panel title="Calendar">
      <p className={classes.words}>
        Surveys, lamps, calibrations and tasks as all-day events. Give a calendar program this address and it
        follows what changes
        {me.data?.accounts ? '; it will ask for your login and password' : ''}:
      </p>
      <code className={classes.address}>{`${window.location.origin}${path}`}</code>
      <Button component="a" variant="default" href={path} download="dapple.ics">
        Save it as a file
      </Button>
    </Panel>
  );
}
