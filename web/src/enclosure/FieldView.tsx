// The model with its slice, and what is shown on the slice: quantity, receiver, plane.
import { SegmentedControl, Slider, useComputedColorScheme } from '@mantine/core';
import { lazy, Suspense, useMemo, useState } from 'react';
import { useField, useMaterials } from '../api/queries';
import type { Enclosure, SpotReading, Vec3 } from '../api/schema';
import { scaleFor } from '../parts/colourScale';
import { Legend } from '../parts/Legend';
import {
  quantityWords,
  receivers,
  receiverWords,
  shownQuantities,
  showValue,
  type Receiver,
  type ShownQuantity,
} from '../parts/quantities';
import { showLength, useLengthUnit } from '../parts/units';
import { Failure, Loading } from '../parts/Waiting';
import classes from './FieldView.module.css';
import type { Probe } from './model/SliceSheet';
import { axesOf, cutWords, gridOf, type Cut } from './slice';

const EnclosureModel = lazy(() => import('./model/EnclosureModel'));

type Props = {
  enclosure: Enclosure;
  before: Enclosure | null;
  band: readonly [number, number] | null;
  spots: readonly SpotReading[];
  chosenSpot: string | null;
  chosenLamp: string | null;
  onChooseLamp: (id: string) => void;
  onMoveLamp: (id: string, centre_cm: Vec3) => void;
};

const cuts = Object.keys(cutWords) as Cut[];
const sliderWords: Record<Cut, string> = {
  level: 'Height of the slice',
  lengthwise: 'Distance of the slice from the front',
  crosswise: 'Distance of the slice from the left',
};

// Through the first spot, where the animal's back is; through the middle where there are no spots.
function firstPlaces(enclosure: Enclosure, spots: readonly SpotReading[]): Record<Cut, number> {
  const [width, depth, height] = enclosure.size_cm;
  const [x, y, z] = spots[0]?.point_cm ?? [width / 2, depth / 2, height / 2];
  return { level: z, lengthwise: y, crosswise: x };
}

export function FieldView(props: Props) {
  const { enclosure, spots } = props;
  const [unit] = useLengthUnit();
  const scheme = useComputedColorScheme('light', { getInitialValueInEffect: false });
  const [quantity, setQuantity] = useState<ShownQuantity>('uvi');
  const [receiver, setReceiver] = useState<Receiver>('aimed');
  const [cut, setCut] = useState<Cut>('level');
  const [moved, setMoved] = useState<Partial<Record<Cut, number>>>({});
  const [probe, setProbe] = useState<Probe | null>(null);

  const at_cm = moved[cut] ?? firstPlaces(enclosure, spots)[cut];
  const slice = useMemo(
    () => ({ enclosure, grid: gridOf(cut, at_cm, enclosure.size_cm), quantity, facing: receiver }),
    [enclosure, cut, at_cm, quantity, receiver],
  );
  const field = useField(slice);
  const materials = useMaterials();
  // While an answer is under way the last field stays, with the words that belong to it.
  const answered = (field.data?.header.quantity ?? quantity) as ShownQuantity;
  const answeredCut = cuts.find((c) => field.data?.header.counts[axesOf(c)[0]] === 1) ?? cut;
  const most = field.data?.header.most ?? 1;
  const scale = useMemo(() => scaleFor(answered, most), [answered, most]);
  const band = answered === 'uvi' ? props.band : null;
  const extent = enclosure.size_cm[axesOf(cut)[0]];

  return (
    <section className={classes.view} aria-label="Light field">
      <div className={classes.choices}>
        <SegmentedControl
          aria-label="Quantity"
          size="xs"
          data={shownQuantities.map((value) => ({ value, label: quantityWords[value].name }))}
          value={quantity}
          onChange={(value) => setQuantity(value as ShownQuantity)}
        />
        <SegmentedControl
          aria-label="Receiver"
          size="xs"
          data={receivers.map((value) => ({ value, label: receiverWords[value] }))}
          value={receiver}
          onChange={(value) => setReceiver(value as Receiver)}
        />
      </div>
      <div
        className={classes.stage}
        role="group"
        aria-label="Model of the enclosure. Drag to turn it; drag a lamp to move it. The lists beside it say the same in words."
      >
        <Suspense fallback={<Loading what="the model" />}>
          <EnclosureModel
            enclosure={enclosure}
            before={props.before}
            materials={materials.data?.materials ?? []}
            field={field.data}
            cut={answeredCut}
            scale={scale}
            band={band}
            spots={spots}
            chosenSpot={props.chosenSpot}
            chosenLamp={props.chosenLamp}
            isDark={scheme === 'dark'}
            onChooseLamp={props.onChooseLamp}
            onMoveLamp={props.onMoveLamp}
            onProbe={setProbe}
          />
        </Suspense>
        <div className={classes.probe} data-testid="probe">
          {probe ? (
            <>
              <b>
                {answered === 'uvi' && 'UVI '}
                {showValue(answered, probe.value)}
              </b>{' '}
              at {probe.point_cm.map((cm) => showLength(cm, unit).replace(` ${unit}`, '')).join(', ')} {unit}
            </>
          ) : (
            'Point at the slice to read it. Drag a lamp to move it; with Shift, up and down.'
          )}
        </div>
      </div>
      {field.error && <Failure error={field.error} />}
      <div className={classes.plane}>
        <SegmentedControl
          aria-label="Direction of the slice"
          size="xs"
          data={cuts.map((value) => ({ value, label: cutWords[value] }))}
          value={cut}
          onChange={(value) => setCut(value as Cut)}
        />
        <Slider
          className={classes.slider}
          thumbLabel={sliderWords[cut]}
          label={(cm) => showLength(cm, unit)}
          min={0}
          max={extent}
          step={1}
          value={Math.round(at_cm)}
          onChange={(cm) => setMoved({ ...moved, [cut]: cm })}
        />
        <span className={classes.height}>
          {sliderWords[cut]}: <b>{showLength(Math.round(at_cm), unit)}</b>
        </span>
      </div>
      <Legend quantity={answered} scale={scale} band={band} />
      {band && (
        <p className={classes.note}>
          White lines on the slice: the low and the high end of the animal’s band.
        </p>
      )}
    </section>
  );
}
