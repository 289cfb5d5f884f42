import { Button, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { newKey, post, put } from '../api/client';
import { useDoing, useThings } from '../api/record';
import type { Room } from '../api/schema';
import { AskDialog } from '../parts/AskDialog';
import { mayWrite } from '../parts/site';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { onlySaid } from './fields';
import classes from './SettingsPage.module.css';
import type { Here } from './SettingsPage';

type Asking = { what: 'make' } | { what: 'change' | 'retire'; room: Room };

function RoomDialog({ site, room, onClose }: { site: string; room?: Room; onClose: () => void }) {
  const [key] = useState(newKey);
  const [name, setName] = useState(room?.name ?? '');
  const [note, setNote] = useState(room?.note ?? '');
  const keep = useDoing(() => {
    const fields = onlySaid({ name: name.trim(), note: note.trim() });
    return room
      ? put('/api/rooms/{id}', fields, { id: room.id, seen: room.revision, key })
      : post('/api/rooms', { site, ...fields }, { key });
  });
  return (
    <AskDialog
      title={room ? `Change ${room.name}` : 'A new room'}
      act={room ? 'Keep the changes' : 'Add the room'}
      onAct={() => keep.mutateAsync(undefined)}
      onClose={onClose}
    >
      <TextInput
        label="Name"
        required
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <Textarea
        label="Note"
        autosize
        minRows={2}
        value={note}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
    </AskDialog>
  );
}

function RetireRoomDialog({ room, onClose }: { room: Room; onClose: () => void }) {
  const retire = useDoing(() =>
    post('/api/rooms/{id}/retire', undefined, { id: room.id, seen: room.revision }),
  );
  return (
    <AskDialog
      title={`${room.name} is no longer in use`}
      act="Take it off the list"
      onAct={() => retire.mutateAsync(undefined)}
      onClose={onClose}
    >
      <p>The room stays in the record, and what stood in it too; it is only no longer offered.</p>
    </AskDialog>
  );
}

export function RoomList({ here: { site, role } }: { here: Here }) {
  const { data, error, isPending, refetch } = useThings('rooms', { site: site.id });
  const [asking, setAsking] = useState<Asking | null>(null);
  const close = () => setAsking(null);
  const mayAct = mayWrite(role);
  return (
    <div>
      <h2>Rooms</h2>
      {isPending && <Loading what="the rooms" />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      {data?.length === 0 && (
        <Nothing>No rooms yet. Enclosures are listed by the room they stand in.</Nothing>
      )}
      {data && data.length > 0 && (
        <ul className={classes.rows} aria-label="Rooms">
          {data.map((room) => (
            <li key={room.id} className={classes.row}>
              <div>
                <h3>{room.name}</h3>
                {room.note !== undefined && <p className={classes.soft}>{room.note}</p>}
              </div>
              {mayAct && (
                <>
                  <Button
                    variant="subtle"
                    size="compact-sm"
                    aria-label={`Change ${room.name}`}
                    onClick={() => setAsking({ what: 'change', room })}
                  >
                    Change
                  </Button>
                  <Button
                    variant="subtle"
                    size="compact-sm"
                    aria-label={`${room.name} is no longer in use`}
                    onClick={() => setAsking({ what: 'retire', room })}
                  >
                    No longer in use
                  </Button>
                </>
              )}
            </li>
          ))}
        </ul>
      )}
      {mayAct && (
        <Button variant="default" onClick={() => setAsking({ what: 'make' })}>
          Add a room
        </Button>
      )}
      {asking?.what === 'make' && <RoomDialog site={site.id} onClose={close} />}
      {asking?.what === 'change' && <RoomDialog site={site.id} room={asking.room} onClose={close} />}
      {asking?.what === 'retire' && <RetireRoomDialog room={asking.room} onClose={close} />}
    </div>
  );
}
