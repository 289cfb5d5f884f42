// The stage on which the model stands, with its keys: arrows move the chosen piece over the floor, Page Up and Page
// Down lift and lower it, with Shift five times as far.
import { useComputedColorScheme } from '@mantine/core';
import { lazy, Suspense, type KeyboardEvent } from 'react';
import type { Vec3 } from '../api/schema';
import { showValue, type ShownQuantity } from '../parts/quantities';
import { showLength, useLengthUnit } from '../parts/units';
import { Loading } from '../parts/Waiting';
import classes from './FieldView.module.css';
import type { ModelProps } from './model/EnclosureModel';
import type { Probe } from './model/SliceSheet';
import { useNow, type Heard } from './store';

const EnclosureModel = lazy(() => import('./model/EnclosureModel'));

export type Keys = {
  onNudge: (id: string, by: Vec3) => void;
  onCopy: (id: string) => void;
  onRemove: (id: string) => void;
};

type Props = Omit<ModelProps, 'isDark'> & { keys: Keys; probe: Heard<Probe | null>; quantity: ShownQuantity };

const ways: Record<string, Vec3> = {
  ArrowLeft: [-1, 0, 0],
  ArrowRight: [1, 0, 0],
  ArrowUp: [0, 1, 0],
  ArrowDown: [0, -1, 0],
  PageUp: [0, 0, 1],
  PageDown: [0, 0, -1],
};

function pressed(event: KeyboardEvent, id: string, keys: Keys): boolean {
  const way = ways[event.key];
  const far = event.shiftKey ? 5 : 1;
  if (way) keys.onNudge(id, [way[0] * far, way[1] * far, way[2] * far]);
  else if (event.key === 'Delete' || event.key === 'Backspace') keys.onRemove(id);
  else if (event.key.toLowerCase() === 'd' && (event.ctrlKey || event.metaKey)) keys.onCopy(id);
  else return false;
  return true;
}

type WordsProps = { probe: Heard<Probe | null>; quantity: ShownQuantity; hasChosen: boolean };

function Words({ probe, quantity, hasChosen }: WordsProps) {
  const [unit] = useLengthUnit();
  const read = useNow(probe);
  if (!read) {
    return hasChosen
      ? 'Drag to slide it, its arrow to lift it; or the arrow keys, Page Up and Page Down.'
      : 'Point at the slice to read it. Drag a lamp or a spot; press furniture to choose it.';
  }
  return (
    <>
      <b>
        {quantity === 'uvi' && 'UVI '}
        {showValue(quantity, read.value)}
      </b>{' '}
      at {read.point_cm.map((cm) => showLength(cm, unit).replace(` ${unit}`, '')).join(', ')} {unit}
    </>
  );
}

export function Stage({ keys, probe, quantity, ...model }: Props) {
  const scheme = useComputedColorScheme('light', { getInitialValueInEffect: false });
  const { chosen } = model;
  return (
    <div
      className={classes.stage}
      role="group"
      tabIndex={0}
      aria-label="Model of the enclosure. Drag to turn it; drag a lamp or a spot to move it. Arrow keys, Page Up and Page Down move what is chosen. The lists beside it say the same in words."
      onKeyDown={(event) => {
        if (event.key === 'Escape') model.onLetGo();
        if (chosen !== null && pressed(event, chosen, keys)) event.preventDefault();
      }}
      onKeyUp={() => model.moving.onEnd()}
    >
      <Suspense fallback={<Loading what="the model" />}>
        <EnclosureModel {...model} isDark={scheme === 'dark'} />
      </Suspense>
      <div className={classes.probe} data-testid="probe">
        <Words probe={probe} quantity={quantity} hasChosen={chosen !== null} />
      </div>
    </div>
  );
}
