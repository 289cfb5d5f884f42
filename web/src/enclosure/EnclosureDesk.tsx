// The editor: the model with what is chosen in it, and beside it what follows from it.
import { useMemo, useState } from 'react';
import { useMe } from '../api/record';
import type { Fix, KeptEnclosure } from '../api/schema';
import { Panel } from '../parts/Panel';
import { showValue } from '../parts/quantities';
import { showSize, useLengthUnit } from '../parts/units';
import { Failure, Loading } from '../parts/Waiting';
import { AnimalsPanel } from './AnimalsPanel';
import { Announcements } from './Announcements';
import { BoxPanel } from './BoxPanel';
import { calmOf, Cautions } from './Cautions';
import { ChosenPiece } from './ChosenPiece';
import { EditBar } from './EditBar';
import { pieceNamed } from './edit/pieces';
import { isSuperseded, problemsAt, problemsOf } from './edit/problems';
import { useEditing } from './edit/useEditing';
import classes from './EnclosureDesk.module.css';
import { FieldView } from './FieldView';
import { FixList } from './FixList';
import { HistoryPanel } from './HistoryPanel';
import type { Pin } from './model/SpotPins';
import { NextPanel, pinsOf } from './NextPanel';
import { PieceList } from './PieceList';
import { ReachProfile } from './ReachProfile';
import { SpotList } from './SpotList';
import { Trying } from './Trying';
import { useHands } from './useHands';
import { useJudged } from './useJudged';
import { AnimalChoice, VerdictView } from './VerdictView';
import { WarmthPanel } from './WarmthPanel';

function useCanWrite(site: string | null): boolean {
  const role = useMe().data?.sites.find((one) => one.site.id === site)?.role;
  return role !== undefined && role !== 'viewer';
}

export function EnclosureDesk({ kept }: { kept: KeptEnclosure }) {
  const [unit] = useLengthUnit();
  const editing = useEditing(kept);
  const { base, document } = editing;
  const canWrite = useCanWrite(base.site);
  const [tried, setTried] = useState<Fix | null>(null);
  const [isHistoryOpen, setHistoryOpen] = useState(false);
  const [chosenAnimal, setChosenAnimal] = useState(0);
  const { chosen, choose, moving, keys, add } = useHands(editing, tried !== null);

  const shown = tried?.enclosure ?? document;
  const { judged, judgement, readings, recorded, round, latest, fixes, next } = useJudged(
    base.id,
    shown,
    document,
  );
  const animal = judgement?.animals[chosenAnimal] ?? judgement?.animals[0];
  const problems = [...problemsOf(judged.error), ...problemsOf(editing.saveError)];
  const isFailing = judged.error && !isSuperseded(judged.error);
  const spots = useMemo(() => judgement?.spots ?? [], [judgement]);
  const pins = useMemo<Pin[]>(() => {
    const read = spots.map((spot) => ({ ...spot, value: showValue('uvi', spot.uvi) }));
    return [...read, ...pinsOf(next.answer?.next ?? [], read)];
  }, [spots, next.answer]);
  const found = pieceNamed(document, chosen);
  const chosenProblems = found
    ? problemsAt(
        problems,
        found.list,
        (document[found.list] ?? []).findIndex(({ id }) => id === chosen),
      )
    : [];

  const accept = (fix: Fix) => {
    editing.change(fix.words, () => ({ ...fix.enclosure }));
    setTried(null);
  };
  return (
    <>
      <div className={classes.title}>
        <h1>{document.name ?? document.id}</h1>
        <span>{showSize(document.size_cm, unit)}</span>
      </div>
      <EditBar
        editing={editing}
        canWrite={canWrite}
        isHistoryOpen={isHistoryOpen}
        onHistory={() => setHistoryOpen(!isHistoryOpen)}
      />
      <Announcements editing={editing} />
      {isHistoryOpen && <HistoryPanel editing={editing} canWrite={canWrite} />}
      {judgement && judgement.animals.length > 1 && (
        <AnimalChoice animals={judgement.animals} chosen={chosenAnimal} onChoose={setChosenAnimal} />
      )}
      <Cautions enclosure={shown} notes={judgement?.notes ?? []} />
      {isFailing && <Failure error={judged.error} retry={() => void judged.refetch()} />}
      <div className={classes.desk}>
        <div className={classes.view}>
          {tried && <Trying fix={tried} onAccept={() => accept(tried)} onPutBack={() => setTried(null)} />}
          <FieldView
            enclosure={shown}
            before={tried ? document : null}
            band={animal?.band ?? null}
            spots={spots}
            pins={pins}
            chosen={chosen}
            moving={moving}
            keys={keys}
            onLetGo={() => choose(null)}
          >
            {chosen !== null && (
              <ChosenPiece
                enclosure={document}
                id={chosen}
                problems={chosenProblems}
                onChange={editing.change}
                onEnd={editing.endStroke}
                onCopy={() => keys.onCopy(chosen)}
                onRemove={() => keys.onRemove(chosen)}
                onClose={() => choose(null)}
              />
            )}
          </FieldView>
        </div>
        <div className={classes.side} aria-busy={judged.isBehind}>
          {!judgement && !judged.error && <Loading what="the verdict" lines={6} />}
          {judgement && animal && <VerdictView animal={animal} notes={calmOf(judgement.notes)} />}
          {judgement && (
            <Panel title="Spots">
              <SpotList
                enclosure={shown}
                judgement={judgement}
                animal={animal}
                latest={latest}
                chosen={chosen}
                onChoose={(id) => choose(id === chosen ? null : id)}
              />
            </Panel>
          )}
          <Panel title="Fixes">
            <FixList
              job={fixes}
              enclosure={document}
              base={base}
              canWrite={canWrite}
              allHolds={judgement?.animals.every((one) => one.verdict.overall.holds === true) ?? false}
              tried={tried}
              onTry={(fix) => setTried(fix === tried ? null : fix)}
              onAccept={accept}
            />
          </Panel>
          <NextPanel job={next} enclosure={document} surveyId={canWrite ? base.id : null} />
        </div>
        <div className={classes.details}>
          <div className={classes.column}>
            <Panel title="What stands in it">
              <PieceList
                enclosure={document}
                problems={problems}
                chosen={chosen}
                onChoose={(id) => choose(id === chosen ? null : id)}
                onAdd={add}
              />
            </Panel>
            <AnimalsPanel
              enclosure={document}
              problems={problems}
              onChange={editing.change}
              onEnd={editing.endStroke}
            />
          </div>
          <div className={classes.column}>
            <WarmthPanel
              enclosure={shown}
              animal={animal}
              readings={readings}
              recorded={recorded}
              round={round}
            />
            {animal && (
              <Panel title="Reach">
                <ReachProfile animal={animal} />
              </Panel>
            )}
            <BoxPanel editing={editing} problems={problems} />
          </div>
        </div>
      </div>
    </>
  );
}
