import classes from './Unreachable.module.css';

// Said once, above everything, while the server does not answer.
export function Unreachable() {
  return (
    <p className={classes.line} role="alert">
      Dapple cannot be reached just now. What you see may be old; a survey goes on, and is sent when it
      answers again.
    </p>
  );
}
