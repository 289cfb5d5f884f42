// How much still waits on this device; always there, always at the same place.
import { Link } from 'wouter';
import { useUnsent } from '../offline/sendingHere';
import classes from './WaitingCount.module.css';

export function WaitingCount() {
  const { waiting, refused } = useUnsent();
  const words = `${waiting} waiting${refused > 0 ? `, ${refused} refused` : ''}`;
  return (
    <Link href="/survey?show=waiting" className={classes.count} data-some={String(waiting + refused > 0)}>
      {words}
    </Link>
  );
}
