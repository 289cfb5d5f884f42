// The model with its slice, and what is shown on the slice: quantity, receiver, plane, and the band in space.
import { SegmentedControl } from '@mantine/core';
import { memo, useCallback, useMemo, useState, type ReactNode } from 'react';
import { useMaterials } from '../api/queries';
import type { Enclosure, Material, SpotReading, Vec3 } from '../api/schema';
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
import { useField, type NewestField } from './asking';
import { isSuperseded, problemsOf } from './edit/problems';
import classes from './FieldView.module.css';
import type { Moving } from './model/Grip';
import type { Probe } from './model/SliceSheet';
import type { Pin } from './model/SpotPins';
import { PlaneChoice } from './PlaneChoice';
import { coarseGrid } from './shell';
import { axesOf, gridOf, type Cut, type Grain } from './slice';
import { Stage, type Keys } from './Stage';
import { Store, usePart, type Heard } from './store';

type Props = {
  shown: Heard<Enclosure>;
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
function firstPlaces([width, depth, height]: Vec3, spots: readonly SpotReading[]): Record<Cut, number> {
  const [x, y, z] = spots[0]?.point_cm ?? [width / 2, depth / 2, height / 2];
  return { level: z, lengthwise: y, crosswise: x };
}

type ChoicesProps = {
  quantity: ShownQuantity;
  receiver: Receiver;
  onQuantity: (quantity: ShownQuantity) => void;
  onReceiver: (receiver: Receiver) => void;
};

const Choices = memo(function Choices({ quantity, receiver, onQuantity, onReceiver }: ChoicesProps) {
  return (
    <div className={classes.choices}>
      <SegmentedControl
        aria-label="Quantity"
        size="xs"
        data={shownQuantities.map((value) => ({ value, label: quantityWords[value].name }))}
        value={quantity}
        onChange={(value) => onQuantity(value as ShownQuantity)}
      />
      <SegmentedControl
        aria-label="Receiver"
        size="xs"
        data={receivers.map((value) => ({ value, label: receiverWords[value] }))}
        value={receiver}
        onChange={(value) => onReceiver(value as Receiver)}
      />
    </div>
  );
});

// What is said of the answer beside the model; it changes far less often than the field.
function useAnswered({ answered }: NewestField, asked: ShownQuantity) {
  const quantity = (usePart(answered, ({ answer }) => answer?.header.quantity) ?? asked) as ShownQuantity;
  const high = usePart(answered, ({ answer }) => scaleFor(quantity, answer?.header.most ?? 1).high);
  const error = usePart(answered, (last) => last.error);
  return { quantity, error, scale: useMemo(() => scaleFor(quantity, high), [quantity, high]) };
}

const uvi = 'uvi' as const;
const none: readonly Material[] = [];

export function FieldView(props: Props) {
  const { shown, spots } = props;
  const [quantity, setQuantity] = useState<ShownQuantity>(uvi);
  const [receiver, setReceiver] = useState<Receiver>('aimed');
  const [cut, setCut] = useState<Cut>('level');
  const [moved, setMoved] = useState<Partial<Record<Cut, number>>>({});
  const [isShell, setShell] = useState(false);
  const [probe] = useState(() => new Store<Probe | null>(null));

  const size_cm = usePart(shown, (enclosure) => enclosure.size_cm);
  const extent_cm = size_cm[axesOf(cut)[0]];
  const at_cm = Math.min(extent_cm, moved[cut] ?? firstPlaces(size_cm, spots)[cut]);
  const sliceOf = useCallback(
    (enclosure: Enclosure, grain: Grain) => ({
      enclosure,
      grid: gridOf(cut, at_cm, enclosure.size_cm, grain),
      quantity,
      facing: receiver,
    }),
    [cut, at_cm, quantity, receiver],
  );
  const field = useField(shown, sliceOf);
  const wholeBox = useCallback(
    (enclosure: Enclosure) => ({
      enclosure,
      grid: coarseGrid(enclosure.size_cm),
      quantity: uvi,
      facing: receiver,
    }),
    [receiver],
  );
  const space = useField(shown, wholeBox, 'space', isShell);
  const materials = useMaterials();
  // While an answer is under way the last field stays, with the words that belong to it.
  const answered = useAnswered(field, quantity);
  const band = answered.quantity === uvi ? props.band : null;
  const place = useCallback((cm: number) => setMoved((before) => ({ ...before, [cut]: cm })), [cut]);

  return (
    <section className={classes.view} aria-label="Light field">
      <Choices quantity={quantity} receiver={receiver} onQuantity={setQuantity} onReceiver={setReceiver} />
      <Stage
        shown={shown}
        before={props.before}
        materials={materials.data?.materials ?? none}
        field={field}
        space={isShell ? space : null}
        band={band}
        pins={props.pins}
        chosen={props.chosen}
        moving={props.moving}
        keys={props.keys}
        probe={probe}
        quantity={answered.quantity}
        onProbe={probe.set}
        onLetGo={props.onLetGo}
      />
      {/* What is wrong with the document stands beside its parts; other failures here. */}
      {answered.error && !isSuperseded(answered.error) && problemsOf(answered.error).length === 0 && (
        <Failure error={answered.error} retry={field.again} />
      )}
      <PlaneChoice
        cut={cut}
        at_cm={at_cm}
        extent_cm={extent_cm}
        isShell={isShell}
        hasBand={band !== null}
        onCut={setCut}
        onPlace={place}
        onShell={setShell}
      />
      <Legend quantity={answered.quantity} scale={answered.scale} band={band} />
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
