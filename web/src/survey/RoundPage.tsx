// One round through one enclosure. Everything shown comes from what this device keeps, so that it is the same with and
// without a network, and after the page was closed.
import { useEffect, useRef } from 'react';
import { Link } from 'wouter';
import type { Place, Round } from '../offline/database';
import { Loading, Nothing } from '../parts/Waiting';
import { EndedRound } from './EndedRound';
import { Keypad } from './Keypad';
import { MeterChoice } from './MeterChoice';
import { Remarks } from './Remarks';
import classes from './RoundPage.module.css';
import { SpotFace } from './SpotFace';
import { SpotJumps } from './SpotJumps';
import { SpotSteps } from './SpotSteps';
import { useFreshened, nameOf, usePlace } from './useKept';
import { useRound, useRoundHere } from './useRound';
import { ValueFace } from './ValueFace';
import { WaitingCount } from './WaitingCount';
import { walkingOrder } from './walking';

function RoundHere({ place, round }: { place: Place; round: Round }) {
  const here = useRoundHere(place, round);
  // The phone may be put away at any spot; what it keeps must not be the first thing a full disk throws out.
  useEffect(() => {
    if ('storage' in navigator) void navigator.storage.persist();
  }, []);
  return (
    <div className={classes.round}>
      <SpotSteps here={here} />
      <SpotFace place={place} here={here} />
      <ValueFace here={here} />
      <Keypad here={here} />
      <SpotJumps here={here} />
      <Remarks here={here} />
      <MeterChoice here={here} />
    </div>
  );
}

function Begun({ place }: { place: Place }) {
  const walk = walkingOrder(place.card.enclosure.document.spots ?? []);
  const first = walk[0]?.id ?? '';
  const round = useRound({ enclosure: place.id, site: place.site, spot: first });
  if (walk.length === 0)
    return (
      <Nothing>
        This enclosure has no spots yet.{' '}
        <Link href={`/collection/${encodeURIComponent(place.id)}`}>
          Name the places where the animals sit
        </Link>{' '}
        first.
      </Nothing>
    );
  if (!round) return <Loading what="the round" />;
  return round.ended_at === null ? <RoundHere place={place} round={round} /> : <EndedRound round={round} />;
}

export function RoundPage({ enclosure }: { enclosure: string }) {
  const place = usePlace(enclosure);
  const { isComing } = useFreshened();
  const head = useRef<HTMLDivElement>(null);
  // On a phone the keys need the room of the frame's head.
  useEffect(() => {
    if (window.innerWidth <= 520) head.current?.scrollIntoView();
  }, []);
  return (
    <>
      <div className={classes.head} ref={head}>
        <h1>{place ? nameOf(place) : 'Survey'}</h1>
        <WaitingCount />
      </div>
      {place && <Begun place={place} />}
      {(place === undefined || (place === null && isComing)) && <Loading what="the enclosure" />}
      {place === null && !isComing && (
        <Nothing>
          This enclosure is not kept on this device. <Link href="/survey">Choose another</Link>, or come back
          with a network.
        </Nothing>
      )}
    </>
  );
}
