// Species sheets: search on one side, on the other the sheet with source and confidence beside every value.
import { TextInput } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useState } from 'react';
import { Link } from 'wouter';
import { useSpeciesList } from '../api/queries';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import classes from './SpeciesPage.module.css';
import { SpeciesSheet } from './SpeciesSheet';

const shown = 60;

export default function SpeciesPage({ id }: { id?: string }) {
  const [typed, setTyped] = useState('');
  const [words] = useDebouncedValue(typed.trim(), 150);
  const { data, error, isPending, refetch } = useSpeciesList(words);
  const sheets = data?.species ?? [];
  return (
    <>
      <h1>Species</h1>
      <div className={classes.page} data-chosen={id !== undefined}>
        <div className={classes.search}>
          <TextInput
            type="search"
            label="Find a species"
            description="Common or scientific name; typing errors are forgiven"
            value={typed}
            onChange={(event) => setTyped(event.currentTarget.value)}
          />
          {isPending && <Loading what="species" />}
          {error && <Failure error={error} retry={() => void refetch()} />}
          {data && sheets.length === 0 && (
            <Nothing>
              No sheet fits “{words}”. Try the scientific name: a listed relative may allow an estimate.
            </Nothing>
          )}
          <ul className={classes.list} aria-label="Sheets found">
            {sheets.slice(0, shown).map((sheet) => (
              <li key={sheet.id}>
                <Link
                  href={`/species/${encodeURIComponent(sheet.id)}`}
                  aria-current={sheet.id === id ? 'true' : undefined}
                >
                  <span>{sheet.common_names[0] ?? sheet.scientific_name}</span>
                  <i>{sheet.scientific_name}</i>
                  {sheet.estimate && <b>estimate</b>}
                </Link>
              </li>
            ))}
          </ul>
          {sheets.length > shown && (
            <Nothing>{sheets.length - shown} more; type a few letters to narrow the list.</Nothing>
          )}
        </div>
        <div className={classes.sheet}>
          {id === undefined ? (
            <Nothing>Choose a species to see its sheet.</Nothing>
          ) : (
            <SpeciesSheet id={id} />
          )}
        </div>
      </div>
    </>
  );
}
