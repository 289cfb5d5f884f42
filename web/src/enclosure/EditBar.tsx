// Steps back and forth, whether all is saved, and the way into the history.
import { Button, Tooltip } from '@mantine/core';
import { memo, useEffect } from 'react';
import { Failure } from '../parts/Waiting';
import classes from './EditBar.module.css';
import type { Editing } from './edit/useEditing';

// What the bar shows of the work; the work itself changes with every movement of the hand.
export const barOf = (editing: Editing) => {
  const { undo, redo, undoWords, redoWords, putBack, save } = editing;
  const { isUnsaved, isDraftLost, isSaving, saveError, restoreError } = editing;
  const steps = { undo, redo, undoWords, redoWords, putBack, save };
  return { ...steps, isUnsaved, isDraftLost, isSaving, saveError, restoreError };
};
type Bar = ReturnType<typeof barOf>;
type Props = { bar: Bar; canWrite: boolean; isHistoryOpen: boolean; onHistory: () => void };

const isSearch = (target: EventTarget | null) =>
  target instanceof HTMLInputElement && target.type === 'search';

function useUndoKeys({ undo, redo }: Pick<Editing, 'undo' | 'redo'>) {
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const isUndo = event.key.toLowerCase() === 'z' && (event.ctrlKey || event.metaKey) && !event.altKey;
      if (!isUndo || isSearch(event.target)) return;
      event.preventDefault();
      if (event.shiftKey) redo();
      else undo();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, [undo, redo]);
}

// Leaving with unsaved changes: the draft is kept, but the person should know.
function useLeavingWarning(isUnsaved: boolean) {
  useEffect(() => {
    if (!isUnsaved) return;
    const warn = (event: BeforeUnloadEvent) => event.preventDefault();
    window.addEventListener('beforeunload', warn);
    return () => window.removeEventListener('beforeunload', warn);
  }, [isUnsaved]);
}

// A phone shows the first words of it.
function Said({ bar, canWrite }: Pick<Props, 'bar' | 'canWrite'>) {
  const { isUnsaved, isDraftLost, isSaving } = bar;
  if (!canWrite)
    return (
      <>
        Saving is for keepers<i>; you may look and try things</i>
      </>
    );
  if (isSaving) return 'Saving…';
  if (isDraftLost) return 'Not saved, and this device keeps no draft of it';
  if (!isUnsaved) return 'All saved';
  return (
    <>
      Not saved<i>; a draft is kept on this device</i>
    </>
  );
}

export const EditBar = memo(function EditBar({ bar, canWrite, isHistoryOpen, onHistory }: Props) {
  const { undoWords, redoWords, isUnsaved, isSaving } = bar;
  useUndoKeys(bar);
  useLeavingWarning(isUnsaved);
  return (
    <>
      <div className={classes.bar} role="toolbar" aria-label="Editing">
        <Tooltip label={undoWords ? `Undo: ${undoWords}` : 'Nothing to undo'} openDelay={400}>
          <Button size="compact-sm" variant="default" disabled={!undoWords} onClick={bar.undo}>
            Undo
          </Button>
        </Tooltip>
        <Tooltip label={redoWords ? `Redo: ${redoWords}` : 'Nothing to redo'} openDelay={400}>
          <Button size="compact-sm" variant="default" disabled={!redoWords} onClick={bar.redo}>
            Redo
          </Button>
        </Tooltip>
        <Button size="compact-sm" variant="default" aria-expanded={isHistoryOpen} onClick={onHistory}>
          History
        </Button>
        {isUnsaved && (
          <Button size="compact-sm" variant="default" onClick={bar.putBack}>
            <span>
              Put <i>everything</i> back
            </span>
          </Button>
        )}
        <span className={classes.said} data-unsaved={isUnsaved} data-testid="saved">
          <Said bar={bar} canWrite={canWrite} />
        </span>
        <Button
          size="compact-sm"
          disabled={!isUnsaved || !canWrite || isSaving}
          onClick={bar.save}
          className={classes.save}
        >
          Save
        </Button>
      </div>
      {bar.saveError && <Failure error={bar.saveError} retry={bar.save} />}
      {bar.restoreError && <Failure error={bar.restoreError} />}
    </>
  );
});
