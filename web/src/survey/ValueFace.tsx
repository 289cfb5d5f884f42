// What is being typed, and the values taken here with their median and scatter. A keyboard works as the keys below do:
// digits, Enter takes the value, the arrows go from spot to spot.
import type { KeyboardEvent } from 'react';
import { draftOf, keyOf, valueOf } from './digits';
import { readWords } from './quantities';
import { valueIn, type RoundHere } from './useRound';
import classes from './ValueFace.module.css';
import { figures } from './words';

function Together({ here }: { here: RoundHere }) {
  const { repeats, rows } = here;
  if (!repeats) return <p className={classes.together}>No value here yet. Take two or three.</p>;
  const { count, median, least, most, scatter } = repeats;
  return (
    <p className={classes.together} data-testid="together">
      <strong>Median {figures(median)}</strong>
      {count > 1 && `, ${figures(least)} to ${figures(most)}`}
      {scatter !== null && here.quantity !== 'temperature' && `, scatter ${Math.round(100 * scatter)} %`}
      <span className={classes.values}>
        {rows.map((row) => figures(here.toShown(valueIn(row)))).join('  ')}
      </span>
    </p>
  );
}

export function ValueFace({ here }: { here: RoundHere }) {
  const { round, quantity, walk, at } = here;
  const typed = valueOf(round.draft);
  const { most, doubt, name } = readWords[quantity];
  const onKey = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.ctrlKey || event.metaKey || event.altKey) {
      if (event.key !== 'z') return;
      here.undo();
    } else {
      const key = keyOf(event.key);
      const before = walk[at - 1];
      const after = walk[at + 1];
      if (key !== null) here.press(key);
      else if (event.key === 'Enter') here.take();
      else if (event.key === 'ArrowRight' && after) here.go(after);
      else if (event.key === 'ArrowLeft' && before) here.go(before);
      else return;
    }
    event.preventDefault();
  };
  return (
    <div className={classes.face}>
      <label className={classes.value}>
        <span className={classes.name}>{name}</span>
        <input
          inputMode="none"
          autoComplete="off"
          autoFocus
          aria-describedby="value-help"
          value={round.draft}
          onKeyDown={onKey}
          onChange={(event) => {
            const draft = draftOf(event.target.value);
            if (draft !== null) here.type(draft);
          }}
        />
        <span className={classes.unit} aria-hidden="true">
          {here.unit}
        </span>
      </label>
      <span id="value-help" className={classes.unseen}>
        Digits, then Enter takes the value. Arrow left and right go to another spot, Control and Z takes the
        last value back.
      </span>
      {typed !== null && here.toRecord(typed) > most && <p className={classes.doubt}>{doubt}</p>}
      <Together here={here} />
      <p className={classes.unseen} aria-live="polite" data-testid="said">
        {here.said}
      </p>
    </div>
  );
}
