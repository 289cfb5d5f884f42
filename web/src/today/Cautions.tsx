import classes from './TodayPage.module.css';

const cautions: readonly { title: string; words: string }[] = [
  {
    title: 'Eyes and skin',
    words:
      'Ultraviolet injures eyes and skin, yours and theirs. Never look into a lamp. Survey with the lamps’ guards in place.',
  },
  {
    title: 'Hot and high up',
    words: 'Switch a lamp off and let it cool before you move it, or anything near it.',
  },
  {
    title: 'Mains and fire',
    words:
      'Fixed fittings, a thermostat on every heater, guards, the local electrical code, and a licensed electrician for the wiring.',
  },
  {
    title: 'Not a diagnosis',
    words: 'A number from a model is no diagnosis. Sick, young, albino or gravid animals need a reptile vet.',
  },
  {
    title: 'Guidance, with its source',
    words:
      'What a species wants comes from the literature or from memory; its sheet says which, beside each value.',
  },
];

export function Cautions() {
  return (
    <details className={classes.cautions}>
      <summary>Before you reach into an enclosure</summary>
      <dl>
        {cautions.map(({ title, words }) => (
          <div key={title}>
            <dt>{title}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
