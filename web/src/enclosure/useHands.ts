// What hands do in the model and at the keys, as changes of the document.
import { useMemo, useState } from 'react';
import { nameOf } from './document';
import { withChoice, withCopy } from './edit/adding';
import type { Choice } from './edit/palette';
import { pieceNamed, withoutPiece } from './edit/pieces';
import { liftedTo, movedBy, slidTo } from './edit/placing';
import type { Editing } from './edit/useEditing';
import type { Moving } from './model/Grip';
import type { Keys } from './Stage';

export type Hands = {
  chosen: string | null;
  choose: (id: string | null) => void;
  moving: Moving;
  keys: Keys;
  add: (choice: Choice) => void;
};

// isTrying: a fix is tried on; it is looked at, not worked on.
export function useHands(editing: Editing, isTrying: boolean): Hands {
  const { document, change, endStroke } = editing;
  const [chosen, choose] = useState<string | null>(null);
  const named = (id: string) => {
    const found = pieceNamed(document, id);
    return found ? nameOf(found.piece) : id;
  };
  const copied = (id: string) => {
    const copy = withCopy(document, id);
    if (!copy) return;
    change(`duplicate ${named(id)}`, () => copy.enclosure);
    choose(copy.id);
  };
  const removed = (id: string) => {
    change(`take out ${named(id)}`, (now) => withoutPiece(now, id));
    choose(null);
  };
  const hands: Hands = {
    chosen: isTrying || !pieceNamed(document, chosen) ? null : chosen,
    choose,
    moving: {
      onChoose: choose,
      onSlide: (id, x, y) => change(`move ${named(id)}`, (now) => slidTo(now, id, x, y), `${id} drag`),
      onLift: (id, z) => change(`lift ${named(id)}`, (now) => liftedTo(now, id, z), `${id} lift`),
      onEnd: endStroke,
    },
    keys: {
      onNudge: (id, by) => change(`move ${named(id)}`, (now) => movedBy(now, id, by), `${id} keys`),
      onCopy: copied,
      onRemove: removed,
    },
    add: (choice) => {
      const made = withChoice(document, choice);
      change(`add ${choice.words.toLowerCase()}`, () => made.enclosure);
      choose(made.id);
    },
  };
  const still = useMemo<Pick<Hands, 'moving' | 'keys'>>(() => {
    const nothing = () => undefined;
    return {
      moving: { onChoose: nothing, onSlide: nothing, onLift: nothing, onEnd: nothing },
      keys: { onNudge: nothing, onCopy: nothing, onRemove: nothing },
    };
  }, []);
  return isTrying ? { ...hands, ...still } : hands;
}
