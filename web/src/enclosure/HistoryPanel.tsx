// Every version the record keeps, newest first, with what each changed; any of them can be brought back.
import { Button } from '@mantine/core';
import { memo } from 'react';
import { useHistory } from '../api/record';
import type { KeptEnclosure, Version } from '../api/schema';
import { Panel } from '../parts/Panel';
import { useLengthUnit } from '../parts/units';
import { Failure, Loading } from '../parts/Waiting';
import { showTime } from './Announcements';
import { differences } from './edit/differences';
import { fieldsOf, type Editing } from './edit/useEditing';
import classes from './HistoryPanel.module.css';

const deedWords: Record<Version['deed'], string> = {
  create: 'made',
  change: 'changed',
  retire: 'retired',
  reinstate: 'taken back into use',
  restore: 'brought back',
};
const mostLines = 6;

function Lines({ lines }: { lines: readonly string[] }) {
  const rest = lines.length - mostLines;
  return (
    <ul className={classes.lines}>
      {lines.slice(0, mostLines).map((line) => (
        <li key={line}>{line}</li>
      ))}
      {rest > 0 && <li>and {rest} more</li>}
    </ul>
  );
}

type Props = Pick<Editing, 'base' | 'isUnsaved' | 'isRestoring' | 'restore'> & { canWrite: boolean };

export const HistoryPanel = memo(function HistoryPanel(props: Props) {
  const { base, isUnsaved, isRestoring, restore, canWrite } = props;
  const [unit] = useLengthUnit();
  const { data, error, isPending, refetch } = useHistory('enclosures', base.id);
  return (
    <Panel title="History">
      {isPending && <Loading what="the history" />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      <ol className={classes.versions}>
        {data?.map((version, i) => {
          const thing = version.thing as KeptEnclosure;
          const before = data[i + 1]?.thing as KeptEnclosure | undefined;
          const lines = before ? differences(fieldsOf(before), fieldsOf(thing), unit) : [];
          return (
            <li key={thing.revision} className={classes.version}>
              <div className={classes.head}>
                <span>
                  <b>Version {thing.revision}</b>, {deedWords[version.deed]} by {thing.changed.by},{' '}
                  {showTime(thing.changed.at)}
                </span>
                {thing.revision !== base.revision && canWrite && (
                  <Button
                    size="compact-xs"
                    variant="default"
                    disabled={isUnsaved || isRestoring}
                    title={isUnsaved ? 'Save or put back your changes first' : undefined}
                    onClick={() => restore(thing.revision)}
                  >
                    Bring back<span className={classes.hidden}> version {thing.revision}</span>
                  </Button>
                )}
              </div>
              {version.why !== '' && <p className={classes.why}>“{version.why}”</p>}
              <Lines lines={lines} />
            </li>
          );
        })}
      </ol>
    </Panel>
  );
});
