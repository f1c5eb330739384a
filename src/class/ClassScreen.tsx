/**
 * The class screen: the picture, the pivot and the step in words that are read from the last row, and nothing else. It
 * shows what the trainer's window says; where none says anything it shows its own, and steps by itself.
 */
import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { nameOf, wordMistake, type Analysis } from '../../shared/index.ts';
import { inHandOf } from '../build/inHand.ts';
import { stepWords } from '../build/StepFacts.tsx';
import { usePicture } from '../bike/usePicture.ts';
import { focusOf } from '../page/useKeys.ts';
import { openRoute } from '../page/models.ts';
import { readRoute } from '../page/route.ts';
import { pivotOf, runOf, stepOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { PictureFrame } from '../picture/PictureFrame.tsx';
import { QuestionChoices } from '../practice/QuestionChoices.tsx';
import { SectionPicture } from '../row/SectionPicture.tsx';
import { useMoment } from '../travel/useTravel.ts';
import { takePart, type Dot, type Said, type Shown } from './channel.ts';

/** Bring this window's picture to what the trainer's shows. */
function follow({ hash, lit }: Shown): void {
  const route = { ...readRoute(hash), place: 'class' as const };
  const { opened, isOpening } = useApp.getState();
  const source = opened?.source.kind === 'bundled' ? opened.source.id : opened?.analysis.model.id;
  const isHere =
    !isOpening &&
    opened !== undefined &&
    source === (route.model ?? route.file) &&
    opened.analysis.variant === route.variant;
  if (isHere) act.show(route);
  else void openRoute(route);
  act.light(lit);
}

/** What the trainer's window says; nothing while none has said anything. */
function useShown(): { readonly shown: Shown | undefined; readonly say: (said: Said) => void } {
  const [shown, setShown] = useState<Shown | undefined>(undefined);
  const part = useRef<ReturnType<typeof takePart> | undefined>(undefined);
  const isOpening = useApp((state) => state.isOpening);
  useEffect(() => {
    const own = takePart((said) => {
      if (said.say === 'show') setShown(said.shown);
    });
    part.current = own;
    own.say({ say: 'ask' });
    const leave = (): void => own.say({ say: 'gone' });
    window.addEventListener('pagehide', leave);
    return () => {
      window.removeEventListener('pagehide', leave);
      own.leave();
    };
  }, []);
  // What is said while a model is on its way is shown once that one is here.
  useEffect(() => {
    if (shown && !isOpening) follow(shown);
  }, [shown, isOpening]);
  return { shown, say: (said) => part.current?.say(said) };
}

export default function ClassScreen({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const { shown, say } = useShown();
  const [isOwnBlank, setOwnBlank] = useState(false);
  const isDriven = shown !== undefined;
  useEffect(() => {
    const { dataset } = document.documentElement;
    dataset.screen = 'class';
    return () => {
      delete dataset.screen;
    };
  }, []);
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
      if (focusOf(event.target) === 'text' || document.querySelector('dialog[open]')) return;
      const by = STEPS[event.key];
      if (by !== undefined) {
        if (isDriven) say({ say: 'step', by });
        else act.stepBy(by);
      } else if (event.key === 'b' || event.key === '.') setOwnBlank((is) => !is);
      else if (event.key === 'f') fillScreen();
      else return;
      event.preventDefault();
    };
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, [isDriven, say]);
  const isBlank = shown ? shown.isBlank : isOwnBlank;
  return (
    <main className="class-screen" data-driven={isDriven} data-blank={isBlank}>
      {isBlank ? (
        <p className="away">Blank.</p>
      ) : (
        <>
          <Words analysis={analysis} shown={shown} />
          <Scene analysis={analysis} dot={shown?.dot} />
        </>
      )}
      <div className="class-tools flow gap-2">
        <button type="button" className="button medium no-wrap" onClick={fillScreen}>
          Full screen
        </button>
        {!isDriven && (
          <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace(undefined)}>
            Back to the bike
          </button>
        )}
      </div>
    </main>
  );
}

/** The keys of a presenter's remote, and what stands for them on a keyboard. */
const STEPS: Readonly<Record<string, 1 | -1>> = { PageDown: 1, ArrowRight: 1, PageUp: -1, ArrowLeft: -1 };

/** Fill the screen, or give it back; a browser that will not is left as it is. */
function fillScreen(): void {
  const done = document.fullscreenElement
    ? document.exitFullscreen()
    : document.documentElement.requestFullscreen?.({ navigationUI: 'hide' });
  void done?.catch(() => undefined);
}

function Words({ analysis, shown }: { readonly analysis: Analysis; readonly shown: Shown | undefined }): ReactNode {
  const pivot = useApp(pivotOf);
  const step = useApp(stepOf);
  const at = useApp((state) => state.step ?? 0);
  const of = useApp((state) => runOf(state).steps.length);
  const litId = useApp((state) => state.litId);
  const card = shown?.card;
  const tried = useApp((state) => state.whatIf?.row.mistake);
  const written = useApp((state) => state.opened?.analysis) ?? analysis;
  return (
    <div className="class-words stack">
      <h2 className="class-pivot">{pivot?.name ?? analysis.model.name}</h2>
      {tried && <p className="class-step">What if: {wordMistake(tried, written)}</p>}
      {step && !card && (
        <p className="class-step" role="status">
          {at + 1} of {of}: {stepWords(step, analysis).title}
        </p>
      )}
      {card && (
        <div className="class-card stack" role="status">
          <p className="class-text">{card.text}</p>
          {card.choices && <QuestionChoices card={card} />}
        </div>
      )}
      {shown?.lit !== undefined && litId !== undefined && <p className="class-lit">{nameOf(litId, analysis)}</p>}
    </div>
  );
}

function Scene({ analysis: opened, dot }: { readonly analysis: Analysis; readonly dot: Dot | undefined }): ReactNode {
  const webgl = useApp((state) => state.webgl);
  const { analysis = opened, apart, places } = usePicture();
  const pivotId = useApp((state) => state.pivotId);
  const selectedId = useApp((state) => state.selectedId);
  const marked = useApp((state) => state.marked);
  const cut = useApp((state) => state.cut);
  const step = useApp(stepOf);
  const pivot = useApp(pivotOf);
  const inHand = useMemo(() => step && pivot && inHandOf(step, pivot), [step, pivot]);
  const moment = useMoment();
  return (
    <section className="picture fit anchor clip" aria-label="Picture">
      {webgl === 'ok' ? (
        <div className="picture-canvas over">
          <PictureFrame
            analysis={analysis}
            apart={apart}
            cut={cut}
            activeIds={step ? step.step.items : marked}
            {...(moment?.picture ?? { pivotId, places })}
            inHand={inHand}
            selectedId={selectedId}
            onSelect={() => undefined}
            onPivot={act.pickPivot}
            onApart={act.setApart}
          />
        </div>
      ) : (
        <SectionPicture />
      )}
      {dot && (
        <div className="class-point over">
          <span
            className="class-dot"
            style={{ left: `calc(50% + ${dot.x * 100}cqh)`, top: `calc(50% + ${dot.y * 100}cqh)` }}
          />
        </div>
      )}
    </section>
  );
}
