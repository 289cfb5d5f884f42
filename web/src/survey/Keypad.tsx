// Large keys for gloves; one hand reaches them all.
import type { PointerEvent } from 'react';
import { keypad } from './digits';
import classes from './Keypad.module.css';
import { spotName, type RoundHere } from './useRound';

// The field keeps the focus, so that a keyboard goes on working after a touch.
const keepFocus = (event: PointerEvent) => event.preventDefault();

export function Keypad({ here }: { here: RoundHere }) {
  const { walk, at, round } = here;
  const after = walk[at + 1];
  return (
    <div className={classes.keys} role="group" aria-label="Keys">
      {keypad.map((key) => (
        <button
          key={key}
          type="button"
          className={classes.key}
          aria-label={key === 'erase' ? 'Erase the last digit' : key === '.' ? 'Point' : key}
          onPointerDown={keepFocus}
          onClick={() => here.press(key)}
        >
          {key === 'erase' ? (
            <svg viewBox="0 0 24 16" width="30" height="20" aria-hidden="true">
              <path
                d="M8 1.5h14v13H8L2 8Zm4 3.5 6 6m0-6-6 6"
                fill="none"
                stroke="currentColor"
                strokeWidth="1.8"
              />
            </svg>
          ) : (
            key
          )}
        </button>
      ))}
      <button
        type="button"
        className={classes.take}
        data-ready={String(round.draft !== '')}
        onPointerDown={keepFocus}
        onClick={here.take}
      >
        Next value
      </button>
      {after ? (
        <button type="button" className={classes.on} onPointerDown={keepFocus} onClick={() => here.go(after)}>
          Next spot <small>{spotName(after)}</small>
        </button>
      ) : (
        <button type="button" className={classes.on} onPointerDown={keepFocus} onClick={here.end}>
          End the survey
        </button>
      )}
      <button type="button" className={classes.side} onPointerDown={keepFocus} onClick={here.undo}>
        Take back the last
      </button>
      <button
        type="button"
        className={classes.side}
        aria-pressed={round.in_the_way}
        onPointerDown={keepFocus}
        onClick={() => here.set({ in_the_way: !round.in_the_way })}
      >
        Something in the way
      </button>
    </div>
  );
}
