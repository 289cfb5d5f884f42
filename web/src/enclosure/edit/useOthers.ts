// Follows what others save to this enclosure. Where nothing of one's own is unsaved their version is shown at once;
// else it is only announced.
import { useEffect, useRef, useState } from 'react';
import { get } from '../../api/client';
import type { Change } from '../../api/events';
import type { KeptEnclosure } from '../../api/schema';

export type Others = { newer: number | null; shown: KeptEnclosure | null };

export function useOthers(
  id: string,
  known: number, // what the record last said, whoever asked it
  seen: number,
  isSaving: boolean, // one's own save is announced too, perhaps before its answer
  isUnsaved: boolean,
  onShow: (theirs: KeptEnclosure) => void,
): Others {
  const [heard, setHeard] = useState(0);
  const [shown, setShown] = useState<KeptEnclosure | null>(null);
  const show = useRef(onShow);
  useEffect(() => {
    show.current = onShow;
  });
  useEffect(() => {
    const hear = (event: Event) => {
      const change = (event as CustomEvent<Change>).detail;
      if (change.kind === 'enclosure' && change.id === id)
        setHeard((before) => Math.max(before, change.revision));
    };
    window.addEventListener('dapple-change', hear);
    return () => window.removeEventListener('dapple-change', hear);
  }, [id]);
  const newest = Math.max(heard, known);
  const isNewer = newest > seen && !isSaving;
  useEffect(() => {
    if (!isNewer || isUnsaved) return;
    const asking = new AbortController();
    void get('/api/enclosures/{id}', { id, signal: asking.signal }).then(
      (theirs) => {
        if (theirs.revision <= seen) return;
        setShown(theirs);
        show.current(theirs);
      },
      () => undefined, // it stays announced; the next save would meet the newer version anyway
    );
    return () => asking.abort();
  }, [id, seen, isNewer, isUnsaved]);
  return { newer: isNewer && isUnsaved ? newest : null, shown };
}
