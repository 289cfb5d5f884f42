import { describe, expect, it } from 'vitest';
import { aCard } from '../collection/sampleCards';
import { placesOf } from './KeptHere';

describe('where a species is kept', () => {
  it('counts the record’s animals where there are any, else those of the model', () => {
    const inModel = {
      ...aCard({ id: 'a', name: 'North wall', species: ['pogona_vitticeps'], count: 3 }),
      animals: [],
    };
    const inRecord = {
      ...inModel,
      animals: aCard({ species: ['pogona_vitticeps'] }).animals,
    };
    expect(placesOf([inModel], 'pogona_vitticeps')).toEqual([
      { id: 'a', name: 'North wall', count: 3, called: [] },
    ]);
    expect(placesOf([inRecord], 'pogona_vitticeps')).toEqual([
      { id: 'a', name: 'North wall', count: 1, called: ['Ruby'] },
    ]);
    expect(placesOf([inModel, inRecord], 'testudo_hermanni')).toEqual([]);
  });
});
