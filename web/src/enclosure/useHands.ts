// What hands do in the model and at the keys, as changes of the document.
import { useMemo, useState, type Dispatch, type SetStateAction } from 'react';
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
  choose: Dispatch<SetStateAction<string | null>>;
  moving: Moving;
  keys: Keys;
  add: (choice: Choice) => void;
};

const nothing = () => undefined;
const tied: Pick<Hands, 'moving' | 'keys'> = {
  moving: { onChoose: nothing, onSlide: nothing, onLift: nothing, onEnd: nothing },
  keys: { onNudge: nothing, onCopy: nothing, onRemove: nothing },
};

// isTrying: a fix is tried on; it is looked at, not worked on.
export function useHands(editing: Editing, isTrying: boolean): Hands {
  const { document, live, change, endStroke } = editing;
  const [chosen, choose] = useState<string | null>(null);
  const free = useMemo(() => {
    const named = (id: string) => {
      const found = pieceNamed(live.now(), id);
      return found ? nameOf(found.piece) : id;
    };
    const moving: Moving = {
      onChoose: choose,
      onSlide: (id, x, y) => change(`move ${named(id)}`, (now) => slidTo(now, id, x, y), `${id} drag`),
      onLift: (id, z) => change(`lift ${named(id)}`, (now) => liftedTo(now, id, z), `${id} lift`),
      onEnd: endStroke,
    };
    const keys: Keys = {
      onNudge: (id, by) => change(`move ${named(id)}`, (now) => movedBy(now, id, by), `${id} keys`),
      onCopy: (id) => {
        const copy = withCopy(live.now(), id);
        if (!copy) return;
        change(`duplicate ${named(id)}`, () => copy.enclosure);
        choose(copy.id);
      },
      onRemove: (id) => {
        change(`take out ${named(id)}`, (now) => withoutPiece(now, id));
        choose(null);
      },
    };
    const add = (choice: Choice) => {
      const made = withChoice(live.now(), choice);
      change(`add ${choice.words.toLowerCase()}`, () => made.enclosure);
      choose(made.id);
    };
    return { choose, moving, keys, add };
  }, [live, change, endStroke]);
  return {
    ...free,
    ...(isTrying && tied),
    chosen: isTrying || !pieceNamed(document, chosen) ? null : chosen,
  };
}
