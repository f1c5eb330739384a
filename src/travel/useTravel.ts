/**
 * The travel of the build that is shown for a component, and the clock that plays it or lets it fall.
 *
 * The clock sets the share of the travel frame by frame and stops when a hand takes the slider, when its component
 * goes, or when the travel is left.
 */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { shownOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import {
  fallFrom,
  momentOf,
  shareInFall,
  shareInPlay,
  SLOW,
  timeInPlay,
  travelledOf,
  type Moment,
  type Travelled,
} from './travel.ts';
import { useWork, type Work } from '../page/useWork.ts';

/** The travel that is looked at, and how far its work is: idle while the bike stands as drawn. */
export function useTravelled(): { readonly work: Work<unknown>; readonly travelled: Travelled | undefined } {
  const isWanted = useApp((state) => state.travel !== undefined);
  const analysis = useApp(shownOf);
  const work = useWork(analysis, '', isWanted && analysis ? { kind: 'travel', asked: { analysis } } : undefined);
  const given = work.state.is === 'done' ? work.state.given : undefined;
  return { work, travelled: useMemo(() => given && travelledOf(given), [given]) };
}

/** The moment of the travel that is shown; undefined while there is none. */
export function useMoment(): Moment | undefined {
  const view = useApp((state) => state.travel);
  const { travelled } = useTravelled();
  return useMemo(() => view && travelled && momentOf(travelled, view), [view, travelled]);
}

/** What the clock is doing. */
type Running = 'no' | 'playing' | 'falling';

/** The clock of the travel. */
interface Runner {
  readonly running: Running;
  /**
   * How the last fall ended: the linkage fell through, or hangs; undefined before one, and when it was lifted again.
   */
  readonly fell: 'through' | 'hangs' | undefined;
  /** To and fro from where it stands. */
  readonly play: () => void;
  /** Let go from where it stands, or from full travel where it is down already. */
  readonly letGo: () => void;
  readonly stop: () => void;
}

/** Below this share the linkage is down: letting go lifts it first. */
const DOWN = 0.02;

/** Runs the travel of the open build. */
export function useRunner(): Runner {
  const [running, setRunning] = useState<Running>('no');
  const [fell, setFell] = useState<Runner['fell']>(undefined);
  const frame = useRef(0);
  const { travelled } = useTravelled();

  const stop = useCallback(() => {
    cancelAnimationFrame(frame.current);
    setRunning('no');
    setFell(undefined);
  }, []);

  /** Frame by frame: `shareAt` a time, s, until it says that it is over. */
  const run = useCallback(
    (
      how: Exclude<Running, 'no'>,
      shareAt: (time_s: number) => { readonly share: number; readonly isOver: boolean },
      ended: () => void,
    ) => {
      cancelAnimationFrame(frame.current);
      setRunning(how);
      setFell(undefined);
      let start: number | undefined;
      const move = (now: number): void => {
        start ??= now;
        const { travel } = useApp.getState();
        if (!travel) return setRunning('no');
        const { share, isOver } = shareAt((now - start) / 1000);
        act.setTravel({ ...travel, share });
        if (!isOver) frame.current = requestAnimationFrame(move);
        else {
          setRunning('no');
          ended();
        }
      };
      frame.current = requestAnimationFrame(move);
    },
    [],
  );

  const play = useCallback(() => {
    const from = timeInPlay(useApp.getState().travel?.share ?? 0);
    run(
      'playing',
      (time_s) => ({ share: shareInPlay(from + time_s), isOver: false }),
      () => undefined,
    );
  }, [run]);

  const letGo = useCallback(() => {
    const { travel } = useApp.getState();
    if (!travelled || !travel) return;
    const fall = fallFrom(travelled, travel.share <= DOWN ? 1 : travel.share);
    const whole_s = (fall.steps.at(-1)?.time_s ?? 0) * SLOW;
    run(
      'falling',
      (time_s) => ({ share: shareInFall(travelled, fall, time_s), isOver: time_s >= whole_s }),
      () => setFell(fall.isFree ? 'through' : 'hangs'),
    );
  }, [run, travelled]);

  useEffect(() => () => cancelAnimationFrame(frame.current), []);
  return { running, fell, play, letGo, stop };
}
