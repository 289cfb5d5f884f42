import { UnstyledButton } from '@mantine/core';
import type { Vec3 } from '../api/schema';
import { PlaceFields } from '../enclosure/forms/fields';
import { showSize, useLengthUnit } from '../parts/units';
import { shapes } from './firstDocument';
import classes from './FirstRunPage.module.css';

type Props = { size_cm: Vec3; onSize: (size: Vec3) => void };

// The front of the box, all drawn to one scale.
function Outline({ size_cm: [w, , h] }: { size_cm: Vec3 }) {
  const scale = 0.3;
  return (
    <svg width={58} height={42} viewBox="0 0 58 42" aria-hidden="true">
      <rect
        x={29 - (w * scale) / 2}
        y={41 - h * scale}
        width={w * scale}
        height={h * scale}
        fill="none"
        stroke="currentColor"
        strokeWidth="1.5"
      />
    </svg>
  );
}

const isSame = (a: Vec3, b: Vec3) => a.every((cm, i) => cm === b[i]);

export function SizeStep({ size_cm, onSize }: Props) {
  const [unit] = useLengthUnit();
  return (
    <section className={classes.step} aria-label="How large">
      <h2>2. How large is its enclosure?</h2>
      <div className={classes.shapes} role="group" aria-label="Common shapes">
        {shapes.map((shape) => (
          <UnstyledButton
            key={shape.key}
            className={classes.shape}
            aria-pressed={isSame(shape.size_cm, size_cm)}
            onClick={() => onSize(shape.size_cm)}
          >
            <Outline size_cm={shape.size_cm} />
            <b>{shape.name}</b>
            <span>{showSize(shape.size_cm, unit)}</span>
          </UnstyledButton>
        ))}
      </div>
      <PlaceFields
        label="size"
        of="Inside"
        value={size_cm}
        words={['Width', 'Depth', 'Height']}
        min={5}
        onChange={onSize}
      />
    </section>
  );
}
