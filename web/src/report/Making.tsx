// A paper that takes its time: made when asked for, its waiting shown and ended, then saved or opened.
import { Button } from '@mantine/core';
import { useEffect, useState } from 'react';
import { Progress } from '../parts/Progress';
import type { Job } from '../parts/useJob';
import { Failure } from '../parts/Waiting';
import classes from './ReportPage.module.css';

export type Paper = { name: string; file: Blob };

const showSize = (bytes: number) =>
  bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;

function Made({ paper }: { paper: Paper }) {
  const [address, setAddress] = useState<string>();
  useEffect(() => {
    const made = URL.createObjectURL(paper.file);
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [paper]);
  if (address === undefined) return null;
  return (
    <p role="status" className={classes.made}>
      <Button component="a" href={address} download={paper.name}>
        Save {paper.name}
      </Button>
      <a href={address} target="_blank" rel="noreferrer">
        Open it
      </a>
      <span>PDF, {showSize(paper.file.size)}</span>
    </p>
  );
}

export function Making<Asked>({ what, job }: { what: string; job: Job<Asked, Paper> }) {
  const { asked } = job;
  return (
    <>
      {job.isBusy && <Progress what={`Making ${what}`} onCancel={job.cancel} />}
      {job.error && asked !== null && <Failure error={job.error} retry={() => job.ask(asked)} />}
      {job.answer && <Made paper={job.answer} />}
    </>
  );
}
