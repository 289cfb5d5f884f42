import { memo } from 'react';
import type { Quantity } from '../api/schema';
import { gradient, placeOnScale, type Scale } from './colourScale';
import classes from './Legend.module.css';
import { quantityWords, showValue } from './quantities';

type Props = { quantity: Quantity; scale: Scale; band?: readonly [number, number] | null };

// The colours of the field with their values; for UVI also the animal's band.
export const Legend = memo(function Legend({ quantity, scale, band = null }: Props) {
  const { name, unit } = quantityWords[quantity];
  const left = (value: number) => `${100 * placeOnScale(scale, value)}%`;
  return (
    <figure
      className={classes.legend}
      aria-label={`Colours of the field: ${name}, dark is little, yellow is much`}
    >
      <figcaption>{unit === '' ? name : `${name}, ${unit}`}</figcaption>
      <div className={classes.scale}>
        <div className={classes.bar} style={{ background: gradient }} />
        {band && (
          <div
            className={classes.band}
            title={`Band ${showValue('uvi', band[0])} to ${showValue('uvi', band[1])}`}
            style={{ left: left(band[0]), right: `calc(100% - ${left(band[1])})` }}
          />
        )}
        {scale.ticks.map((tick) => (
          <span key={tick} className={classes.tick} style={{ left: left(tick) }}>
            {tick >= 1000 ? tick.toLocaleString('en') : Number(tick.toPrecision(3))}
          </span>
        ))}
      </div>
    </figure>
  );
});
