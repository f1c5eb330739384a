/**
 * The work-through: one step at a time as a large card beside the picture, which follows it; done, not yet, or not on
 * this bike. By thumb, by key, by a pedal or a presenter (Page Down, Page Up), and by ear.
 */
import { useEffect, useMemo, useRef, useState, type ReactNode, type RefObject } from 'react';
import {
  jobField,
  STEP_STATE_WORDS,
  wordJobStep,
  wordMinutes,
  wordNeed,
  wordSecond,
  wordTask,
  type Job,
  type JobStep,
  type JobView,
} from '../../shared/index.ts';
import { useOrderClock } from '../build/orderClock.ts';
import { OrderPicture } from '../build/OrderPicture.tsx';
import { runIn, type PlanInHand } from '../build/planned.ts';
import { Cautions, StepFacts } from '../build/StepFacts.tsx';
import { keepAwake } from '../page/awake.ts';
import { act, useApp } from '../page/store.ts';
import { useAwake } from '../page/useAwake.ts';
import { AwakeLine } from '../widgets/AwakeLine.tsx';
import { useSwipe } from '../widgets/useSwipe.ts';
import { useJob } from './jobStore.ts';
import { TextField } from './Fields.tsx';
import { Needs } from './NeedBox.tsx';
import { PhotoRow } from './Photos.tsx';
import { hasVoice, hush, say } from './voice.ts';

interface Props {
  readonly view: JobView;
  readonly job: Job;
  readonly given: PlanInHand;
  readonly now_ms: number;
}

/** The picture goes by the build order's own place: strip-down or build, and how many steps are done. */
function showStep(at: number, strips: number): void {
  const { order } = useApp.getState();
  const isStrip = at < strips;
  act.setOrder({
    ...order,
    tab: 'step',
    of: 'plan',
    way: isStrip ? 'strip' : 'build',
    at: isStrip ? at + 1 : at - strips + 1,
  });
}

/** Step of the job that is shown, and the way to any other. */
export function useShownStep(view: JobView): { readonly at: number; readonly go: (at: number) => void } {
  const strips = view.steps.filter(({ way }) => way === 'strip').length;
  const order = useApp((state) => state.order);
  const last = view.steps.length - 1;
  const at = Math.min(last, Math.max(0, order.at - 1) + (order.way === 'strip' ? 0 : strips));
  return { at, go: (to) => showStep(Math.min(last, Math.max(0, to)), strips) };
}

/** The work-through's picture; its step stands on the page beside it. */
export function WorkPicture({ view, given }: Pick<Props, 'view' | 'given'>): ReactNode {
  const { analysis } = view;
  const way = useApp((state) => state.order.way);
  const run = runIn({ is: 'done', given }, undefined, way);
  useOrderClock(analysis, run);
  return <OrderPicture analysis={analysis} run={run} />;
}

/** What is said of a step aloud: what it is, what a hand does, what to heed, and what it asks for. */
function aloud(step: JobStep, view: JobView): string {
  const { title, text, cautions } = wordJobStep(step, view.analysis);
  const asks = step.lacks.map((need) => wordNeed(need, view.analysis, view.subjects));
  const signs = step.second && !step.sign ? [wordSecond(step.second)] : [];
  return [`${title}.`, text, ...cautions, ...asks, ...signs].join(' ');
}

const NOTHING_LEFT = 'No step is left to do. Go through Open, then Hand over.';

/** What the pedal, the keys and the buttons do with the step shown. */
interface Deeds {
  readonly close: () => void;
  readonly back: () => void;
  readonly look: (by: 1 | -1) => void;
  readonly undo: () => void;
  readonly read: () => void;
}

export function useWorkThrough({ view, job, now_ms }: Omit<Props, 'given'>) {
  const { put, undo, setReading } = useJob.getState();
  const steps = useJob((state) => state.steps);
  const { at, go } = useShownStep(view);
  const step = view.steps[at]!;
  const isReading = useJob((state) => state.isReading);
  const [isTold, setTold] = useState(false);
  const before = useRef<Job | undefined>(undefined);

  useEffect(() => keepAwake({ navigator, document }, (awake) => useAwake.setState({ awake })), []);
  useEffect(() => setTold(false), [at]);
  const words = useRef('');
  words.current = aloud(step, view);
  useEffect(() => {
    if (isReading) say(words.current);
    else hush();
  }, [at, isReading]);
  useEffect(() => hush, []);
  // What was taken back is looked at again.
  useEffect(() => {
    if (before.current === undefined || before.current === job) return;
    before.current = undefined;
    if (view.next < view.steps.length) go(view.next);
  });

  const mark = (is: 'done' | 'not-yet' | 'not-here', why?: string): void => {
    const rest = view.steps.findIndex(({ state }, k) => k > at && state === 'open');
    const first = view.steps.findIndex(({ state }, k) => k !== at && state === 'open');
    const next = rest >= 0 ? rest : first >= 0 ? first : at;
    put({ [jobField('step', step.id)]: { is, at_ms: Date.now(), ...(why && { why }) } }, false, () => {
      go(next);
      if (next === at && isReading) say(NOTHING_LEFT);
    });
  };
  const deeds: Deeds = {
    close: () => {
      if (step.lacks.length === 0) return step.state === 'done' ? go(at + 1) : mark('done');
      setTold(true);
      if (isReading) say(step.lacks.map((need) => wordNeed(need, view.analysis, view.subjects)).join(' '));
    },
    back: () => go(at - 1),
    look: (by) => go(at + by),
    undo: () => {
      if (steps.undo === 0) return;
      before.current = job;
      undo();
    },
    read: () => (isReading ? say(words.current) : setReading(true)),
  };
  useWorkKeys(deeds);
  return { at, go, step, steps, deeds, mark, isReading, setReading, isTold, now_ms };
}

/** A pedal and a presenter send Page Down and Page Up; they count in a line of text, too. */
function useWorkKeys(deeds: Deeds): void {
  const latest = useRef(deeds);
  latest.current = deeds;
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || document.querySelector('dialog[open]')) return;
      const deed = deedOf(event, latest.current);
      if (!deed) return;
      event.preventDefault();
      // A pedal that is held down closes one step and not all of them; looking on may go on.
      if (!event.repeat || event.key.startsWith('Arrow')) deed();
    };
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, []);
}

function deedOf(event: KeyboardEvent, deeds: Deeds): (() => void) | undefined {
  const { target, key } = event;
  const isIn = (selector: string): boolean => target instanceof Element && target.closest(selector) !== null;
  if (event.ctrlKey || event.altKey || event.metaKey) return undefined;
  if (isIn('textarea, select')) return undefined;
  if (key === 'PageDown') return deeds.close;
  if (key === 'PageUp') return deeds.back;
  if (isIn('input, [role="tablist"], [role="toolbar"], [data-arrows]')) return undefined;
  if (key === 'ArrowRight') return () => deeds.look(1);
  if (key === 'ArrowLeft') return () => deeds.look(-1);
  if (!useApp.getState().settings.letterKeys) return undefined;
  return { u: deeds.undo, r: deeds.read }[key];
}

type Work = ReturnType<typeof useWorkThrough>;

/** The card of the step shown. */
export function WorkCard({
  work,
  view,
  job,
}: {
  readonly work: Work;
  readonly view: JobView;
  readonly job: Job;
}): ReactNode {
  const { step, at, go, deeds, isReading, setReading, isTold, now_ms } = work;
  const { analysis } = view;
  const words = wordJobStep(step, analysis);
  const shown = useMemo(
    () => ({
      id: step.id,
      taskId: step.step.taskId,
      step: step.step,
      ...(step.strip && { strip: step.strip }),
      places: step.step.places,
      on: step.step.on,
    }),
    [step.id, step.step, step.strip],
  );
  const swipe = useSwipe((by) => deeds.look(by));
  const top = useRef<HTMLDivElement>(null);
  useScrolledUp(top, at);
  const told = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // A browser may answer with a promise, which is nothing to clean up with.
    void told.current?.scrollIntoView({ block: 'start' });
  }, [isTold]);
  return (
    <div className="job-card stack gap-4" ref={top} {...swipe}>
      <p className="line wrap gap-3 apart-ends soft small medium">
        <span>
          {wordTask(step.step.taskId, analysis, step.way)}, step {at + 1} of {view.steps.length}
        </span>
        <span className="job-state" data-state={step.state}>
          {STEP_STATE_WORDS[step.state]}
          {step.mark?.why === undefined ? '' : `: ${step.mark.why}`}
        </span>
      </p>
      <h3 className="job-step huge balanced">{words.title}</h3>
      <StepFacts shown={shown} analysis={analysis} />
      <p className="job-text large">{words.text}</p>
      <Cautions cautions={words.cautions} />
      {isTold && step.lacks.length > 0 && (
        <div className="callout callout-trouble" role="alert" ref={told}>
          <ul className="stack gap-1">
            {step.lacks.map((need) => (
              <li key={JSON.stringify(need)}>{wordNeed(need, analysis, view.subjects)}</li>
            ))}
          </ul>
        </div>
      )}
      <Needs step={step} view={view} job={job} now_ms={now_ms} />
      {step.second && <Sign key={`sign ${step.id}`} step={step} job={job} />}
      {(step.kind === 'settings' || step.kind === 'cables') && <AsItWas job={job} />}
      <Reasons key={step.id} work={work} />
      {view.next === view.steps.length && (
        <p className="callout" role="status">
          {NOTHING_LEFT}
        </p>
      )}
      <div className="flow gap-3">
        {hasVoice() && (
          <>
            <button
              type="button"
              className="button medium no-wrap"
              aria-pressed={isReading}
              onClick={() => setReading(!isReading)}
            >
              Read aloud
            </button>
            {isReading && (
              <button type="button" className="button medium no-wrap" onClick={deeds.read}>
                Once more
              </button>
            )}
          </>
        )}
        <button
          type="button"
          className="button medium no-wrap"
          aria-disabled={work.steps.undo === 0}
          onClick={deeds.undo}
        >
          Undo
        </button>
      </div>
      <p className="soft small">
        {view.done} of {view.steps.length} done
        {view.minutes_left > 0 ? `, ${wordMinutes(view.minutes_left)} left: an estimate` : ''}. Page Down, a pedal or a
        presenter: done and on. Page Up: back.{hasVoice() ? '' : ' This browser has no voice to read aloud with.'}
      </p>
      <AwakeLine />
      <StepList view={view} at={at} go={go} />
    </div>
  );
}

function useScrolledUp(top: RefObject<HTMLElement | null>, at: number): void {
  useEffect(() => {
    const page = top.current?.closest('.plan-page');
    if (page) page.scrollTop = 0;
  }, [top, at]);
}

/** What was written down when the bike came, held against what is there now. */
function AsItWas({ job }: { readonly job: Job }): ReactNode {
  const told = Object.values(job.as_it_came).filter((text) => text !== '');
  return (
    <>
      {told.length > 0 && (
        <ul className="callout stack gap-1" aria-label="As it came">
          {told.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      <PhotoRow job={job} />
    </>
  );
}

/** A second person's initials. */
function Sign({ step, job }: { readonly step: JobStep; readonly job: Job }): ReactNode {
  const put = useJob((state) => state.put);
  const [by, setBy] = useState('');
  // Stays while they are being typed: without a first person there is no second.
  const [isUnnamed] = useState(job.initials.trim() === '');
  const field = jobField('sign', step.id);
  if (step.sign)
    return (
      <p className="line wrap gap-3">
        <span className="medium">Countersigned: {step.sign.by}</span>
        <button type="button" className="button button-small medium no-wrap" onClick={() => put({ [field]: null })}>
          Take back
        </button>
      </p>
    );
  const own = job.initials.trim().toLowerCase();
  const isOwn = by.trim() !== '' && by.trim().toLowerCase() === own;
  const isReady = by.trim() !== '' && own !== '' && !isOwn;
  return (
    <form
      className="callout callout-warn stack gap-2"
      onSubmit={(event) => {
        event.preventDefault();
        if (isReady) put({ [field]: { by: by.trim(), at_ms: Date.now() } });
      }}
    >
      <p>{wordSecond(step.second ?? 'torque')}</p>
      {isUnnamed && (
        <div className="job-initials">
          <TextField field="initials" value={job.initials} label="Your initials" most={20} />
        </div>
      )}
      <div className="flow gap-3">
        <input
          className="input job-initials on-sheet"
          aria-label="Initials of the second person"
          maxLength={20}
          value={by}
          onChange={(event) => setBy(event.target.value)}
        />
        <button type="submit" className="button medium no-wrap" aria-disabled={!isReady}>
          Sign
        </button>
      </div>
      {isOwn && <p role="alert">These are your own initials: someone else has to look.</p>}
    </form>
  );
}

/** Not yet, or not on this bike, each with its reason. */
function Reasons({ work }: { readonly work: Work }): ReactNode {
  const [asks, setAsks] = useState<'not-yet' | 'not-here' | undefined>(undefined);
  const [why, setWhy] = useState('');
  if (asks === undefined)
    return (
      <div className="flow gap-3">
        <button type="button" className="button medium no-wrap" onClick={() => setAsks('not-yet')}>
          Not yet…
        </button>
        <button type="button" className="button medium no-wrap" onClick={() => setAsks('not-here')}>
          Not on this bike…
        </button>
      </div>
    );
  return (
    <form
      className="callout stack gap-2"
      onSubmit={(event) => {
        event.preventDefault();
        if (why.trim() !== '') work.mark(asks, why.trim());
      }}
    >
      <label className="stack gap-1">
        <span className="medium">{asks === 'not-yet' ? 'Why not yet?' : 'Why not on this bike?'}</span>
        <input
          className="input full on-sheet"
          maxLength={200}
          autoFocus
          value={why}
          onChange={(event) => setWhy(event.target.value)}
        />
      </label>
      <div className="flow gap-3">
        <button type="submit" className="button button-main medium no-wrap" aria-disabled={why.trim() === ''}>
          {STEP_STATE_WORDS[asks]}
        </button>
        <button type="button" className="button medium no-wrap" onClick={() => setAsks(undefined)}>
          Cancel
        </button>
      </div>
    </form>
  );
}

const STATE_MARKS = { open: '○', done: '✓', 'not-yet': '…', 'not-here': '–' } as const;

/** Every step of the job, to go to. */
function StepList({
  view,
  at,
  go,
}: {
  readonly view: JobView;
  readonly at: number;
  readonly go: (at: number) => void;
}): ReactNode {
  const [isOpen, setOpen] = useState(false);
  return (
    <details className="fold" open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>All steps</summary>
      {isOpen && (
        <ol className="stack hair">
          {view.steps.map((step, k) => (
            <li key={step.id}>
              <button
                type="button"
                className="plan-step edged tints press line gap-4 snug"
                aria-current={k === at ? 'step' : undefined}
                onClick={() => go(k)}
              >
                <span className="job-mark rigid bold" aria-hidden="true">
                  {STATE_MARKS[step.state]}
                </span>
                <span className="away clip no-wrap">{STEP_STATE_WORDS[step.state]}: </span>
                <span>{wordJobStep(step, view.analysis).title}</span>
              </button>
            </li>
          ))}
        </ol>
      )}
    </details>
  );
}

/** Back and done, under two thumbs. */
export function WorkBar({ work, view }: { readonly work: Work; readonly view: JobView }): ReactNode {
  const { at, deeds, step } = work;
  return (
    <div className="plan-bar job-bar line gap-3 slim on-sheet" role="group" aria-label="Step">
      <button
        type="button"
        className="button step-button usual medium no-wrap"
        aria-disabled={at === 0}
        onClick={deeds.back}
      >
        Back
      </button>
      <span className="plan-slider small numbers no-wrap slim clip">
        {at + 1} / {view.steps.length}
      </span>
      <button
        type="button"
        className="button step-button usual medium no-wrap"
        aria-disabled={at === view.steps.length - 1}
        onClick={() => deeds.look(1)}
      >
        Look on
      </button>
      <button
        type="button"
        className="button button-main step-button job-done usual medium no-wrap"
        aria-disabled={step.state === 'done' && step.lacks.length === 0 && at === view.steps.length - 1}
        onClick={deeds.close}
      >
        {step.state === 'done' ? 'Next' : 'Done'}
      </button>
    </div>
  );
}
