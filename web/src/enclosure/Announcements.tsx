// What a person coming back, or working beside others, has to know and to decide.
import { Button, Modal } from '@mantine/core';
import type { ReactNode } from 'react';
import { useLengthUnit } from '../parts/units';
import classes from './Announcements.module.css';
import { differences } from './edit/differences';
import { fieldsOf, type Editing } from './edit/useEditing';

export const showTime = (iso: string) =>
  new Date(iso).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

function Notice({ children, label }: { children: ReactNode; label: string }) {
  return (
    <div className={classes.notice} role="status" aria-label={label}>
      {children}
    </div>
  );
}

function Differences({ title, lines }: { title: string; lines: readonly string[] }) {
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      {lines.length === 0 ? (
        <p>Nothing.</p>
      ) : (
        <ul>
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

function Conflict({ editing }: { editing: Editing }) {
  const [unit] = useLengthUnit();
  const { theirs, base, fields } = editing;
  return (
    <Modal
      opened={theirs !== null}
      onClose={editing.decideLater}
      title="Somebody else saved this enclosure meanwhile"
      size="lg"
      closeButtonProps={{ 'aria-label': 'Decide later' }}
    >
      {theirs && (
        <div className={classes.conflict}>
          <p>
            {theirs.changed.by} saved version {theirs.revision} on {showTime(theirs.changed.at)}. Nothing is
            lost: whichever you keep, the other stays in the history.
          </p>
          <Differences title="What you changed" lines={differences(fieldsOf(base), fields, unit)} />
          <Differences
            title="What they changed"
            lines={differences(fieldsOf(base), fieldsOf(theirs), unit)}
          />
          <Differences
            title="From their version to yours"
            lines={differences(fieldsOf(theirs), fields, unit)}
          />
          <div className={classes.deeds}>
            <Button onClick={editing.keepMine} loading={editing.isSaving}>
              Keep mine
            </Button>
            <Button variant="default" onClick={editing.takeTheirs}>
              Take theirs
            </Button>
          </div>
        </div>
      )}
    </Modal>
  );
}

export function Announcements({ editing }: { editing: Editing }) {
  const { offered, others, base } = editing;
  return (
    <>
      {offered && (
        <Notice label="A draft was kept">
          <span>
            Changes of {showTime(offered.at)} were not saved.
            {offered.seen < base.revision && ' The enclosure was saved anew since.'}
          </span>
          <span className={classes.deeds}>
            <Button size="compact-sm" onClick={editing.takeDraft}>
              Take up the draft
            </Button>
            <Button size="compact-sm" variant="default" onClick={editing.refuseDraft}>
              Drop it
            </Button>
          </span>
        </Notice>
      )}
      {others.newer !== null && (
        <Notice label="Somebody else saved">
          <span>Somebody else saved version {others.newer} while you were working on this one.</span>
          <Button size="compact-sm" variant="default" onClick={() => void editing.compare()}>
            Compare
          </Button>
        </Notice>
      )}
      {others.shown?.revision === base.revision && (
        <Notice label="A newer version is shown">
          <span>
            {others.shown.changed.by} saved version {others.shown.revision} at{' '}
            {showTime(others.shown.changed.at)}; it is shown now.
          </span>
        </Notice>
      )}
      <Conflict editing={editing} />
    </>
  );
}
