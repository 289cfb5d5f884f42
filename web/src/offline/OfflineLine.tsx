// Above every screen: what still waits to be sent, and that a newer version is ready. The survey shows the first
// itself, at a place that does not move, and is never interrupted by the second.
import { Link, useLocation } from 'wouter';
import { takeNewer, useNewerVersion } from './newerVersion';
import classes from './OfflineLine.module.css';
import { useUnsent } from './sendingHere';
import { unsentWords } from './words';

export function OfflineLine() {
  const [address] = useLocation();
  const unsent = useUnsent();
  const isNewer = useNewerVersion();
  const isSurveying = address.startsWith('/survey/');
  const words = unsentWords(unsent);
  const showsUnsent = words !== null && !address.startsWith('/survey');
  const showsNewer = isNewer && !isSurveying;
  if (!showsUnsent && !showsNewer) return null;
  return (
    <aside className={classes.line} aria-label="This device">
      {showsUnsent && <Link href="/survey?show=waiting">{words}</Link>}
      {showsNewer && (
        <span>
          A newer version is ready.{' '}
          <button type="button" onClick={takeNewer}>
            Reload
          </button>
        </span>
      )}
    </aside>
  );
}
