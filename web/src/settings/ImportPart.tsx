// What comes in from elsewhere, first as a preview in words; and everything out again.
import { Button, FileInput } from '@mantine/core';
import { useState } from 'react';
import { post } from '../api/client';
import { useDoing } from '../api/record';
import type { ImportPreview } from '../api/schema';
import { Refused } from '../parts/AskDialog';
import { mayManage } from '../parts/site';
import formClasses from './Forms.module.css';
import { PreviewInWords } from './PreviewInWords';
import classes from './SettingsPage.module.css';
import type { Here } from './SettingsPage';

type Asked = { file: File; apply: boolean };
type ImportProps = {
  title: string;
  words: string;
  accept: string;
  send: (asked: Asked) => Promise<ImportPreview>;
};

function Import({ title, words, accept, send }: ImportProps) {
  const [file, setFile] = useState<File | null>(null);
  const look = useDoing((chosen: File) => send({ file: chosen, apply: false }));
  const bring = useDoing((chosen: File) => send({ file: chosen, apply: true }));
  const preview = look.data;
  const canBring =
    preview?.faults.length === 0 && Object.values(preview.would_add).some((count) => count > 0);
  function choose(chosen: File | null) {
    setFile(chosen);
    bring.reset();
    look.reset();
    if (chosen) look.mutate(chosen);
  }
  return (
    <div className={formClasses.form}>
      <h2>{title}</h2>
      <p className={classes.soft}>{words}</p>
      <FileInput
        label="File"
        placeholder="Choose a file"
        accept={accept}
        clearable
        value={file}
        onChange={choose}
        clearButtonProps={{ 'aria-label': 'Take another file' }}
      />
      {look.isPending && <p aria-live="polite">Reading {file?.name}…</p>}
      {look.error && <Refused error={look.error} />}
      {preview && !bring.data && <PreviewInWords preview={preview} />}
      {bring.error && <Refused error={bring.error} />}
      {bring.data && (
        <p role="alert" className={classes.good}>
          Brought in: {bring.data.added ?? 0} {bring.data.added === 1 ? 'thing' : 'things'} from {file?.name}.
        </p>
      )}
      {canBring && file && !bring.data && (
        <div className={formClasses.buttons}>
          <Button loading={bring.isPending} onClick={() => bring.mutate(file)}>
            Bring it in
          </Button>
          <Button variant="default" onClick={() => choose(null)}>
            Leave it
          </Button>
        </div>
      )}
    </div>
  );
}

export function ImportPart({ here: { site, role } }: { here: Here }) {
  return (
    <>
      {mayManage(role) && (
        <>
          <Import
            title="Bring in readings"
            words="A table (CSV) with the columns date, enclosure, spot (or x_cm, y_cm, z_cm), quantity, value, and if you have them facing, meter and note. You see what would happen before anything does; the same file brought in twice adds nothing."
            accept=".csv,text/csv"
            send={({ file, apply }) =>
              post('/api/import/readings', file, {
                type: 'text/csv',
                query: { site: site.id, file: file.name, apply: apply ? '1' : undefined },
              })
            }
          />
          <Import
            title="Bring in a collection"
            words="A zip that Dapple has exported, here or elsewhere. What is there already stays as it is."
            accept=".zip,application/zip"
            send={({ file, apply }) =>
              post('/api/import/collection', file, {
                type: 'application/zip',
                query: { file: file.name, apply: apply ? '1' : undefined },
              })
            }
          />
        </>
      )}
      <div>
        <h2>Take it with you</h2>
        <p className={classes.soft}>
          Everything of {site.name} as a zip: enclosure documents and tables that a spreadsheet opens, no
          passwords.
        </p>
        <p>
          <Button
            component="a"
            variant="default"
            href={`/api/export?site=${encodeURIComponent(site.id)}`}
            download
          >
            Export the collection
          </Button>
        </p>
      </div>
    </>
  );
}
