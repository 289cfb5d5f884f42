// The chosen piece beside the model: its place and everything about it in numbers and words.
import { Button, TextInput } from '@mantine/core';
import type { Enclosure, Problem } from '../api/schema';
import classes from './ChosenPiece.module.css';
import { movedBy, centreOf } from './edit/placing';
import { pieceNamed, withPiece, type List, type Piece, type PieceOf } from './edit/pieces';
import type { ChangeDocument } from './edit/useEditing';
import { without } from './edit/without';
import { nameOf } from './document';
import { PlaceFields } from './forms/fields';
import { FurnitureForm } from './forms/FurnitureForm';
import { LampForm } from './forms/LampForm';
import { Problems } from './forms/Problems';
import { ScreenForm } from './forms/ScreenForm';
import { SpotForm } from './forms/SpotForm';

type Props = {
  enclosure: Enclosure;
  id: string;
  problems: readonly Problem[];
  onChange: ChangeDocument;
  onEnd: () => void;
  onCopy: () => void;
  onRemove: () => void;
  onClose: () => void;
};

type Change<L extends List> = (what: string, to: (piece: PieceOf[L]) => PieceOf[L]) => void;

function Form({ found, of, ...props }: Omit<Props, 'id' | 'problems'> & { found: Piece; of: string }) {
  const changing =
    <L extends List>(list: L): Change<L> =>
    (what, to) =>
      props.onChange(
        `${of}: ${what}`,
        (now) => withPiece(now, list, found.piece.id, to),
        `${found.piece.id} ${what}`,
      );
  const common = { of, onEnd: props.onEnd };
  switch (found.list) {
    case 'lamps':
      return <LampForm lamp={found.piece} onChange={changing('lamps')} {...common} />;
    case 'screens':
      return <ScreenForm screen={found.piece} onChange={changing('screens')} {...common} />;
    case 'furniture':
      return <FurnitureForm piece={found.piece} onChange={changing('furniture')} {...common} />;
    case 'spots':
      return (
        <SpotForm spot={found.piece} enclosure={props.enclosure} onChange={changing('spots')} {...common} />
      );
  }
}

const placeWords: Record<List, readonly [string, string, string]> = {
  lamps: ['From left', 'From front', 'Height'],
  spots: ['From left', 'From front', 'Height'],
  furniture: ['Middle from left', 'Middle from front', 'Middle height'],
  screens: ['Middle from left', 'Middle from front', 'Height'],
};

export function ChosenPiece(props: Props) {
  const { enclosure, id, onChange, onEnd } = props;
  const found = pieceNamed(enclosure, id);
  if (!found) return null;
  const of = nameOf(found.piece);
  const centre = centreOf(found);
  const rename = (name: string) =>
    onChange(
      `rename ${of}`,
      (now) =>
        withPiece(now, found.list, id, (piece) =>
          name === '' ? without(piece, 'name') : { ...piece, name },
        ),
      `${id} name`,
    );
  return (
    <section className={classes.chosen} aria-label={`Chosen: ${of}`}>
      <div className={classes.head}>
        <TextInput
          size="xs"
          label="Name"
          aria-label={`${of}: name`}
          value={found.piece.name ?? ''}
          placeholder={found.piece.id}
          onChange={(event) => rename(event.currentTarget.value)}
          onBlur={onEnd}
        />
        <div className={classes.deeds}>
          <Button size="compact-sm" variant="default" onClick={props.onCopy}>
            Duplicate
          </Button>
          <Button size="compact-sm" variant="default" onClick={props.onRemove}>
            Take out
          </Button>
          <Button size="compact-sm" variant="subtle" onClick={props.onClose}>
            Close
          </Button>
        </div>
      </div>
      <Problems problems={props.problems} />
      <PlaceFields
        label="place"
        of={of}
        value={centre}
        words={placeWords[found.list]}
        onChange={(place) =>
          onChange(
            `move ${of}`,
            (now) => movedBy(now, id, [place[0] - centre[0], place[1] - centre[1], place[2] - centre[2]]),
            `${id} place`,
          )
        }
        onEnd={onEnd}
      />
      <Form {...props} found={found} of={of} />
      {found.list === 'lamps' && (
        <p className={classes.caution}>
          Switch it off and let it cool before you move the real one; keep its guard in place.
        </p>
      )}
    </section>
  );
}
