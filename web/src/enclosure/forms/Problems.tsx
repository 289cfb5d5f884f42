import type { Problem } from '../../api/schema';
import { placeOf } from '../edit/problems';
import classes from './Problems.module.css';

// What the server refused, beside the part it is about.
export function Problems({ problems }: { problems: readonly Problem[] }) {
  if (problems.length === 0) return null;
  return (
    <ul className={classes.problems} role="alert">
      {problems.map(({ place, found, allowed }) => {
        const field = placeOf(place).field.replaceAll('/', ' ').replaceAll('_', ' ');
        return (
          <li key={place + found}>
            {field === '' ? 'This' : <b>{field}</b>} is {found}; allowed: {allowed}.
          </li>
        );
      })}
    </ul>
  );
}
