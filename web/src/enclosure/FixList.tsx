// Fixes, cheapest first: looked for in the enclosure as it is shown, with the readings the record has.
import { Button } from '@mantine/core';
import { newKey, post } from '../api/client';
import { useDoing } from '../api/record';
import type { Enclosure, Fix, KeptEnclosure } from '../api/schema';
import { Progress } from '../parts/Progress';
import type { Job } from '../parts/useJob';
import { Failure, Nothing } from '../parts/Waiting';
import { FixItem } from './FixItem';
import classes from './FixList.module.css';

export type FixJob = Job<Enclosure, { readonly fixes: readonly Fix[] }>;

type Props = {
  job: FixJob;
  enclosure: Enclosure;
  base: KeptEnclosure;
  canWrite: boolean;
  allHolds: boolean;
  tried: Fix | null;
  onTry: (fix: Fix) => void;
  onAccept: (fix: Fix) => void;
};

const longestTitle = 200;

function useKeeping(base: KeptEnclosure) {
  return useDoing(async (fix: Fix) => {
    await post(
      '/api/tasks',
      {
        site: base.site ?? '',
        title: fix.words.length > longestTitle ? `${fix.words.slice(0, longestTitle - 1)}…` : fix.words,
        enclosure: base.id,
        fix: fix.enclosure as unknown as Record<string, never>, // any document; the generated type says none
      },
      { key: newKey() },
    );
    return fix;
  });
}

export function FixList({ job, enclosure, base, canWrite, allHolds, tried, onTry, onAccept }: Props) {
  const keeping = useKeeping(base);
  const fixes = job.answer?.fixes;
  if (job.isBusy) return <Progress what="Looking for fixes" onCancel={job.cancel} />;
  if (job.error) return <Failure error={job.error} retry={() => job.ask(enclosure)} />;
  if (!fixes || job.asked !== enclosure) {
    return (
      <>
        <Nothing>
          {fixes
            ? 'The enclosure was changed since fixes were looked for.'
            : allHolds
              ? 'Nothing to change: every part of the verdict holds.'
              : 'Dapple can look for the smallest changes that put this right.'}
        </Nothing>
        <Button mt="xs" size="compact-sm" variant="default" onClick={() => job.ask(enclosure)}>
          Look for fixes
        </Button>
      </>
    );
  }
  if (fixes.length === 0)
    return (
      <Nothing>
        {allHolds
          ? 'Nothing to change: every part of the verdict holds.'
          : 'No change that Dapple knows, alone or with another, would put this right without spoiling something else.'}
      </Nothing>
    );
  return (
    <>
      <p className={classes.caution}>
        Switch off and let cool before moving anything. Keep fittings fixed and guards in place; mains work is
        for a licensed electrician.
      </p>
      {keeping.error && <Failure error={keeping.error} />}
      <ul className={classes.list}>
        {fixes.map((fix) => (
          <FixItem
            key={fix.words}
            fix={fix}
            isTried={fix === tried}
            isKept={keeping.data === fix}
            canWrite={canWrite}
            onTry={() => onTry(fix)}
            onAccept={() => onAccept(fix)}
            onKeep={() => keeping.mutate(fix)}
          />
        ))}
      </ul>
    </>
  );
}
