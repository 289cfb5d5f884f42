// The verdict on what is shown, with the record's readings where it has any, and the searches that take longer.
import { useEffect, useMemo, useRef } from 'react';
import { useThings } from '../api/record';
import type { Enclosure } from '../api/schema';
import { useJob } from '../parts/useJob';
import { askFixes, askNext, useJudgement, useView, type Readings } from './asking';
import { latestAt } from './latest';

export function useJudged(id: string, shown: Enclosure, kept: Enclosure) {
  const recorded = useThings('readings', { enclosure: id, limit: '10000' });
  const all = useMemo(() => recorded.data ?? [], [recorded.data]);
  const readings: Readings = all.length > 0 ? 'recorded' : undefined;
  // Readings that come in while the screen is open make the verdict a new question.
  const round = useMemo(() => all.reduce((sum, { revision }) => sum + revision, 0), [all]);
  const judged = useJudgement(shown, readings, round);
  const fixView = useView('fix');
  const nextView = useView('next');
  const fixes = useJob((asked: Enclosure, signal) => askFixes(asked, readings, signal, fixView));
  const next = useJob((asked: Enclosure, signal) => askNext(asked, readings, signal, nextView));

  // What stands wrong when the screen is opened is what the person came for: fixes are looked for at once, once.
  const judgement = judged.data;
  const isFaulty = judgement?.animals.some(({ verdict }) => verdict.overall.holds === false) ?? false;
  const isSettled = judgement !== undefined && !judged.isBehind && !recorded.isPending;
  const asked = useRef(false);
  const ask = fixes.ask;
  useEffect(() => {
    if (!isSettled || asked.current) return;
    asked.current = true;
    if (isFaulty) ask(kept);
  }, [isSettled, isFaulty, ask, kept]);

  return {
    judged,
    judgement,
    readings,
    recorded: all,
    round,
    latest: useMemo(() => latestAt(all, 'uvi'), [all]),
    fixes,
    next,
  };
}
