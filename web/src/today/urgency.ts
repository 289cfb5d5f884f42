// What is due, in the groups a keeper plans by; within each as the server sorted it, most urgent first.
import type { AnimalJudgement, Card, Due } from '../api/schema';
import { verdictParts } from '../parts/words';

const week_days = 7;

export type Group = { title: string; due: readonly Due[] };

export function groupsOf(due: readonly Due[]): readonly Group[] {
  return [
    { title: 'Overdue', due: due.filter(({ days_over }) => days_over > 0) },
    {
      title: 'Today and this week',
      due: due.filter(({ days_over }) => days_over <= 0 && days_over > -week_days),
    },
    { title: 'Later', due: due.filter(({ days_over }) => days_over <= -week_days) },
  ].filter((group) => group.due.length > 0);
}

export function whenWords(days_over: number): string {
  if (days_over === 0) return 'due today';
  const count = Math.abs(days_over) === 1 ? '1 day' : `${Math.abs(days_over)} days`;
  return days_over > 0 ? `${count} over` : `in ${count}`;
}

export type Failing = { card: Card; animal: AnimalJudgement; why: string };

// Animals with a part of their verdict that does not hold, with the reasons.
export function failingOf(cards: readonly Card[]): readonly Failing[] {
  return cards.flatMap((card) =>
    (card.judgement?.animals ?? [])
      .filter((animal) => animal.verdict.overall.holds === false)
      .map((animal) => ({ card, animal, why: whyFailing(animal) })),
  );
}

function whyFailing({ verdict }: AnimalJudgement): string {
  const reasons = verdictParts
    .filter(({ part }) => verdict[part].holds === false)
    .map(({ title, part }) => `${title}: ${verdict[part].why}`);
  return reasons.length > 0 ? reasons.join(' ') : verdict.overall.why;
}
