// One person's work on one enclosure: its steps, whether they are saved, and what others saved meanwhile.
import { useCallback, useEffect, useMemo, useState } from 'react';
import { get, post, put, Refusal } from '../../api/client';
import { useDoing } from '../../api/record';
import type { ChangedEnclosure, Enclosure, KeptEnclosure } from '../../api/schema';
import { partOf, Store, useNow } from '../store';
import { draftOf, dropDraft, keepDraft, type Draft } from './draft';
import { same } from './same';
import { startAt, step, type Deed } from './steps';
import { useOthers } from './useOthers';

export function fieldsOf(kept: KeptEnclosure): ChangedEnclosure {
  const { document, room, survey_every_days, note } = kept;
  return {
    document,
    ...(room !== undefined && { room }),
    ...(survey_every_days !== undefined && { survey_every_days }),
    ...(note !== undefined && { note }),
  };
}

export type ChangeDocument = (words: string, to: (now: Enclosure) => Enclosure, stroke?: string) => void;

const asKept = (thing: unknown): KeptEnclosure | null =>
  (thing as KeptEnclosure | undefined)?.kind === 'enclosure' ? (thing as KeptEnclosure) : null;

export function useEditing(kept: KeptEnclosure) {
  const { id } = kept;
  const [base, setBase] = useState(kept);
  const [store] = useState(() => new Store(startAt<ChangedEnclosure>(fieldsOf(kept))));
  const steps = useNow(store);
  const dispatch = useCallback((deed: Deed<ChangedEnclosure>) => store.set(step(store.now(), deed)), [store]);
  const [offered, setOffered] = useState<Draft | null>(() => {
    const draft = draftOf(id);
    return draft && !same(draft.fields, fieldsOf(kept)) ? draft : null;
  });
  const [theirs, setTheirs] = useState<KeptEnclosure | null>(null);
  const [isDraftLost, setDraftLost] = useState(false);
  const fields = steps.now;
  const isUnsaved = useMemo(() => !same(fields, fieldsOf(base)), [fields, base]);

  const changeFields = useCallback(
    (words: string, to: (now: ChangedEnclosure) => ChangedEnclosure, stroke?: string) =>
      dispatch({ deed: 'change', words, to, ...(stroke !== undefined && { stroke }) }),
    [dispatch],
  );
  const change = useCallback<ChangeDocument>(
    (words, to, stroke) =>
      changeFields(
        words,
        (now) => {
          const document = to(now.document);
          return document === now.document ? now : { ...now, document };
        },
        stroke,
      ),
    [changeFields],
  );

  // While an older draft is still offered, nothing is written over it.
  useEffect(() => {
    if (offered) return;
    if (!isUnsaved) dropDraft(id);
    setDraftLost(isUnsaved && !keepDraft(id, { seen: base.revision, at: new Date().toISOString(), fields }));
  }, [id, offered, isUnsaved, base.revision, fields]);

  const standsNow = useCallback(
    (now: KeptEnclosure, words: string) => {
      setBase(now);
      setTheirs(null);
      changeFields(words, (mine) => (same(mine, fieldsOf(now)) ? mine : fieldsOf(now)));
    },
    [changeFields],
  );

  const saving = useDoing(async ({ seen }: { seen: number }) => {
    const fields = store.now().now;
    try {
      const answer = await put('/api/enclosures/{id}', fields, { id, seen });
      setBase({ ...answer, ...fields });
      setTheirs(null);
    } catch (error) {
      const other = error instanceof Refusal && error.status === 412 ? asKept(error.details?.theirs) : null;
      if (!other) throw error;
      setTheirs(other);
    }
  });
  const restoring = useDoing(async (revision: number) => {
    const answer = await post('/api/enclosures/{id}/restore', { revision }, { id, seen: base.revision });
    standsNow(answer, `bring back version ${revision}`);
  });
  const others = useOthers(
    id,
    kept.revision,
    base.revision,
    saving.isPending || restoring.isPending,
    isUnsaved,
    (now) => standsNow(now, 'somebody else’s version'),
  );

  const { mutate: save } = saving;
  const { mutate: restore } = restoring;
  return {
    base,
    fields,
    document: fields.document,
    // The same for whoever cannot wait until it is drawn.
    live: useMemo(() => partOf(store, (all) => all.now.document), [store]),
    isUnsaved,
    isDraftLost,
    undoWords: steps.past.at(-1)?.words ?? null,
    redoWords: steps.future[0]?.words ?? null,
    change,
    changeFields,
    endStroke: useCallback(() => dispatch({ deed: 'end-stroke' }), [dispatch]),
    undo: useCallback(() => dispatch({ deed: 'undo' }), [dispatch]),
    redo: useCallback(() => dispatch({ deed: 'redo' }), [dispatch]),
    putBack: useCallback(
      () => changeFields('put everything back', () => fieldsOf(base)),
      [changeFields, base],
    ),
    save: useCallback(() => save({ seen: base.revision }), [save, base.revision]),
    isSaving: saving.isPending,
    saveError: saving.error,
    restore,
    isRestoring: restoring.isPending,
    restoreError: restoring.error,
    offered,
    takeDraft: () => {
      // A draft of an older version is saved against that version, so that what others did since is not lost unseen.
      if (offered) setBase({ ...base, revision: offered.seen });
      if (offered) changeFields('take up the draft', () => offered.fields);
      setOffered(null);
    },
    refuseDraft: () => {
      dropDraft(id);
      setOffered(null);
    },
    theirs,
    keepMine: () => theirs && save({ seen: theirs.revision }),
    takeTheirs: () => theirs && standsNow(theirs, 'take the other version'),
    decideLater: () => setTheirs(null),
    others,
    compare: async () => setTheirs(await get('/api/enclosures/{id}', { id })),
  };
}

export type Editing = ReturnType<typeof useEditing>;
