// Where the slice lies: level at any height, or standing.
import { SegmentedControl, Slider, Switch } from '@mantine/core';
import { memo } from 'react';
import { showLength, useLengthUnit } from '../parts/units';
import classes from './FieldView.module.css';
import { cutWords, type Cut } from './slice';

type Props = {
  cut: Cut;
  at_cm: number;
  extent_cm: number;
  isShell: boolean;
  hasBand: boolean;
  onCut: (cut: Cut) => void;
  onPlace: (cm: number) => void;
  onShell: (isShown: boolean) => void;
};

const cuts = Object.keys(cutWords) as Cut[];
const sliderWords: Record<Cut, string> = {
  level: 'Height of the slice',
  lengthwise: 'Distance of the slice from the front',
  crosswise: 'Distance of the slice from the left',
};

export const PlaneChoice = memo(function PlaneChoice(props: Props) {
  const { cut, at_cm, extent_cm, isShell, hasBand, onCut, onPlace, onShell } = props;
  const [unit] = useLengthUnit();
  return (
    <div className={classes.plane}>
      <SegmentedControl
        aria-label="Direction of the slice"
        size="xs"
        data={cuts.map((value) => ({ value, label: cutWords[value] }))}
        value={cut}
        onChange={(value) => onCut(value as Cut)}
      />
      <Slider
        className={classes.slider}
        thumbLabel={sliderWords[cut]}
        label={(cm) => showLength(cm, unit)}
        min={0}
        max={extent_cm}
        step={1}
        value={Math.round(at_cm)}
        onChange={onPlace}
      />
      <span className={classes.height}>
        {sliderWords[cut]}: <b>{showLength(Math.round(at_cm), unit)}</b>
      </span>
      <Switch
        size="xs"
        className={classes.shell}
        label="Show in space where the band begins and ends"
        checked={isShell && hasBand}
        disabled={!hasBand}
        onChange={(event) => onShell(event.currentTarget.checked)}
      />
    </div>
  );
});
