// Where the processor draws the model, a frame takes longer than the server's answer. What is moved waits for its light,
// so that one frame shows both, and the light does not come behind a frame without it.
import { useThree } from '@react-three/fiber';
import { useEffect } from 'react';
import type { Enclosure } from '../../api/schema';
import type { NewestField } from '../asking';
import type { Heard } from '../store';

const patience_ms = 60; // then what is moved is drawn alone

export function TogetherFrames({ shown, field }: { shown: Heard<Enclosure>; field: NewestField }) {
  const invalidate = useThree((state) => state.invalidate);
  const setFrameloop = useThree((state) => state.setFrameloop);
  useEffect(() => {
    let waiting: ReturnType<typeof setTimeout> | undefined;
    const draw = () => {
      if (waiting === undefined) return;
      clearTimeout(waiting);
      waiting = undefined;
      setFrameloop('demand');
      invalidate();
    };
    const stopShown = shown.hear(() => {
      if (waiting !== undefined) return;
      setFrameloop('never');
      waiting = setTimeout(draw, patience_ms);
    });
    const stopField = field.answered.hear(draw);
    return () => {
      stopShown();
      stopField();
      draw();
    };
  }, [shown, field, invalidate, setFrameloop]);
  return null;
}
