// The verdict in plain words: whether the animal can choose what it needs, part by part with the reason.
import { SegmentedControl } from '@mantine/core';
import { memo } from 'react';
import type { AnimalJudgement, VerdictPart } from '../api/schema';
import { Panel } from '../parts/Panel';
import { holdsWords, verdictParts } from '../parts/words';
import { SpeciesName } from '../species/SpeciesName';
import classes from './VerdictView.module.css';

// A shape for each answer, so that nothing depends on colour.
function Sign({ holds }: { holds: boolean | null }) {
  const path = holds === null ? 'M3 8h10' : holds ? 'M2.5 8.5 6.5 12.5 13.5 4' : 'M3.5 3.5l9 9m0-9-9 9';
  return (
    <svg
      className={classes.sign}
      data-holds={String(holds)}
      viewBox="0 0 16 16"
      width="18"
      height="18"
      aria-hidden="true"
    >
      <path d={path} fill="none" stroke="currentColor" strokeWidth="2.4" />
    </svg>
  );
}

function Part({ title, part }: { title: string; part: VerdictPart }) {
  return (
    <li className={classes.part}>
      <Sign holds={part.holds} />
      <div>
        <b>
          {title} <span className={classes.answer}>{holdsWords(part.holds)}</span>
        </b>
        <p>{part.why}</p>
      </div>
    </li>
  );
}

export function VerdictView({ animal, notes }: { animal: AnimalJudgement; notes: readonly string[] }) {
  const { verdict } = animal;
  return (
    <Panel title="Verdict" aside={<SpeciesName id={animal.species} />}>
      <p className={classes.overall} data-holds={String(verdict.overall.holds)} data-testid="overall">
        {verdict.overall.why}
      </p>
      <ul className={classes.parts}>
        {verdictParts.map(({ part, title }) => (
          <Part key={part} title={title} part={verdict[part]} />
        ))}
      </ul>
      {notes.length > 0 && (
        <ul className={classes.notes} aria-label="Take note">
          {notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </Panel>
  );
}

type ChoiceProps = { animals: readonly AnimalJudgement[]; chosen: number; onChoose: (index: number) => void };

export const AnimalChoice = memo(function AnimalChoice({ animals, chosen, onChoose }: ChoiceProps) {
  return (
    <SegmentedControl
      className={classes.choice}
      aria-label="Animal judged"
      data={animals.map((animal, i) => ({ value: String(i), label: animal.name }))}
      value={String(chosen)}
      onChange={(value) => onChoose(Number(value))}
    />
  );
});
