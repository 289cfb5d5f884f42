// What can be done with a lamp where it is, one form at a time.
import { Button } from '@mantine/core';
import { useState } from 'react';
import type { KeptLamp } from '../api/schema';
import { AwayForm, PlaceForm } from './DeedForms';
import { LampForm } from './LampForm';
import classes from './LampPage.module.css';
import { standingOf, type Standing } from './lampWords';
import { ReplaceForm } from './ReplaceForm';
import type { Lamps } from './useLamps';

type Deed = 'replace' | 'move' | 'install' | 'remove' | 'discard' | 'correct';
const deedWords: Record<Deed, string> = {
  replace: 'Replace',
  move: 'Move',
  install: 'Put into an enclosure',
  remove: 'Back into store',
  discard: 'Discard',
  correct: 'Correct',
};
const possible: Record<Standing, readonly Deed[]> = {
  standing: ['replace', 'move', 'remove', 'discard', 'correct'],
  'in store': ['install', 'discard', 'correct'],
  retired: ['correct'],
};

export function LampDeeds({ lamp, all }: { lamp: KeptLamp; all: Lamps }) {
  const [open, setOpen] = useState<Deed | null>(null);
  const close = () => setOpen(null);
  return (
    <>
      <div className={classes.deeds}>
        {possible[standingOf(lamp)].map((deed, i) => (
          <Button
            key={deed}
            variant={i === 0 && deed !== 'correct' ? 'filled' : 'default'}
            aria-expanded={open === deed}
            onClick={() => setOpen(open === deed ? null : deed)}
          >
            {deedWords[deed]}
          </Button>
        ))}
      </div>
      {open !== null && (
        <section aria-label={deedWords[open]} className={classes.form}>
          {open === 'replace' && <ReplaceForm lamp={lamp} all={all} onDone={close} />}
          {(open === 'move' || open === 'install') && <PlaceForm lamp={lamp} all={all} onDone={close} />}
          {(open === 'remove' || open === 'discard') && <AwayForm lamp={lamp} what={open} onDone={close} />}
          {open === 'correct' && <LampForm lamp={lamp} onDone={close} />}
        </section>
      )}
    </>
  );
}
