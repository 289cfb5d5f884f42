// What this device keeps for itself: the places as they were last seen, the rounds that go on, and every write on its
// way to the server. A transaction counts as done when it is on the disk (durability strict), so that what was shown
// as taken survives a closed page and an empty battery.
import Dexie, { type EntityTable } from 'dexie';
import type { Card, Due, Meter, Write } from '../api/schema';

export type Place = { id: string; site: string; card: Card; kept_at: string };

export type Json = string | number | boolean | null | readonly Json[] | { readonly [name: string]: Json };
export type Fields = Readonly<Record<string, Json>>;
export type OwnWrite = Omit<Write, 'fields'> & { id: string; key: string; fields?: Fields };

// waiting: to be sent; sent: acknowledged; refused: the server will not have it as it is; aside: put aside by the
// person; undone: taken back before it ever left.
export type WriteState = 'waiting' | 'sent' | 'refused' | 'aside' | 'undone';

export type Row = {
  seq: number; // the order of sending
  id: string; // of the thing written
  round: string; // the survey it belongs to
  spot: string | null;
  quantity: string | null;
  write: OwnWrite;
  words: string; // for the person: "Flat stone, UVI 4.2"
  state: WriteState;
  tried: boolean; // it may have reached the server
  taken_back: boolean;
  by: string | null; // who typed it; null: nobody known
  made_at: string;
  sent_at: string | null;
  problem: string | null; // why it was refused, or why it still waits
};

export type Round = {
  id: string; // the survey's
  site: string;
  enclosure: string;
  begun_at: string;
  ended_at: string | null;
  spot: string; // where the person stands
  quantity: string;
  draft: string; // digits typed and not yet taken
  in_the_way: boolean;
};

export type Choice = { name: string; value: string };

class Kept extends Dexie {
  declare places: EntityTable<Place, 'id'>;
  declare due: EntityTable<Due, 'thing'>; // surveys only; `thing` is the enclosure
  declare meters: EntityTable<Meter, 'id'>;
  declare rounds: EntityTable<Round, 'id'>;
  declare outbox: EntityTable<Row, 'seq'>;
  declare choices: EntityTable<Choice, 'name'>;

  constructor() {
    super('dapple', { chromeTransactionDurability: 'strict' });
    this.version(1).stores({
      places: 'id, site',
      due: 'thing, site',
      meters: 'id',
      rounds: 'id, enclosure',
      outbox: '++seq, id, round, state',
      choices: 'name',
    });
  }
}

export const kept = new Kept();
