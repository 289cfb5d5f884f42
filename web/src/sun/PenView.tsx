// The pen at the chosen hour: a model for the eye, and the same in words.
import { SegmentedControl, useComputedColorScheme } from '@mantine/core';
import { lazy, Suspense, useMemo, useState } from 'react';
import { useMaterials } from '../api/queries';
import type { Enclosure, ShadowPlan, Sun } from '../api/schema';
import { gradient, scaleFor } from '../parts/colourScale';
import { Legend } from '../parts/Legend';
import { Panel } from '../parts/Panel';
import { showValue } from '../parts/quantities';
import { Loading } from '../parts/Waiting';
import { clock } from './clock';
import { compassWord } from './direction';
import { fieldAt, layers, layerWords, sharesAt, spotsAt, sunScale, type Layer } from './plan';
import classes from './PenView.module.css';
import { outdoorsOf } from './question';

const PenModel = lazy(() => import('./PenModel'));

type Props = { pen: Enclosure; sun: Sun; plan: ShadowPlan; at: number };

export function PenView({ pen, sun, plan, at }: Props) {
  const scheme = useComputedColorScheme('light', { getInitialValueInEffect: false });
  const materials = useMaterials();
  const [layer, setLayer] = useState<Layer>('uvi');
  const moment = sun.curve[at];
  const time = moment?.time ?? '';
  const field = useMemo(() => fieldAt(plan, time, layer), [plan, time, layer]);
  const spots = useMemo(() => spotsAt(pen, sun, at, plan.min_cm[2]), [pen, sun, at, plan]);
  if (!moment) return null;
  const { inSun, inBand } = sharesAt(plan, time);
  const band = sun.band ?? null;
  const height = Math.round(plan.min_cm[2]);
  return (
    <Panel
      title="The pen at this hour"
      aside={
        <SegmentedControl
          size="xs"
          aria-label="What the floor shows"
          data={layers.map((value) => ({ value, label: layerWords[value] }))}
          value={layer}
          onChange={(value) => setLayer(value as Layer)}
        />
      }
    >
      <div
        className={classes.stage}
        role="group"
        aria-label="Model of the pen with the sun’s direction and its shadows. Drag to turn it. The words below say the same."
      >
        <Suspense fallback={<Loading what="the model" />}>
          <PenModel
            pen={pen}
            materials={materials.data?.materials ?? []}
            field={field}
            scale={layer === 'uvi' ? scaleFor('uvi', 1) : sunScale}
            band={layer === 'uvi' ? band : null}
            spots={spots}
            sun={moment}
            bearing_deg={outdoorsOf(pen)?.bearing_deg ?? 0}
            isDark={scheme === 'dark'}
          />
        </Suspense>
      </div>
      <p className={classes.words} data-testid="pen-words">
        At <b>{clock(time)}</b> the sun stands {Math.round(moment.elevation_deg)}° high in the{' '}
        {compassWord(moment.azimuth_deg)}.{' '}
        {inSun && (
          <>
            It shines on <b>{inSun}</b> of the floor, {height} cm up
            {inBand && (
              <>
                ; <b>{inBand}</b> lies in the animal’s band
              </>
            )}
            .{' '}
          </>
        )}
        {spots.map(({ name, uvi }) => `${name} ${showValue('uvi', uvi)}`).join(', ')}.
      </p>
      <div className={classes.legend}>
        {layer === 'uvi' ? (
          <Legend quantity="uvi" scale={scaleFor('uvi', 1)} band={band} />
        ) : (
          <p className={classes.sunLegend}>
            full shadow <i style={{ background: gradient }} /> full sun
          </p>
        )}
      </div>
    </Panel>
  );
}
