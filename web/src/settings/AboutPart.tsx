import { useQuery } from '@tanstack/react-query';
import { get } from '../api/client';
import { Failure, Loading } from '../parts/Waiting';
import classes from './SettingsPage.module.css';

// The version is the one of the interface that is served, which is that of the program.
function versionIn(interfaceDocument: unknown): string {
  const { info } = interfaceDocument as { info?: { version?: unknown } };
  return typeof info?.version === 'string' ? info.version : 'unknown';
}

export function AboutPart() {
  const { data, error, isPending, refetch } = useQuery({
    queryKey: ['openapi'],
    queryFn: ({ signal }) => get('/api/openapi.json', { signal }),
    select: versionIn,
    staleTime: Infinity,
  });
  return (
    <div>
      <h2>About Dapple</h2>
      {isPending && <Loading what="the version" lines={1} />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      {data !== undefined && <p>Version {data}</p>}
      <p>
        Dapple computes the light and warmth of an enclosure from its lamps, screens and surfaces, fits that
        to what your meter reads, and judges what the animal can choose there. Its numbers carry the interval
        within which it believes them.
      </p>
      <p className={classes.soft}>
        It stands on open work: species zones after Ferguson and others, Zoo Biology 29 (2010); the erythemal
        action spectrum of ISO/CIE 17166; lamp safety after IEC 62471. Every species sheet, material and
        spectrum names its source.
      </p>
      <p className={classes.soft}>
        For programs: the interface is described at <a href="/api/openapi.json">/api/openapi.json</a>.
      </p>
    </div>
  );
}
