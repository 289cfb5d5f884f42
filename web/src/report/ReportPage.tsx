// What leaves the screen: the printable record, labels for the enclosures, the calendar other programs follow.
import { Link } from 'wouter';
import { Panel } from '../parts/Panel';
import { useSite } from '../parts/site';
import { Loading } from '../parts/Waiting';
import { CalendarPart } from './CalendarPart';
import { LabelsPart } from './LabelsPart';
import { RecordPart } from './RecordPart';
import classes from './ReportPage.module.css';

export default function ReportPage() {
  const here = useSite();
  return (
    <>
      <h1>Report</h1>
      {!here && <Loading what="the site" />}
      {here && (
        <div className={classes.page}>
          <RecordPart key={here.site.id} site={here.site} />
          <LabelsPart key={`${here.site.id} labels`} site={here.site} />
          <div className={classes.column}>
            <CalendarPart site={here.site} />
            <Panel title="Lamps to order">
              <p className={classes.words}>
                What to buy and by when stands on the screen <Link href="/lamps">Lamps</Link>, and on the
                report’s first pages.
              </p>
            </Panel>
          </div>
        </div>
      )}
    </>
  );
}
