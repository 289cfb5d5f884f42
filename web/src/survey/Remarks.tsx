// A note or a picture of the spot; both wait on the device like the values.
import { Button, Textarea } from '@mantine/core';
import { useId, useState } from 'react';
import { pictureOf } from './photo';
import classes from './Remarks.module.css';
import { keepPhoto, noteDown } from './round';
import { spotName, type RoundHere } from './useRound';

export function Remarks({ here }: { here: RoundHere }) {
  const [text, setText] = useState('');
  const [said, say] = useState('');
  const photoId = useId();
  const spot = spotName(here.spot);
  const note = async () => {
    await noteDown({ round: here.round, spot, text: text.trim() });
    setText('');
    say('The note is kept.');
  };
  const photo = async (file: File) => {
    say('The picture is made smaller.');
    try {
      await keepPhoto(here.round, spot, await pictureOf(file));
      say('The picture is kept.');
    } catch (error) {
      say(`The picture was not kept: ${error instanceof Error ? error.message : String(error)}`);
    }
  };
  return (
    <div className={classes.remarks}>
      <Textarea
        label={`Note on ${spot}`}
        size="md"
        autosize
        minRows={1}
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <div className={classes.deeds}>
        <Button variant="default" size="lg" disabled={text.trim() === ''} onClick={() => void note()}>
          Keep the note
        </Button>
        <label htmlFor={photoId} className={classes.photo}>
          Take a picture
        </label>
        <input
          id={photoId}
          className={classes.file}
          type="file"
          accept="image/*"
          capture="environment"
          onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            event.currentTarget.value = '';
            if (file) void photo(file);
          }}
        />
      </div>
      <p aria-live="polite" className={classes.said}>
        {said}
      </p>
    </div>
  );
}
