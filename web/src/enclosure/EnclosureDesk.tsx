import { Button } from '@mantine/core';
import { useState } from 'react';
import { useFixes, useJudgement } from '../api/queries';
import type { Enclosure, Fix, Vec3 } from '../api/schema';
import { Panel } from '../parts/Panel';
import { showSize, useLengthUnit } from '../parts/units';
import { Failure, Loading } from '../parts/Waiting';
import { withLampAt } from './document';
import classes from './EnclosureDesk.module.css';
import { FieldView } from './FieldView';
import { FixList } from './FixList';
import { LampList } from './LampList';
import { ReachProfile } from './ReachProfile';
import { SpotList } from './SpotList';
import { AnimalChoice, VerdictView } from './VerdictView';

type Props = { original: Enclosure; onPutBack: () => void };

export function EnclosureDesk({ original, onPutBack }: Props) {
  const [unit] = useLengthUnit();
  const [kept, setKept] = useState(original);
  const [tried, setTried] = useState<Fix | null>(null);
  const [chosenAnimal, setChosenAnimal] = useState(0);
  const [chosenSpot, setChosenSpot] = useState<string | null>(null);
  const [chosenLamp, setChosenLamp] = useState<string | null>(null);

  const shown = tried?.enclosure ?? kept;
  const judged = useJudgement(shown);
  const judgement = judged.data;
  const animal = judgement?.animals[chosenAnimal] ?? judgement?.animals[0];
  // The search takes seconds, so it is made for what the person asked about, not for every step of a lamp.
  const [searched, setSearched] = useState(original);
  const fixes = useFixes(searched, judgement !== undefined);

  const moveLamp = (id: string, centre: Vec3) => {
    setKept(withLampAt(shown, id, centre));
    setTried(null);
  };
  const keepTried = () => {
    if (tried) setKept(tried.enclosure);
    setTried(null);
  };
  return (
    <>
      <div className={classes.title}>
        <h1>{original.name ?? original.id}</h1>
        <span>{showSize(original.size_cm, unit)}</span>
        {kept !== original && (
          <Button variant="default" size="compact-sm" onClick={onPutBack}>
            Put everything back
          </Button>
        )}
      </div>
      {judgement && judgement.animals.length > 1 && (
        <AnimalChoice animals={judgement.animals} chosen={chosenAnimal} onChoose={setChosenAnimal} />
      )}
      {judged.error && <Failure error={judged.error} retry={() => void judged.refetch()} />}
      <div className={classes.desk}>
        <div className={classes.view}>
          {tried && (
            <div className={classes.trying} role="status">
              <span>
                <b>Trying on:</b> {tried.words}
              </span>
              <span className={classes.buttons}>
                <Button size="compact-sm" onClick={keepTried}>
                  Keep
                </Button>
                <Button size="compact-sm" variant="default" onClick={() => setTried(null)}>
                  Put back
                </Button>
              </span>
            </div>
          )}
          <FieldView
            enclosure={shown}
            before={tried ? kept : null}
            band={animal?.band ?? null}
            spots={judgement?.spots ?? []}
            chosenSpot={chosenSpot}
            chosenLamp={chosenLamp}
            onChooseLamp={setChosenLamp}
            onMoveLamp={moveLamp}
          />
        </div>
        <div className={classes.side} aria-busy={judged.isBehind}>
          {!judgement && !judged.error && <Loading what="the verdict" lines={6} />}
          {judgement && animal && <VerdictView animal={animal} notes={judgement.notes} />}
          {judgement && (
            <Panel title="Spots">
              <SpotList
                enclosure={shown}
                judgement={judgement}
                animal={animal}
                chosen={chosenSpot}
                onChoose={(id) => setChosenSpot(id === chosenSpot ? null : id)}
              />
            </Panel>
          )}
          <Panel title="Fixes">
            <FixList
              fixes={fixes.data?.fixes}
              error={fixes.error}
              isWaiting={fixes.isPending}
              onSearch={kept === searched ? null : () => setSearched(kept)}
              allHolds={judgement?.animals.every((one) => one.verdict.overall.holds === true) ?? false}
              tried={tried}
              onTry={(fix) => setTried(fix === tried ? null : fix)}
            />
          </Panel>
        </div>
        <div className={classes.details}>
          <Panel title="Lamps">
            <LampList enclosure={shown} chosen={chosenLamp} onChoose={setChosenLamp} onMove={moveLamp} />
          </Panel>
          {animal && (
            <Panel title="Reach">
              <ReachProfile animal={animal} />
            </Panel>
          )}
        </div>
      </div>
    </>
  );
}
