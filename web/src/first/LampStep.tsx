// Lamps planned for this animal in this box, or none yet.
import { Button, Radio } from '@mantine/core';
import type { Plan, Planning, Species, Vec3 } from '../api/schema';
import { Progress } from '../parts/Progress';
import { showValue } from '../parts/quantities';
import { RangeStrip } from '../parts/RangeStrip';
import type { Job } from '../parts/useJob';
import { Failure, Nothing } from '../parts/Waiting';
import { stateWords } from '../parts/words';
import classes from './FirstRunPage.module.css';

export type PlanAsked = { species: string; size_cm: Vec3 };
export type PlanJob = Job<PlanAsked, Planning>;

type Props = {
  job: PlanJob;
  sheet: Species | null;
  size_cm: Vec3;
  chosen: Plan | null | undefined; // null: lamps are placed by hand
  onChoose: (plan: Plan | null) => void;
};

const own = 'own';

function PlanWords({ plan }: { plan: Plan }) {
  const animal = plan.judgement.animals[0];
  const marks = plan.judgement.spots.map((spot) => ({ ...spot, state: animal?.states[spot.id] }));
  return (
    <span className={classes.plan}>
      <b>{plan.words}</b>
      <RangeStrip band={animal?.band} ceiling={animal?.ceiling} marks={marks} axis={false} />
      <span className={classes.soft}>
        {marks
          .map(
            (mark) =>
              `${mark.name}: UVI ${showValue('uvi', mark.uvi)}${mark.state ? `, ${stateWords[mark.state]}` : ''}`,
          )
          .join('; ')}
        . {plan.power_w} W in all, about {Math.max(1, Math.round(plan.effort))} min to put up.
      </span>
      {plan.lamps.some(({ synthetic }) => synthetic) && (
        <span className={classes.soft}>Generic lamps with typical output: measure once they hang.</span>
      )}
      {plan.wrong.map((words) => (
        <span key={words} className={classes.wrong}>
          {words}
        </span>
      ))}
    </span>
  );
}

export function LampStep({ job, sheet, size_cm, chosen, onChoose }: Props) {
  const plans = job.answer ? [...job.answer.plans, ...job.answer.nearest] : [];
  const isStale =
    job.asked !== null &&
    (job.asked.species !== sheet?.id || job.asked.size_cm.some((cm, i) => cm !== size_cm[i]));
  const canPlan = sheet?.band != null;
  return (
    <section className={classes.step} aria-label="Which lamps">
      <h2>3. Which lamps?</h2>
      {job.isBusy ? (
        <Progress what="Planning lamps" onCancel={job.cancel} />
      ) : (
        <div className={classes.deeds}>
          <Button
            disabled={!canPlan}
            variant={plans.length > 0 && !isStale ? 'default' : 'filled'}
            onClick={() => sheet && job.ask({ species: sheet.id, size_cm })}
          >
            {plans.length > 0 ? 'Plan again' : 'Plan lamps for me'}
          </Button>
          {!sheet && <Nothing>Choose the animal first.</Nothing>}
        </div>
      )}
      {job.error && <Failure error={job.error} />}
      {job.answer && job.answer.plans.length === 0 && (
        <Nothing>Nothing in the library suits entirely; this comes nearest.</Nothing>
      )}
      {isStale && plans.length > 0 && (
        <p className={classes.wrong}>These plans are for what was chosen before; plan again.</p>
      )}
      <Radio.Group
        aria-label="Lamps"
        value={chosen === null ? own : String(plans.findIndex((plan) => plan === chosen))}
        onChange={(value) => onChoose(value === own ? null : (plans[Number(value)] ?? null))}
      >
        <div className={classes.plans}>
          {!isStale &&
            plans.map((plan, i) => (
              <Radio.Card key={plan.words} value={String(i)} className={classes.card} data-testid="plan">
                <Radio.Indicator />
                <PlanWords plan={plan} />
              </Radio.Card>
            ))}
          <Radio.Card value={own} className={classes.card}>
            <Radio.Indicator />
            <span className={classes.plan}>
              <b>I place lamps myself</b>
              <span className={classes.soft}>
                A box of glass with a stone to bask on and a hide; everything can be changed.
              </span>
            </span>
          </Radio.Card>
        </div>
      </Radio.Group>
    </section>
  );
}
