// A new enclosure, from nothing to its first verdict: animal, size, lamps, name.
import { Button } from '@mantine/core';
import { useId, useState } from 'react';
import { useLocation } from 'wouter';
import { newKey, post } from '../api/client';
import { useDoing, useMe } from '../api/record';
import type { Plan, Species, Vec3 } from '../api/schema';
import { speciesName } from '../parts/SpeciesSearch';
import { useJob } from '../parts/useJob';
import { Failure, Loading } from '../parts/Waiting';
import { fromPlan, idFor, plainBox } from './firstDocument';
import classes from './FirstRunPage.module.css';
import { LampStep, type PlanAsked } from './LampStep';
import { another, PlaceStep } from './PlaceStep';
import { SizeStep } from './SizeStep';
import { SpeciesStep } from './SpeciesStep';

type Asked = {
  site: string;
  siteName: string;
  name: string;
  sheet: Species;
  size_cm: Vec3;
  count: number;
  plan: Plan | null;
};

// Keys are kept while the same is tried again: what a broken line hid is not made twice.
async function make(asked: Asked, key: string): Promise<string> {
  const site =
    asked.site === another
      ? (await post('/api/sites', { name: asked.siteName }, { key: `${key}-site` })).id
      : asked.site;
  const named = { id: idFor(asked.name, key), name: asked.name };
  const document = asked.plan
    ? fromPlan(asked.plan, named, asked.count)
    : plainBox(asked.sheet, asked.size_cm, named, asked.count);
  const made = await post('/api/enclosures', { id: named.id, site, document }, { key: `${key}-enclosure` });
  return made.id;
}

export default function FirstRunPage() {
  const me = useMe();
  const [, go] = useLocation();
  const view = useId().replace(/\W/g, '');
  const [sheet, setSheet] = useState<Species | null>(null);
  const [count, setCount] = useState(1);
  const [size_cm, setSize] = useState<Vec3>([120, 60, 60]);
  const [plan, setPlan] = useState<Plan | null | undefined>(undefined);
  const [chosenSite, setSite] = useState<string | null>(null);
  const [siteName, setSiteName] = useState('');
  const [name, setName] = useState('');
  const [key, setKey] = useState(newKey);
  const plans = useJob((asked: PlanAsked, signal) =>
    post('/api/plan', asked, { signal, view: `plan${view}` }),
  );
  const making = useDoing((asked: Asked) => make(asked, key));

  const writable = (me.data?.sites ?? []).filter(({ role }) => role !== 'viewer');
  const site = chosenSite ?? writable[0]?.site.id ?? another;
  const suggested = sheet ? speciesName(sheet) : '';
  const finalName = name.trim() === '' ? suggested : name.trim();
  const missing = [
    !sheet && 'the animal',
    plan === undefined && 'the lamps',
    site === another && siteName.trim() === '' && 'the site’s name',
  ].filter((one) => one !== false);

  const change = (size: Vec3) => {
    setSize(size);
    if (plan) setPlan(undefined); // it was made for another box
  };
  const finish = () => {
    if (!sheet || plan === undefined) return;
    making.mutate(
      { site, siteName: siteName.trim(), name: finalName, sheet, size_cm, count, plan },
      {
        onSuccess: (id) => {
          setKey(newKey());
          go(`/collection/${encodeURIComponent(id)}`);
        },
      },
    );
  };
  if (me.isPending) return <Loading what="your sites" />;
  return (
    <div className={classes.page}>
      <h1>A new enclosure</h1>
      <p className={classes.soft}>Four questions, then its first verdict. Everything can be changed later.</p>
      <SpeciesStep
        sheet={sheet}
        count={count}
        onCount={setCount}
        onSheet={(chosen) => {
          setSheet(chosen);
          if (plan) setPlan(undefined);
        }}
      />
      <SizeStep size_cm={size_cm} onSize={change} />
      <LampStep job={plans} sheet={sheet} size_cm={size_cm} chosen={plan} onChoose={setPlan} />
      <PlaceStep
        sites={writable}
        site={site}
        siteName={siteName}
        name={name}
        namePlaceholder={suggested}
        onSite={setSite}
        onSiteName={setSiteName}
        onName={setName}
      />
      {making.error && <Failure error={making.error} />}
      <div className={classes.deeds}>
        <Button size="md" disabled={missing.length > 0} loading={making.isPending} onClick={finish}>
          Make it and show the verdict
        </Button>
        {missing.length > 0 && <span className={classes.soft}>Still open: {missing.join(', ')}.</span>}
      </div>
    </div>
  );
}
