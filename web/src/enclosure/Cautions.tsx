// What must not be overlooked, above everything else: the server's notes about lamps and light, and how long a face may
// be at the opened front.
import { useMediaQuery } from '@mantine/hooks';
import { memo, useMemo } from 'react';
import type { Enclosure } from '../api/schema';
import { useArrivals } from './asking';
import classes from './Cautions.module.css';
import { durationWords, facePlaces, permitted_s } from './exposure';

const isUrgent = (note: string) => /UVC|For people|next to no vitamin D3/.test(note);

export const urgentOf = (notes: readonly string[]) => notes.filter(isUrgent);
export const calmOf = (notes: readonly string[]) => notes.filter((note) => !isUrgent(note));

// One unit reads the same everywhere on the screen, whoever wrote the sentence.
const withRaisedDigits = (words: string) => words.replace(/\b(J|W)\/m2\b/g, '$1/m²');

type Caution = { short: string; whole: string };

// What a note is about and what to do; one that is not known here is as short as it gets.
function inShort(note: string): string {
  const people = /^For people: .* after (.+?)\. Never/.exec(note);
  if (people) return `Brightest place: at most ${people[1] ?? ''} a day`;
  if (note.startsWith('UVC')) return 'UVC is given off: switch it off';
  if (note.includes('next to no vitamin D3')) return 'Nearly all UVA: next to no vitamin D3';
  return withRaisedDigits(note);
}

function atTheFront(face_s: number): Caution {
  const after = durationWords(face_s);
  return {
    short: `Face at the front: at most ${after} a day`,
    whole: `With your bare face at the opened front, the daily limit for skin and eyes (30 J/m² actinic, IEC 62471 and ICNIRP) is reached after ${after}. Switch lamps off before you reach in.`,
  };
}

type Props = { enclosure: Enclosure; notes: readonly string[] };

// There is always one, and room for two, so that nothing below jumps when they come.
// On a phone a line each, so that the model still begins on the first screen; the whole sentence is one press away.
export const Cautions = memo(function Cautions({ enclosure, notes }: Props) {
  const places = useMemo(() => facePlaces(enclosure.size_cm), [enclosure.size_cm]);
  const { data } = useArrivals(enclosure, places, 'aimed', 'face');
  const isNarrow = useMediaQuery('(max-width: 700px)', undefined, { getInitialValueInEffect: false });
  const most = Math.max(0, ...(data?.points.map(({ actinic_w_m2 }) => actinic_w_m2) ?? []));
  const face_s = permitted_s(most);
  const cautions = [
    ...(face_s === null ? [] : [atTheFront(face_s)]),
    ...urgentOf(notes).map((note) => ({ short: inShort(note), whole: withRaisedDigits(note) })),
  ];
  return (
    <aside className={classes.cautions} aria-label="Cautions">
      {cautions.length === 0 && <p>Never look into a lamp; switch lamps off before you reach in.</p>}
      <ul>
        {cautions.map(({ short, whole }) => (
          <li key={short}>
            {isNarrow ? (
              <details>
                <summary>{short}</summary>
                {whole}
              </details>
            ) : (
              whole
            )}
          </li>
        ))}
      </ul>
    </aside>
  );
});
