// The meters, with what each was compared to and when that is due again.
import { Button } from '@mantine/core';
import { useState } from 'react';
import { useThings } from '../api/record';
import type { Calibration, Meter } from '../api/schema';
import { showDay } from '../parts/dayWords';
import { mayWrite } from '../parts/site';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { CalibrateDialog } from './CalibrateDialog';
import { MeterDialog, measureWords } from './MeterDialog';
import classes from './SettingsPage.module.css';
import type { Here } from './SettingsPage';

type Asking = { what: 'make' } | { what: 'change' | 'calibrate'; meter: Meter };

const usualMonths = 12; // as the server counts where a meter says nothing (src/record/due.h)

function inWords({ factor, offset_by, certificate }: Calibration): string {
  const offset = offset_by === undefined || offset_by === 0 ? '' : ` + ${offset_by}`;
  return `reading × ${factor}${offset}${certificate === undefined ? '' : `; ${certificate}`}`;
}

function MeterRow({
  meter,
  calibrations,
  onAsk,
}: {
  meter: Meter;
  calibrations: readonly Calibration[];
  onAsk: ((asking: Asking) => void) | null;
}) {
  const what = [measureWords[meter.measures], meter.model, meter.serial && `no. ${meter.serial}`];
  return (
    <li className={classes.row}>
      <div>
        <h3>{meter.name}</h3>
        <p className={classes.soft}>
          {what.filter(Boolean).join(', ')}; calibrated every {meter.calibrate_every_months ?? usualMonths}{' '}
          months
        </p>
        {calibrations.length === 0 ? (
          <p className={classes.late}>Never calibrated</p>
        ) : (
          calibrations.map((one) => (
            <p key={one.id} className={classes.soft}>
              {showDay(one.calibrated_on)}: {inWords(one)}
            </p>
          ))
        )}
        {meter.note !== undefined && <p className={classes.soft}>{meter.note}</p>}
      </div>
      {onAsk && (
        <>
          <Button
            variant="default"
            size="compact-sm"
            aria-label={`Enter a calibration of ${meter.name}`}
            onClick={() => onAsk({ what: 'calibrate', meter })}
          >
            Enter a calibration
          </Button>
          <Button
            variant="subtle"
            size="compact-sm"
            aria-label={`Change ${meter.name}`}
            onClick={() => onAsk({ what: 'change', meter })}
          >
            Change
          </Button>
        </>
      )}
    </li>
  );
}

export function MetersPart({ here: { site, role } }: { here: Here }) {
  const meters = useThings('meters', { site: site.id });
  const calibrations = useThings('calibrations', { site: site.id });
  const [asking, setAsking] = useState<Asking | null>(null);
  const close = () => setAsking(null);
  const error = meters.error ?? calibrations.error;
  const of = (meter: Meter) =>
    (calibrations.data ?? [])
      .filter((one) => one.meter === meter.id)
      .sort((a, b) => b.calibrated_on.localeCompare(a.calibrated_on));
  return (
    <div>
      <h2>Meters</h2>
      {(meters.isPending || calibrations.isPending) && <Loading what="the meters" />}
      {error && (
        <Failure error={error} retry={() => void Promise.all([meters.refetch(), calibrations.refetch()])} />
      )}
      {meters.data?.length === 0 && (
        <Nothing>No meters yet. A reading counts for more when it is known what it was read with.</Nothing>
      )}
      {meters.data && calibrations.data && meters.data.length > 0 && (
        <ul className={classes.rows} aria-label="Meters">
          {meters.data.map((meter) => (
            <MeterRow
              key={meter.id}
              meter={meter}
              calibrations={of(meter)}
              onAsk={mayWrite(role) ? setAsking : null}
            />
          ))}
        </ul>
      )}
      {mayWrite(role) && (
        <Button variant="default" onClick={() => setAsking({ what: 'make' })}>
          Add a meter
        </Button>
      )}
      {asking?.what === 'make' && <MeterDialog site={site.id} onClose={close} />}
      {asking?.what === 'change' && <MeterDialog site={site.id} meter={asking.meter} onClose={close} />}
      {asking?.what === 'calibrate' && (
        <CalibrateDialog
          meter={{ id: asking.meter.id, site: site.id, name: asking.meter.name }}
          zone={site.time_zone}
          onClose={close}
        />
      )}
    </div>
  );
}
