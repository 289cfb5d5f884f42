// What follows from the enclosure as it is shown: the verdict, the spots, how to put it right, where to measure next.
import { memo } from 'react';
import type { AnimalJudgement, Enclosure, Fix, Judgement, KeptEnclosure } from '../api/schema';
import { Panel } from '../parts/Panel';
import { Loading } from '../parts/Waiting';
import { calmOf } from './Cautions';
import { FixList, type FixJob } from './FixList';
import type { Latest } from './latest';
import { NextPanel, type NextJob } from './NextPanel';
import { SpotList } from './SpotList';
import { VerdictView } from './VerdictView';

type Props = {
  base: KeptEnclosure;
  document: Enclosure;
  shown: Enclosure; // with the fix that is tried on
  judgement: Judgement | undefined;
  isAsked: boolean; // a judgement is on its way
  animal: AnimalJudgement | undefined;
  latest: ReadonlyMap<string, Latest>;
  fixes: FixJob;
  next: NextJob;
  tried: Fix | null;
  chosen: string | null;
  canWrite: boolean;
  onChoose: (id: string) => void;
  onTry: (fix: Fix) => void;
  onAccept: (fix: Fix) => void;
};

export const Beside = memo(function Beside(props: Props) {
  const { base, document, judgement, animal, canWrite } = props;
  // The rest stands below the verdict and would jump when it comes.
  if (!judgement && props.isAsked) return <Loading what="the verdict" lines={6} />;
  return (
    <>
      {judgement && animal && <VerdictView animal={animal} notes={calmOf(judgement.notes)} />}
      {judgement && (
        <Panel title="Spots">
          <SpotList
            enclosure={props.shown}
            judgement={judgement}
            animal={animal}
            latest={props.latest}
            chosen={props.chosen}
            onChoose={props.onChoose}
          />
        </Panel>
      )}
      <Panel title="Fixes">
        <FixList
          job={props.fixes}
          enclosure={document}
          base={base}
          canWrite={canWrite}
          allHolds={judgement?.animals.every((one) => one.verdict.overall.holds === true) ?? false}
          tried={props.tried}
          onTry={props.onTry}
          onAccept={props.onAccept}
        />
      </Panel>
      <NextPanel job={props.next} enclosure={document} surveyId={canWrite ? base.id : null} />
    </>
  );
});
