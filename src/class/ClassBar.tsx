/**
 * The trainer's side of a class: opens the screen, and freezes, blanks, points and takes slowly apart on it. It stands
 * in the trainer's window alone.
 */
import { useEffect, useRef, useState, type ReactNode } from 'react';
import { cardShown } from '../../shared/index.ts';
import { writeRoute } from '../page/route.ts';
import { routeOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { lessonNamed } from '../practice/lessons.ts';
import { useLesson } from '../practice/lessonStore.ts';
import { takePart, type Shown } from './channel.ts';
import { nameCard, namedCard, SCREEN_WINDOW, useClass } from './classStore.ts';

/** From tight to fully apart, or back. */
const SLOW_ms = 10_000;

/** What this window would have the class see now. */
function shownNow(): Shown {
  const state = useApp.getState();
  const { lesson, at, isAnswerShown } = useLesson.getState();
  const { isBlank, isPointing, dot } = useClass.getState();
  return {
    hash: writeRoute(routeOf(state)),
    isBlank,
    ...(isPointing && state.litId !== undefined ? { lit: state.litId } : {}),
    ...(isPointing && dot ? { dot } : {}),
    ...(lesson ? { card: cardShown(lesson, at, isAnswerShown) } : {}),
  };
}

/** Tell the screens what is to be shown, as long as this window drives them. */
function useDriving(): void {
  useEffect(() => {
    let held: Shown | undefined;
    let last = '';
    const part = takePart((said) => {
      if (said.say === 'ask') {
        useClass.getState().set({ isSeen: true });
        tell(true);
      }
      if (said.say === 'gone') useClass.getState().set({ isSeen: false });
      if (said.say === 'step') {
        if (useLesson.getState().lesson) useLesson.getState().go(said.by);
        else act.stepBy(said.by);
      }
    });
    function tell(isAsked = false): void {
      const { isFrozen, isBlank } = useClass.getState();
      // A frozen screen that is loaded again shows what it stood at.
      held = isFrozen && held ? { ...held, isBlank } : shownNow();
      const words = JSON.stringify(held);
      if (!isAsked && words === last) return;
      last = words;
      part.say({ say: 'show', shown: held });
    }
    tell(true);
    const stops = [useApp.subscribe(() => tell()), useLesson.subscribe(() => tell()), useClass.subscribe(() => tell())];
    return () => {
      for (const stop of stops) stop();
      part.leave();
    };
  }, []);
}

/** While it points, a hand on the picture moves a dot on the class's; one move a frame is enough. */
function usePointing(isPointing: boolean): void {
  useEffect(() => {
    const { set } = useClass.getState();
    if (!isPointing) return set({ dot: undefined });
    let frame = 0;
    const move = ({ target, clientX, clientY }: PointerEvent): void => {
      const picture = target instanceof Element ? target.closest('.picture') : null;
      const box = picture?.getBoundingClientRect();
      cancelAnimationFrame(frame);
      frame = requestAnimationFrame(() =>
        set({
          dot: box && {
            x: (clientX - box.left - box.width / 2) / box.height,
            y: (clientY - box.top - box.height / 2) / box.height,
          },
        }),
      );
    };
    window.addEventListener('pointermove', move);
    window.addEventListener('pointerdown', move);
    return () => {
      cancelAnimationFrame(frame);
      window.removeEventListener('pointermove', move);
      window.removeEventListener('pointerdown', move);
    };
  }, [isPointing]);
}

/** The lesson goes on where it stood when this window is loaded again. */
function useLessonKept(): void {
  useEffect(() => {
    let isLeft = false;
    const named = namedCard();
    if (named && !useLesson.getState().lesson)
      void lessonNamed(named.lesson).then((lesson) => {
        if (isLeft || !lesson || useLesson.getState().lesson) return;
        useLesson.getState().play(lesson, Math.min(named.at, lesson.cards.length - 1));
      });
    else nameCard(useLesson.getState().lesson?.id, useLesson.getState().at);
    const stop = useLesson.subscribe(({ lesson, at }) => nameCard(lesson?.id, at));
    return () => {
      isLeft = true;
      stop();
    };
  }, []);
}

export default function ClassBar(): ReactNode {
  const { isFrozen, isBlank, isPointing, isSeen } = useClass();
  const { set, end } = useClass.getState();
  useDriving();
  useLessonKept();
  usePointing(isPointing);
  const openScreen = (): void => {
    const { pathname, search } = window.location;
    window.open(`${pathname}${search}#place=class`, SCREEN_WINDOW, 'popup');
  };
  return (
    <section className="class-bar line wrap gap-2 on-sheet" aria-label="Class screen">
      <p className="class-said small medium slim" role="status">
        {IS_FILE
          ? 'Use “This window as the class screen” in the menu: windows opened from a file cannot follow one another.'
          : isFrozen
            ? 'Frozen: the class sees what you left.'
            : isBlank
              ? 'Blank: the class sees nothing.'
              : isSeen
                ? 'The class sees this.'
                : 'No class screen is open yet.'}
      </p>
      {!IS_FILE && (
        <>
          <button type="button" className={isSeen ? BUTTON : `${BUTTON} button-main`} onClick={openScreen}>
            {isSeen ? 'Bring up the screen' : 'Open the screen'}
          </button>
          <Toggle word="Freeze" isOn={isFrozen} set={(isOn) => set({ isFrozen: isOn })} />
          <Toggle word="Blank" isOn={isBlank} set={(isOn) => set({ isBlank: isOn })} />
          <Toggle word="Point" isOn={isPointing} set={(isOn) => set({ isPointing: isOn })} />
        </>
      )}
      <SlowApart />
      <button type="button" className={`${BUTTON} end`} onClick={end}>
        End the class
      </button>
    </section>
  );
}

const BUTTON = 'button medium no-wrap';
/** Every page of a file is a stranger to every other: no channel leads from one to the other. */
const IS_FILE = window.location.protocol === 'file:';

function Toggle({
  word,
  isOn,
  set,
}: {
  readonly word: string;
  readonly isOn: boolean;
  readonly set: (isOn: boolean) => void;
}): ReactNode {
  return (
    <button type="button" className={BUTTON} aria-pressed={isOn} onClick={() => set(!isOn)}>
      {word}
    </button>
  );
}

/** Takes the picked pivot slowly apart, or together again, so that a class can follow. */
function SlowApart(): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined && state.step === undefined);
  const isApart = useApp((state) => state.apart > 0.5);
  const [isMoving, setMoving] = useState(false);
  const goal = useRef(1);
  useEffect(() => {
    if (!isMoving) return undefined;
    let last = performance.now();
    let frame = requestAnimationFrame(function move(now) {
      const { apart, pivotId } = useApp.getState();
      const next = apart + (Math.sign(goal.current - 0.5) * (now - last)) / SLOW_ms;
      last = now;
      act.setApart(next);
      if (pivotId === undefined || next <= 0 || next >= 1) setMoving(false);
      else frame = requestAnimationFrame(move);
    });
    return () => cancelAnimationFrame(frame);
  }, [isMoving]);
  return (
    <button
      type="button"
      className={BUTTON}
      aria-disabled={!hasPivot}
      onClick={() => {
        if (!hasPivot) return;
        goal.current = isApart ? 0 : 1;
        setMoving(!isMoving);
      }}
    >
      {isMoving ? 'Stop there' : isApart ? 'Slowly together' : 'Slowly apart'}
    </button>
  );
}
