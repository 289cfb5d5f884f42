// The model with its slice, and what is shown on the slice: quantity, receiver, plane, and the band in space.
import { SegmentedControl } from '@mantine/core';
import { useMemo, useState, type ReactNode } from 'react';
import { useMaterials } from '../api/queries';
import type { Enclosure, SpotReading } from '../api/schema';
import { scaleFor } from '../parts/colourScale';
import { Legend } from '../parts/Legend';
import {
  quantityWords,
  receivers,
  receiverWords,
  shownQuantities,
  type Receiver,
  type ShownQuantity,
} from '../parts/quantities';
import { Failure } from '../parts/Waiting';
import { useField } from './asking';
import { isSuperseded, problemsOf } from './edit/problems';
import classes from './FieldView.module.css';
import type { Moving } from './model/Grip';
import type { Probe } from './model/SliceSheet';
import type { Pin } from './model/SpotPins';
import { cuts, PlaneChoice } from './PlaneChoice';
import { coarseGrid } from './shell';
import { axesOf, gridOf, type Cut } from './slice';
import { Stage, type Keys } from './Stage';

type Props = {
  enclosure: Enclosure;
  before: Enclosure | null;
  band: readonly [number, number] | null;
  spots: readonly SpotReading[];
  pins: readonly Pin[];
  chosen: string | null;
  moving: Moving;
  keys: Keys;
  onLetGo: () => void;
  children?: ReactNode; // what belongs directly below the model
};

// Through the first spot, where the animal's back is; through the middle where there are no spots.
function firstPlaces(enclosure: Enclosure, spots: readonly SpotReading[]): Record<Cut, number> {
  const [width, depth, height] = enclosure.size_cm;
  const [x, y, z] = spots[0]?.point_cm ?? [width / 2, depth / 2, height / 2];
  return { level: z, lengthwise: y, crosswise: x };
}

export function FieldView(props: Props) {
  const { enclosure, spots } = props;
  const [quantity, setQuantity] = useState<ShownQuantity>('uvi');
  const [receiver, setReceiver] = useState<Receiver>('aimed');
  const [cut, setCut] = useState<Cut>('level');
  const [moved, setMoved] = useState<Partial<Record<Cut, number>>>({});
  const [isShell, setShell] = useState(false);
  const [probe, setProbe] = useState<Probe | null>(null);

  const extent_cm = enclosure.size_cm[axesOf(cut)[0]];
  const at_cm = Math.min(extent_cm, moved[cut] ?? firstPlaces(enclosure, spots)[cut]);
  const slice = useMemo(
    () => ({ enclosure, grid: gridOf(cut, at_cm, enclosure.size_cm), quantity, facing: receiver }),
    [enclosure, cut, at_cm, quantity, receiver],
  );
  const field = useField(slice);
  const wholeBox = useMemo(
    () => ({ enclosure, grid: coarseGrid(enclosure.size_cm), quantity: 'uvi' as const, facing: receiver }),
    [enclosure, receiver],
  );
  const space = useField(wholeBox, 'space', isShell);
  const materials = useMaterials();
  // While an answer is under way the last field stays, with the words that belong to it.
  const answered = (field.data?.header.quantity ?? quantity) as ShownQuantity;
  const answeredCut = cuts.find((c) => field.data?.header.counts[axesOf(c)[0]] === 1) ?? cut;
  const most = field.data?.header.most ?? 1;
  const scale = useMemo(() => scaleFor(answered, most), [answered, most]);
  const band = answered === 'uvi' ? props.band : null;

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
      <Stage
        enclosure={enclosure}
        before={props.before}
        materials={materials.data?.materials ?? []}
        field={field.data}
        space={isShell ? space.data : undefined}
        cut={answeredCut}
        scale={scale}
        band={band}
        pins={props.pins}
        chosen={props.chosen}
        moving={props.moving}
        keys={props.keys}
        probe={probe}
        quantity={answered}
        onProbe={setProbe}
        onLetGo={props.onLetGo}
      />
      {/* What is wrong with the document stands beside its parts; other failures here. */}
      {field.error && !isSuperseded(field.error) && problemsOf(field.error).length === 0 && (
        <Failure error={field.error} retry={() => void field.refetch()} />
      )}
      <PlaneChoice
        cut={cut}
        at_cm={at_cm}
        extent_cm={extent_cm}
        isShell={isShell}
        hasBand={band !== null}
        onCut={setCut}
        onPlace={(cm) => setMoved({ ...moved, [cut]: cm })}
        onShell={setShell}
      />
      <Legend quantity={answered} scale={scale} band={band} />
      {band && (
        <p className={classes.note}>
          White lines on the slice: where the animal’s band begins and ends. The field is computed from the
          lamps as they are described; readings are taken into account in the verdict and the spots.
        </p>
      )}
      {props.children}
    </section>
  );
}
