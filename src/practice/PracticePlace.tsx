/**
 * Practice: who it is, what is due on the open bike, and the drill in hand.
 */
import { useEffect, useRef, useState, type ReactNode } from 'react';
import { harmless, layStacks, SIGHT_KINDS, writeEnvelope, type Analysis } from '../../shared/index.ts';
import { act, useApp } from '../page/store.ts';
import { APP_VERSION } from '../page/version.ts';
import { PlaceHead } from '../tray/PlaceHead.tsx';
import { FilePicker } from '../widgets/FilePicker.tsx';
import { saveFile } from '../widgets/saveFile.ts';
import { FindRun } from './FindRun.tsx';
import { LessonList } from './LessonList.tsx';
import { LayRun } from './LayRun.tsx';
import { everybody, usePractice, type DrillAt } from './practiceStore.ts';
import { isDue, practised, readInitials, seedOf, summaryOf, type Progress } from './progress.ts';
import { SightRun } from './SightRun.tsx';
import { dueWord, SIGHT_WORDS } from './words.ts';

/** A drill that the open bike offers. */
interface Offer {
  readonly kind: DrillAt['kind'];
  readonly of: string;
  readonly id: string;
  readonly name: string;
}

export default function PracticePlace({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const { initials, progress, drill } = usePractice();
  const { open, leave } = usePractice.getState();
  const hasPlan = useApp(({ planned }) => planned.is === 'done');
  const offers = offersOf(analysis, hasPlan);
  const page = useRef<HTMLDivElement>(null);
  const dialog = useApp((state) => state.dialog);
  // A sheet over the page may have taken practice in, or away.
  useEffect(() => {
    if (dialog === undefined) usePractice.getState().lookAround();
  }, [dialog]);
  useEffect(() => open(undefined), [analysis, open]);
  const begin = ({ kind, of, id }: Offer): void => {
    open({ kind, of, id, seed: seedOf(usePractice.getState().progress, id) });
    requestAnimationFrame(() => page.current?.focus());
  };
  const next = (): void => {
    const now = usePractice.getState().progress;
    const due = offers.filter((offer) => offer.id !== drill?.id && isDue(now, offer.id, Date.now()));
    const after = due.find((offer) => offer.kind === drill?.kind) ?? due[0];
    if (after) begin(after);
    else open(undefined);
  };
  return (
    <main className="practice stack fit on-sheet">
      <PlaceHead
        title="Practice"
        said={
          <p className="soft" role="status">
            {initials === undefined ? 'Who is it?' : `${initials.toUpperCase()}, ${progress.done.length} done`}
          </p>
        }
      >
        {initials !== undefined && drill && (
          <button type="button" className="button medium no-wrap" onClick={() => open(undefined)}>
            All drills
          </button>
        )}
        {initials !== undefined && (
          <button type="button" className="button medium no-wrap" onClick={leave}>
            Somebody else
          </button>
        )}
      </PlaceHead>
      <div className="practice-page scroll fit" ref={page} tabIndex={-1}>
        {initials === undefined ? (
          <div className="drill-lists flow gap-5">
            <Who />
            <LessonList modelId={analysis.model.id} />
          </div>
        ) : drill === undefined ? (
          <Drills offers={offers} progress={progress} begin={begin} model={analysis.model} />
        ) : drill.kind === 'lay' ? (
          <LayRun analysis={analysis} drill={drill} onNext={next} />
        ) : drill.kind === 'find' ? (
          <FindRun analysis={analysis} drill={drill} onNext={next} />
        ) : (
          <SightRun analysis={analysis} drill={drill} onNext={next} />
        )}
      </div>
    </main>
  );
}

function offersOf(analysis: Analysis, hasPlan: boolean): readonly Offer[] {
  const { model, pivots } = analysis;
  const stacks = new Map(pivots.flatMap(({ stacks: own }) => own.map((stack) => [stack.id, stack.name] as const)));
  return [
    ...layStacks(model).map(
      ({ stackId }): Offer => ({
        kind: 'lay',
        of: stackId,
        id: `lay/${model.id}/${stackId}`,
        name: stacks.get(stackId) ?? stackId,
      }),
    ),
    ...pivots.map(({ id, name }): Offer => ({ kind: 'find', of: id, id: `find/${model.id}/${id}`, name })),
    ...SIGHT_KINDS.filter((kind) => hasPlan || kind !== 'access').map(
      (kind): Offer => ({
        kind: 'sight',
        of: kind,
        id: `sight/${model.id}/${kind}`,
        name: SIGHT_WORDS[kind],
      }),
    ),
  ];
}

/** Initials, picked or typed: nobody has an account. */
function Who(): ReactNode {
  const known = usePractice((state) => state.known);
  const [text, setText] = useState('');
  const { begin } = usePractice.getState();
  const typed = readInitials(text);
  return (
    <section className="who stack gap-5 from-start" aria-label="Who is it?">
      <form
        className="stack gap-2"
        onSubmit={(event) => {
          event.preventDefault();
          if (typed !== undefined) begin(typed);
        }}
      >
        <label className="strong" htmlFor="initials">
          Your initials
        </label>
        <span className="flow gap-3">
          <input
            id="initials"
            className="input who-input"
            value={text}
            maxLength={4}
            autoComplete="off"
            autoCapitalize="characters"
            spellCheck={false}
            aria-describedby="initials-hint"
            aria-invalid={text !== '' && typed === undefined}
            onChange={(event) => setText(event.target.value)}
          />
          <button type="submit" className="button button-main medium no-wrap" aria-disabled={typed === undefined}>
            Begin
          </button>
        </span>
        <p className="soft small" id="initials-hint">
          One to four letters or digits. What you practise is kept on this device under them, and nowhere else.
        </p>
      </form>
      {known.length > 0 && (
        <div className="stack gap-2">
          <h3>Here before</h3>
          <div className="flow gap-2">
            {known.map((initials) => (
              <button key={initials} type="button" className="button medium" onClick={() => begin(initials)}>
                {initials.toUpperCase()}
              </button>
            ))}
          </div>
        </div>
      )}
      <Summary />
    </section>
  );
}

/** What everybody on this device has done, as a table for a spreadsheet. */
function Summary(): ReactNode {
  const known = usePractice((state) => state.known);
  const takeIn = (
    <FilePicker
      label="Practice file"
      onPicked={(file) => void file.text().then((text) => act.gotFile({ name: harmless(file.name), text }))}
    >
      Take in practice
    </FilePicker>
  );
  if (known.length === 0) return takeIn;
  const saveAll = async (): Promise<void> =>
    saveFile('practice.json', writeEnvelope('progress', APP_VERSION, practised(await everybody())), 'application/json');
  const save = async (): Promise<void> => {
    const people = (await everybody()).map(({ initials, progress }) => ({ initials, done: progress.done }));
    saveFile('practice.csv', summaryOf(people), 'text/csv');
  };
  return (
    <div className="stack gap-2 from-start">
      <h3>For the trainer</h3>
      <button type="button" className="button medium no-wrap" onClick={() => void save()}>
        Save everybody’s summary (CSV)
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => void saveAll()}>
        Save everybody’s practice
      </button>
      {takeIn}
      <p className="soft small">
        From other tablets: save everybody’s practice there, take the files in here, then save the summary.
      </p>
    </div>
  );
}

const HEADINGS: Readonly<Record<DrillAt['kind'], readonly [title: string, about: string]>> = {
  lay: ['Lay the row', 'Lay an axle’s parts among their look-alikes, then tighten and see what it comes to.'],
  find: ['Find the mistake', 'Something is wrong with a tight pivot. Feel, look and measure as little as you can.'],
  sight: ['Know it at sight', 'One question, one look.'],
};

function Drills({
  offers,
  progress,
  begin,
  model,
}: {
  readonly offers: readonly Offer[];
  readonly progress: Progress;
  readonly begin: (offer: Offer) => void;
  readonly model: Analysis['model'];
}): ReactNode {
  const now_ms = Date.now();
  const kinds = (Object.keys(HEADINGS) as DrillAt['kind'][]).filter((kind) => offers.some((one) => one.kind === kind));
  return (
    <div className="drill-lists flow gap-5">
      {kinds.map((kind) => (
        <section key={kind} className="drill-list stack gap-2" aria-label={HEADINGS[kind][0]}>
          <h3>
            {HEADINGS[kind][0]}, {model.name}
          </h3>
          <p className="soft">{HEADINGS[kind][1]}</p>
          <ul className="stack hair">
            {offers
              .filter((offer) => offer.kind === kind)
              .map((offer) => (
                <li key={offer.id}>
                  <button
                    type="button"
                    className="drill-choice press warms line gap-3 strong"
                    onClick={() => begin(offer)}
                  >
                    <span>{offer.name}</span>
                    <span className="end soft small no-wrap">
                      {dueWord(progress.cards.get(offer.id)?.due_ms, now_ms)}
                    </span>
                  </button>
                </li>
              ))}
          </ul>
        </section>
      ))}
      <LessonList modelId={model.id} />
    </div>
  );
}
