// What must not be overlooked, above everything else: the server's notes about lamps and light, and how long a face may
// be at the opened front.
import { memo, useMemo } from 'react';
import type { Enclosure } from '../api/schema';
import { useArrivals } from './asking';
import classes from './Cautions.module.css';
import { durationWords, facePlaces, permitted_s } from './exposure';

const isUrgent = (note: string) => /UVC|For people|next to no vitamin D3/.test(note);

export const urgentOf = (notes: readonly string[]) => notes.filter(isUrgent);
export const calmOf = (notes: readonly string[]) => notes.filter((note) => !isUrgent(note));

type Props = { enclosure: Enclosure; notes: readonly string[] };

export const Cautions = memo(function Cautions({ enclosure, notes }: Props) {
  const places = useMemo(() => facePlaces(enclosure.size_cm), [enclosure.size_cm]);
  const { data } = useArrivals(enclosure, places, 'aimed', 'face');
  const most = Math.max(0, ...(data?.points.map(({ actinic_w_m2 }) => actinic_w_m2) ?? []));
  const face_s = permitted_s(most);
  const urgent = urgentOf(notes);
  if (face_s === null && urgent.length === 0) return null;
  return (
    <aside className={classes.cautions} aria-label="Cautions">
      <ul>
        {face_s !== null && (
          <li>
            With your bare face at the opened front, the daily limit for skin and eyes (30 J/m² actinic, IEC
            62471 and ICNIRP) is reached after <b>{durationWords(face_s)}</b>. Switch lamps off before you
            reach in.
          </li>
        )}
        {urgent.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    </aside>
  );
});
