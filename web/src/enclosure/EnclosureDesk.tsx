// The editor: the model with what is chosen in it, and beside it what follows from it.
import { useCallback, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { useMe } from '../api/record';
import type { Animal, AnimalJudgement, Fix, KeptEnclosure } from '../api/schema';
import { Panel } from '../parts/Panel';
import { showValue } from '../parts/quantities';
import { showSize, useLengthUnit } from '../parts/units';
import { Failure } from '../parts/Waiting';
import { AnimalsPanel } from './AnimalsPanel';
import { Announcements } from './Announcements';
import { useRested } from './asking';
import { Beside } from './Beside';
import { boxOf, BoxPanel } from './BoxPanel';
import { Cautions } from './Cautions';
import { ChosenPiece } from './ChosenPiece';
import { barOf, EditBar } from './EditBar';
import { pieceNamed } from './edit/pieces';
import { isSuperseded, problemsAt, problemsOf } from './edit/problems';
import { useEditing } from './edit/useEditing';
import classes from './EnclosureDesk.module.css';
import { FieldView } from './FieldView';
import { HistoryPanel } from './HistoryPanel';
import type { Pin } from './model/SpotPins';
import { pinsOf } from './NextPanel';
import { PieceList } from './PieceList';
import { ReachProfile } from './ReachProfile';
import { still, useSame } from './store';
import { Trying } from './Trying';
import { useHands } from './useHands';
import { useJudged } from './useJudged';
import { AnimalChoice } from './VerdictView';
import { WarmthPanel } from './WarmthPanel';

const nobody: readonly Animal[] = [];
const unjudged: readonly AnimalJudgement[] = [];
const noNotes: readonly string[] = [];

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

  const shown = useMemo(() => (tried ? still(tried.enclosure) : editing.live), [tried, editing.live]);
  const documentAtRest = useRested(document);
  const shownAtRest = useRested(tried?.enclosure ?? document);
  const { judged, judgement, readings, recorded, round, latest, fixes, next } = useJudged(
    base.id,
    shownAtRest,
    documentAtRest,
  );
  const animal = judgement?.animals[chosenAnimal] ?? judgement?.animals[0];
  const problems = useMemo(
    () => [...problemsOf(judged.error), ...problemsOf(editing.saveError)],
    [judged.error, editing.saveError],
  );
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

  const { change, endStroke } = editing;
  const box = useSame(boxOf(editing.fields));
  const accept = useCallback(
    (fix: Fix) => {
      change(fix.words, () => ({ ...fix.enclosure }));
      setTried(null);
    },
    [change],
  );
  const tryOn = useCallback((fix: Fix) => setTried((now) => (fix === now ? null : fix)), []);
  const chooseOrLetGo = useCallback((id: string) => choose((now) => (id === now ? null : id)), [choose]);
  const letGo = useCallback(() => choose(null), [choose]);
  const openHistory = useCallback(() => setHistoryOpen((isOpen) => !isOpen), []);
  return (
    <>
      <div className={classes.title}>
        <h1>{document.name ?? document.id}</h1>
        <span>{showSize(document.size_cm, unit)}</span>
        <Link href={`/report?enclosure=${encodeURIComponent(document.id)}`} className={classes.onPaper}>
          On paper
        </Link>
      </div>
      <EditBar
        bar={useSame(barOf(editing))}
        canWrite={canWrite}
        isHistoryOpen={isHistoryOpen}
        onHistory={openHistory}
      />
      <Announcements editing={editing} />
      {isHistoryOpen && (
        <HistoryPanel
          base={base}
          isUnsaved={editing.isUnsaved}
          isRestoring={editing.isRestoring}
          restore={editing.restore}
          canWrite={canWrite}
        />
      )}
      {(documentAtRest.animals?.length ?? 0) > 1 && (
        <div className={classes.choice}>
          {judgement && judgement.animals.length > 1 && (
            <AnimalChoice animals={judgement.animals} chosen={chosenAnimal} onChoose={setChosenAnimal} />
          )}
        </div>
      )}
      <Cautions enclosure={shownAtRest} notes={judgement?.notes ?? noNotes} />
      {isFailing && <Failure error={judged.error} retry={() => void judged.refetch()} />}
      <div className={classes.desk}>
        <div className={classes.view}>
          {tried && <Trying fix={tried} onAccept={() => accept(tried)} onPutBack={() => setTried(null)} />}
          <FieldView
            shown={shown}
            before={tried ? document : null}
            band={animal?.band ?? null}
            spots={spots}
            pins={pins}
            chosen={chosen}
            moving={moving}
            keys={keys}
            onLetGo={letGo}
          >
            {chosen !== null && (
              <ChosenPiece
                enclosure={document}
                id={chosen}
                problems={chosenProblems}
                onChange={change}
                onEnd={endStroke}
                onCopy={() => keys.onCopy(chosen)}
                onRemove={() => keys.onRemove(chosen)}
                onClose={letGo}
              />
            )}
          </FieldView>
        </div>
        <div className={classes.side} aria-busy={judged.isBehind || documentAtRest !== document}>
          <Beside
            isAsked={!judged.error}
            base={base}
            document={documentAtRest}
            shown={shownAtRest}
            judgement={judgement}
            animal={animal}
            latest={latest}
            chosen={chosen}
            canWrite={canWrite}
            fixes={fixes}
            next={next}
            tried={tried}
            onChoose={chooseOrLetGo}
            onTry={tryOn}
            onAccept={accept}
          />
        </div>
        <div className={classes.details}>
          <div className={classes.column}>
            <Panel title="What stands in it">
              <PieceList
                enclosure={documentAtRest}
                problems={problems}
                chosen={chosen}
                onChoose={chooseOrLetGo}
                onAdd={add}
              />
            </Panel>
            <AnimalsPanel
              animals={document.animals ?? nobody}
              problems={problems}
              onChange={change}
              onEnd={endStroke}
            />
          </div>
          <div className={classes.column}>
            <WarmthPanel
              enclosure={shownAtRest}
              animals={judgement?.animals ?? unjudged}
              readings={readings}
              recorded={recorded}
              round={round}
            />
            {animal && (
              <Panel title="Reach">
                <ReachProfile animal={animal} />
              </Panel>
            )}
            <BoxPanel
              box={box}
              base={base}
              problems={problems}
              change={change}
              changeFields={editing.changeFields}
              endStroke={endStroke}
            />
          </div>
        </div>
      </div>
    </>
  );
}
