import { NumberInput } from '@mantine/core';
import type { Species } from '../api/schema';
import { showValue } from '../parts/quantities';
import { RangeStrip } from '../parts/RangeStrip';
import { SpeciesSearch, speciesName } from '../parts/SpeciesSearch';
import classes from './FirstRunPage.module.css';

type Props = {
  sheet: Species | null;
  count: number;
  onSheet: (sheet: Species) => void;
  onCount: (count: number) => void;
};

export function SpeciesStep({ sheet, count, onSheet, onCount }: Props) {
  return (
    <section className={classes.step} aria-label="Which animal">
      <h2>1. Which animal?</h2>
      <div className={classes.pair}>
        <SpeciesSearch
          keep
          label="Species"
          description="Common or scientific name; typing errors are forgiven"
          onChoose={onSheet}
        />
        <NumberInput
          label="How many"
          description="in this enclosure"
          min={1}
          decimalScale={0}
          value={count}
          onChange={(value) => typeof value === 'number' && value >= 1 && onCount(value)}
        />
      </div>
      {sheet && (
        <div className={classes.sheet} data-testid="sheet">
          <p>
            <b>{speciesName(sheet)}</b> <i>{sheet.scientific_name}</i>
            {sheet.estimate && <strong className={classes.estimate}> An estimate: nobody listed it.</strong>}
          </p>
          <RangeStrip band={sheet.band} ceiling={sheet.ceiling} marks={[]} />
          <p className={classes.soft}>
            {sheet.band
              ? `Where it basks a meter should read UVI ${showValue('uvi', sheet.band[0])} to ${showValue('uvi', sheet.band[1])}.`
              : 'Its UV zone is not known: nothing can be planned for it; place lamps yourself and give it a zone.'}{' '}
            Values are guidance; sources are on its sheet.
          </p>
        </div>
      )}
    </section>
  );
}
