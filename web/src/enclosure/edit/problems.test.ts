import { describe, expect, it } from 'vitest';
import { Refusal } from '../../api/client';
import { isSuperseded, placeOf, problemsAt, problemsOf } from './problems';

const problem = (place: string) => ({ file: '', place, found: '-1', allowed: 'more than 0' });

describe('a problem', () => {
  it('finds its part, whether the document was asked about alone or as a field', () => {
    expect(placeOf('/lamps/2/output/uvi')).toEqual({ list: 'lamps', index: 2, field: 'output/uvi' });
    expect(placeOf('/enclosure/size_cm/0')).toEqual({ list: 'size_cm', index: 0, field: '' });
    expect(placeOf('/document/walls/floor')).toEqual({ list: 'walls', index: null, field: 'floor' });
    expect(placeOf('')).toEqual({ list: '', index: null, field: '' });
  });

  it('is shown beside that part alone', () => {
    const details = {
      type: '',
      title: '',
      status: 422,
      problems: [problem('/lamps/0'), problem('/spots/0')],
    };
    const problems = problemsOf(new Refusal(422, details));
    expect(problemsAt(problems, 'lamps', 0)).toHaveLength(1);
    expect(problemsAt(problems, 'lamps', 1)).toHaveLength(0);
    expect(problemsOf(new TypeError('offline'))).toEqual([]);
  });

  it('is none when a later question came first', () => {
    expect(isSuperseded(new Refusal(409, null))).toBe(true);
    expect(isSuperseded(new Refusal(422, null))).toBe(false);
  });
});
