// Sun: when, here and under this shade, the sun is in an animal's band.
import { useDebouncedValue } from '@mantine/hooks';
import { useMemo, useState, type ComponentProps } from 'react';
import { useSearch } from 'wouter';
import { useSpecies } from '../api/queries';
import { useSites, useThings } from '../api/record';
import type { Enclosure, Site } from '../api/schema';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { outdoorsOf, ownTimeZone, questionOf, today, type Form } from './question';
import { SunAnswer } from './SunAnswer';
import { SunForm } from './SunForm';
import classes from './SunPage.module.css';
import { useSun } from './useSun';

const firstForm = (enclosure: string | null): Form => ({
  whom: enclosure === null ? { kind: 'anybody' } : { kind: 'enclosure', id: enclosure },
  site: null,
  place: { lat: '', lon: '', timeZone: ownTimeZone() },
  date: today(),
  cloud: 0,
  ozone: '',
  ground: '',
  cloth: 0,
  forecast: null,
});

// The form of a person who has changed nothing follows the record as it comes in: its first site with a place.
function useForm(sites: readonly Site[]) {
  const asked = new URLSearchParams(useSearch()).get('enclosure');
  const [changed, setChanged] = useState<Form | null>(null);
  const form = useMemo(() => {
    if (changed) return changed;
    const [site] = sites;
    return { ...firstForm(asked), site: site?.id ?? null, date: today(site?.time_zone) };
  }, [changed, sites, asked]);
  return [form, setChanged] as const;
}

const plainName = (form: Form, pen: Enclosure | null) =>
  pen ? (pen.name ?? pen.id) : form.whom.kind === 'species' ? form.whom.species.replaceAll('_', ' ') : '';

type Named = Omit<ComponentProps<typeof SunAnswer>, 'name'> & { plain: string };

// The animal's name comes from its sheet, where it has one.
function AnswerForSpecies({ species, plain, ...rest }: Named & { species: string }) {
  const { data } = useSpecies(species);
  return <SunAnswer name={data?.common_names[0] ?? data?.scientific_name ?? plain} {...rest} />;
}

export default function SunPage() {
  const allSites = useSites();
  const sites = useMemo(
    () => allSites.map(({ site }) => site).filter((s) => s.lat_deg !== undefined && s.lon_deg !== undefined),
    [allSites],
  );
  const kept = useThings('enclosures');
  const pens = useMemo(
    () => (kept.data ?? []).map(({ document }) => document).filter((one) => outdoorsOf(one) !== null),
    [kept.data],
  );
  const [form, setForm] = useForm(sites);
  const ready = useMemo(() => questionOf(form, sites, pens), [form, sites, pens]);
  const [question] = useDebouncedValue(ready.question, 250);
  const answer = useSun(question);
  const { whom } = form;
  const pen = whom.kind === 'enclosure' ? (pens.find(({ id }) => id === whom.id) ?? null) : null;
  const sun = answer.data;
  const isUnderCloth = pen === null && form.cloth > 0;
  const shown = sun && (
    <>
      {sun.species === undefined ? (
        <SunAnswer name={plainName(form, pen)} {...{ sun, pen, isUnderCloth }} />
      ) : (
        <AnswerForSpecies
          species={sun.species}
          plain={plainName(form, pen)}
          {...{ sun, pen, isUnderCloth }}
        />
      )}
    </>
  );
  return (
    <>
      <h1>Sun</h1>
      <p className={classes.lead}>
        When the sun, here and under this shade, is in an animal’s range. Trust the meter: haze and broken
        cloud move a day’s UV index by a fifth.
      </p>
      <div className={classes.page}>
        <div className={classes.column}>
          <SunForm form={form} sites={sites} pens={pens} faults={ready.faults ?? []} onChange={setForm} />
        </div>
        <div className={classes.column} aria-busy={answer.isFetching}>
          {ready.faults && !sun && (
            <Nothing>
              Say whose day it is and where; the sun’s curve and the hours in range appear here.
            </Nothing>
          )}
          {answer.error && <Failure error={answer.error} retry={() => void answer.refetch()} />}
          {question && answer.isPending && <Loading what="the sun’s day" lines={8} />}
          {sun && !answer.error && shown}
        </div>
      </div>
    </>
  );
}
