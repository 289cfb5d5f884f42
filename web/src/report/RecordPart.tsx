// The printable record of the collection or of one enclosure.
import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useState, type SyntheticEvent } from 'react';
import { useSearchParams } from 'wouter';
import { getFile } from '../api/client';
import { useCards } from '../api/record';
import type { Site } from '../api/schema';
import { Panel } from '../parts/Panel';
import { useJob } from '../parts/useJob';
import formClasses from '../settings/Forms.module.css';
import { isoDay } from '../lamps/days';
import { Making, type Paper } from './Making';
import classes from './ReportPage.module.css';
import { SheetChoice, useSheet } from './SheetChoice';

type Asked = { enclosure: string; since: string; paper: string };

export function RecordPart({ site }: { site: Site }) {
  const cards = useCards(site.id);
  const [sheet] = useSheet();
  const [params] = useSearchParams();
  const [enclosure, setEnclosure] = useState(params.get('enclosure') ?? '');
  const [since, setSince] = useState('');
  const job = useJob<Asked, Paper>(async (asked, signal) => {
    const file = await getFile('/api/report', {
      query: {
        site: site.id,
        enclosure: asked.enclosure || undefined,
        since: asked.since || undefined,
        paper: asked.paper,
      },
      signal,
    });
    return { name: `report-${isoDay(new Date())}.pdf`, file };
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    job.ask({ enclosure, since, paper: sheet });
  };
  return (
    <Panel title="The record on paper">
      <p className={classes.words}>
        For a manager, a vet or an inspector: what is in and out of band and since when, then each enclosure
        with its light, readings, verdict, lamps, what was changed, and how it was measured and worked out.
      </p>
      <form aria-label="The record on paper" className={formClasses.form} onSubmit={submit}>
        <NativeSelect
          label="Of what"
          value={enclosure}
          onChange={(event) => setEnclosure(event.currentTarget.value)}
          data={[
            { value: '', label: `All of ${site.name}` },
            ...(cards.data?.cards ?? []).map((card) => ({
              value: card.enclosure.id,
              label: card.enclosure.document.name ?? card.enclosure.id,
            })),
          ]}
        />
        <div className={formClasses.pair}>
          <TextInput
            label="Since"
            description="Day of the last report; empty: a year ago"
            type="date"
            value={since}
            onChange={(event) => setSince(event.currentTarget.value)}
          />
          <SheetChoice />
        </div>
        <div className={formClasses.buttons}>
          <Button type="submit" disabled={job.isBusy}>
            Make the report
          </Button>
        </div>
      </form>
      <Making what="the report" job={job} />
    </Panel>
  );
}
