// Where the collection keeps a species: enclosures whose model names it, and animals of the record.
import { Link } from 'wouter';
import { useCards } from '../api/record';
import type { Card } from '../api/schema';
import { useSite } from '../parts/site';
import classes from './SpeciesSheet.module.css';

export type Place = { id: string; name: string; count: number; called: readonly string[] };

export function placesOf(cards: readonly Card[], species: string): readonly Place[] {
  return cards.flatMap(({ enclosure, animals }) => {
    const { id, document } = enclosure;
    const inModel = (document.animals ?? []).filter(({ species: named }) =>
      typeof named === 'string' ? named === species : named.id === species,
    );
    const inRecord = animals.filter((animal) => animal.species === species);
    if (enclosure.retired_at !== null || (inModel.length === 0 && inRecord.length === 0)) return [];
    const counted = inRecord.length > 0 ? inRecord : inModel;
    return [
      {
        id,
        name: document.name ?? id,
        count: counted.reduce((sum, { count = 1 }) => sum + count, 0),
        called: inRecord.flatMap(({ name }) => (name === undefined ? [] : [name])),
      },
    ];
  });
}

export function KeptHere({ species }: { species: string }) {
  const here = useSite();
  const { data } = useCards(here?.site.id);
  if (!data || !here) return null;
  const places = placesOf(data.cards, species);
  return (
    <section aria-label="Kept here" className={classes.kept}>
      <h3>At {here.site.name}</h3>
      {places.length === 0 ? (
        <p>No enclosure keeps it.</p>
      ) : (
        <ul>
          {places.map(({ id, name, count, called }) => (
            <li key={id}>
              <Link href={`/collection/${encodeURIComponent(id)}`}>{name}</Link>: {count}
              {called.length > 0 && ` (${called.join(', ')})`}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
