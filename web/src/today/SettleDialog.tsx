// A task is done. Where it is a fix, the enclosure's model may follow it in the same step.
import { Checkbox } from '@mantine/core';
import { useState } from 'react';
import { newKey, post } from '../api/client';
import { useDoing, useThing } from '../api/record';
import type { Task } from '../api/schema';
import { AskDialog } from '../parts/AskDialog';
import { showDay } from '../parts/dayWords';
import { Sheet } from '../parts/Sheet';
import { Failure, Loading } from '../parts/Waiting';
import classes from './TodayPage.module.css';

type Props = { task: string; onClose: (isDone: boolean) => void };

function Settling({ task, onClose }: { task: Task; onClose: Props['onClose'] }) {
  const isFix = task.fix !== undefined && task.enclosure !== undefined;
  const [key] = useState(newKey);
  const [isApplied, setApplied] = useState(isFix);
  const settle = useDoing(() =>
    post('/api/tasks/{id}/settle', isFix ? { apply: isApplied } : {}, {
      id: task.id,
      seen: task.revision,
      key,
    }),
  );
  return (
    <AskDialog
      title={task.title}
      act={isFix && isApplied ? 'Done, change the model' : 'Done'}
      onAct={() => settle.mutateAsync(undefined)}
      onClose={onClose}
    >
      <p className={classes.said}>
        Noted on {showDay(task.made.at)}
        {task.due_on !== undefined && `, to be done by ${showDay(task.due_on)}`}. {task.note}
      </p>
      {isFix && (
        <Checkbox
          label="Apply the fix to the model"
          description="The enclosure’s model becomes what the fix describes. Leave it out if you did something else; then change the model yourself."
          checked={isApplied}
          onChange={(event) => setApplied(event.currentTarget.checked)}
        />
      )}
    </AskDialog>
  );
}

export function SettleDialog({ task, onClose }: Props) {
  const { data, error, refetch } = useThing('tasks', task);
  if (data) return <Settling task={data} onClose={onClose} />;
  return (
    <Sheet title="Task" onClose={() => onClose(false)}>
      {error ? <Failure error={error} retry={() => void refetch()} /> : <Loading what="the task" />}
    </Sheet>
  );
}
