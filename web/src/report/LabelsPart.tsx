// A sheet of labels: a code at each enclosure opens its survey on the phone.
import { Button, NumberInput } from '@mantine/core';
import { useState, type SyntheticEvent } from 'react';
import { getFile } from '../api/client';
import type { Site } from '../api/schema';
import { isoDay } from '../lamps/days';
import { Panel } from '../parts/Panel';
import { useJob } from '../parts/useJob';
import formClasses from '../settings/Forms.module.css';
import { Making, type Paper } from './Making';
import classes from './ReportPage.module.css';
import { SheetChoice, useSheet } from './SheetChoice';

type Asked = { rows: string; columns: string; paper: string };

export function LabelsPart({ site }: { site: Site }) {
  const [sheet] = useSheet();
  const [rows, setRows] = useState<number | string>(7);
  const [columns, setColumns] = useState<number | string>(3);
  const job = useJob<Asked, Paper>(async (asked, signal) => {
    const file = await getFile('/api/labels', { query: { site: site.id, ...asked }, signal });
    return { name: `labels-${isoDay(new Date())}.pdf`, file };
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    job.ask({ rows: String(rows), columns: String(columns), paper: sheet });
  };
  return (
    <Panel title="Labels for the enclosures">
      <p className={classes.words}>
        To print, cut and stick on: the code opens the enclosure’s survey on a phone that reaches this
        address.
      </p>
      <form aria-label="Labels for the enclosures" className={formClasses.form} onSubmit={submit}>
        <div className={formClasses.pair}>
          <NumberInput label="Below one another" min={1} max={30} value={rows} onChange={setRows} />
          <NumberInput label="Beside one another" min={1} max={12} value={columns} onChange={setColumns} />
          <SheetChoice />
        </div>
        <div className={formClasses.buttons}>
          <Button type="submit" variant="default" disabled={job.isBusy}>
            Make the labels
          </Button>
        </div>
      </form>
      <Making what="the labels" job={job} />
    </Panel>
  );
}
