// What can be asked for in the collection, each in its own window.
import type { Card, KeptAnimal, NewNote, Site } from '../api/schema';
import { AddAnimalDialog } from './AddAnimalDialog';
import { MoveDialog } from './MoveDialog';
import { NoteDialog } from './NoteDialog';

export type About = Pick<NewNote, 'about_kind' | 'about'> & { name: string };
export type Asking = { what: 'animal' } | { what: 'move'; animal: KeptAnimal } | ({ what: 'note' } & About);

type Props = { asking: Asking; site: Site; cards: readonly Card[]; onClose: () => void };

export function CollectionDialogs({ asking, site, cards, onClose }: Props) {
  switch (asking.what) {
    case 'animal':
      return <AddAnimalDialog site={site} cards={cards} onClose={onClose} />;
    case 'move':
      return <MoveDialog animal={asking.animal} site={site} cards={cards} onClose={onClose} />;
    case 'note':
      return <NoteDialog about={asking} site={site} onClose={onClose} />;
  }
}
