/**
 * The open draft: its row and section, its verdict, what to measure next and the sizes of what is in the hand.
 */
import { Suspense, useDeferredValue, useEffect, useMemo, useState, type ReactNode } from 'react';
import {
  addPivot,
  draftOf,
  emptyJob,
  MANNERS,
  removeItem,
  writeDraft,
  type Draft,
  type LinkageModel,
  type Stack,
} from '../../shared/index.ts';
import { RowEditor } from '../editor/RowEditor.tsx';
import { beginJob } from '../job/jobStore.ts';
import { later } from '../later.ts';
import { openText } from '../page/models.ts';
import { readRoute } from '../page/route.ts';
import { act } from '../page/store.ts';
import { APP_VERSION } from '../page/version.ts';
import { PlaceHead } from '../tray/PlaceHead.tsx';
import { today } from '../widgets/day.ts';
import { Deference } from '../widgets/Deference.tsx';
import { Dialog, useSheet } from '../widgets/Dialog.tsx';
import { saveFile } from '../widgets/saveFile.ts';
import { useWork } from '../page/useWork.ts';
import { PlaceBoundary } from '../widgets/PlaceBoundary.tsx';
import { AxleCard } from './AxleCard.tsx';
import { asModel, benchOf, edited, heldAt, itemsAsked, rowOf, stackOf, type Bench } from './bench.ts';
import { CompareCard } from './CompareCard.tsx';
import { DraftSection } from './DraftSection.tsx';
import { HeldCard } from './HeldCard.tsx';
import { useMake, useMeasure } from './measureStore.ts';
import { NextCard } from './NextCard.tsx';
import { ProofCard } from './ProofCard.tsx';
import { RowWork } from './RowWork.tsx';
import { Text } from './SizeRow.tsx';
import { Questions, Verdict } from './Verdict.tsx';
import { MEASURE_WORDS } from './words.ts';

const LONGEST_NAME = 80;
/** What to measure next is asked once the hand has typed nothing for so long: half a number asks nothing. */
const REST_ms = 120;

const SidePlane = later(() => import('../photo/SidePlane.tsx'));

/** Whether a value is the first, or has stayed what it is for a while. */
function useRested(value: unknown): boolean {
  const [rested, setRested] = useState(value);
  useEffect(() => {
    const later = setTimeout(() => setRested(value), REST_ms);
    return () => clearTimeout(later);
  }, [value]);
  return rested === value;
}

export function BenchPlace({ draft }: { readonly draft: Draft }): ReactNode {
  // A typing hand goes first; what its sizes come to follows.
  const shown = useDeferredValue(draft);
  const bench = useMemo(() => benchOf(shown), [shown]);
  const { stackId, item, steps, pick, undo, redo } = useMeasure();
  const make = useMake(shown);
  const order = { kind: 'measure-next', asked: { draft: shown } } as const;
  const work = useWork(bench, JSON.stringify(shown), useRested(shown) ? order : undefined);
  const stack = stackOf(bench.model, stackId);
  if (!stack) return null;
  const pivot = bench.model.pivots.find(({ stacks }) => stacks.includes(stack))!;
  // What is asked for stands out in the section while no part is in the hand.
  const lit =
    item === undefined ? itemsAsked(bench, stack, work.state.is === 'done' ? work.state.given : undefined) : [item];
  const held = item === undefined ? undefined : heldAt(bench, stack, item);
  return (
    <main className="draft-place stack fit on-sheet">
      <PlaceHead title={draft.model.name} said={<p className="tray-count soft">Measure up</p>}>
        <button type="button" className="button medium no-wrap" aria-disabled={steps.undo === 0} onClick={undo}>
          Undo
        </button>
        <button type="button" className="button medium no-wrap" aria-disabled={steps.redo === 0} onClick={redo}>
          Redo
        </button>
        <button
          type="button"
          className="button medium no-wrap"
          onClick={() => saveFile(`${draft.model.id}-draft.json`, writeDraft(draft, APP_VERSION), 'application/json')}
        >
          Save the draft
        </button>
        <OpenAsModel bench={bench} />
        <BeginJob bench={bench} />
      </PlaceHead>
      <div className="draft-row scroll stack gap-4" tabIndex={0} role="region" aria-label="The row being measured">
        <Pivots bench={bench} stack={stack} />
        <Verdict bench={bench} stack={stack} />
        {bench.analysis ? (
          <DraftSection analysis={bench.analysis} stackId={stack.id} lit={lit} onPick={pick} />
        ) : (
          <p className="callout callout-trouble">{MEASURE_WORDS.contradict}</p>
        )}
        <RowEditor
          parts={rowOf(bench, stack)}
          picked={item}
          onPick={pick}
          onEdit={(edit) =>
            edit.do === 'leave-out'
              ? make(removeItem(shown.model, stack.id, edit.item))
              : make(edited(bench, stack, edit), item)
          }
          onUndo={steps.undo > 0 ? undo : undefined}
          onRedo={steps.redo > 0 ? redo : undefined}
        />
        <RowWork bench={bench} stack={stack} item={item} held={held} />
      </div>
      <div className="draft-side scroll stack gap-5" tabIndex={0} role="region" aria-label="Sizes">
        <Questions bench={bench} stack={stack} />
        <NextCard bench={bench} work={work} />
        {held ? (
          <HeldCard
            key={'part' in held ? `part ${held.part}` : `boss ${held.member}/${held.bore}`}
            bench={bench}
            held={held}
          />
        ) : (
          <p className="soft">{MEASURE_WORDS.pick}</p>
        )}
        <AxleCard key={`axle ${stack.id}`} bench={bench} stackId={stack.id} />
        <CompareCard bench={bench} pivotId={pivot.id} />
        <ProofCard bench={bench} />
        <Text
          label="Name of the draft"
          value={draft.model.name}
          longest={LONGEST_NAME}
          onText={(name) => name !== '' && make({ ...shown.model, name })}
        />
        <Deference />
      </div>
    </main>
  );
}

const textOf = (model: LinkageModel): string => `${JSON.stringify(model, undefined, 2)}\n`;

/** A finished draft as a model: opened on the whole page, kept with the own files. */
function OpenAsModel({ bench }: { readonly bench: Bench }): ReactNode {
  const { analysis } = bench;
  const model = asModel(bench);
  const open = async (): Promise<void> => {
    act.goToPlace(undefined);
    await openText(textOf(model), { kind: 'file', name: `${model.id}.json` });
  };
  return (
    <button
      type="button"
      className="button button-main medium no-wrap"
      aria-disabled={!analysis}
      onClick={() => analysis && void open()}
    >
      Open as a model
    </button>
  );
}

/** A real bike on a draft: its model with the guesses as they stand, kept with the own files, and a job of it. */
function BeginJob({ bench }: { readonly bench: Bench }): ReactNode {
  const { model, analysis } = bench;
  const begin = async (): Promise<void> => {
    if (!analysis) return;
    const job = await beginJob({ ...emptyJob({ model: model.id, key: analysis.key, is_draft: true }), date: today() });
    await openText(textOf(model), { kind: 'file', name: `${model.id}.json` }, { ...readRoute(''), place: 'job', job });
  };
  return (
    <button type="button" className="button medium no-wrap" aria-disabled={!analysis} onClick={() => void begin()}>
      Begin a job
    </button>
  );
}

/** Where the pivots stand: by numbers, or on a photo. */
function SideButton({ bench }: { readonly bench: Bench }): ReactNode {
  const make = useMake(bench.draft);
  const sheet = useSheet();
  const ends = new Map(
    bench.analysis?.pivots.map((pivot) => [
      pivot.id,
      Math.max(...pivot.stacks.flatMap(({ items }) => items.map(({ to_mm }) => to_mm))),
    ]),
  );
  const pivots = bench.model.pivots.map(({ id, name, x_mm, y_mm }) => ({
    id,
    name,
    x_mm,
    y_mm,
    z_mm: ends.get(id) ?? 0,
  }));
  return (
    <>
      <button type="button" className="button medium no-wrap" onClick={sheet.open}>
        Where they stand…
      </button>
      {sheet.isOpen && (
        <PlaceBoundary>
          <Suspense fallback={null}>
            <SidePlane
              pivots={pivots}
              give={(places) =>
                make({
                  ...bench.draft.model,
                  pivots: bench.draft.model.pivots.map((pivot) => ({ ...pivot, ...places[pivot.id] })),
                })
              }
              onClose={sheet.close}
            />
          </Suspense>
        </PlaceBoundary>
      )}
    </>
  );
}

/** The axles of the draft, and one more pivot. */
function Pivots({ bench, stack }: { readonly bench: Bench; readonly stack: Stack }): ReactNode {
  const pickStack = useMeasure((state) => state.pickStack);
  const make = useMake(bench.draft);
  const sheet = useSheet();
  const stacks = bench.model.pivots.flatMap((pivot) =>
    pivot.stacks.map((own) => ({
      id: own.id,
      name: pivot.stacks.length > 1 ? `${pivot.name}: ${own.name ?? own.id}` : pivot.name,
    })),
  );
  return (
    <div className="flow gap-2">
      {stacks.length > 1 && (
        <div className="segments tinted wrap" role="group" aria-label="Axles of this draft">
          {stacks.map(({ id, name }) => (
            <button
              key={id}
              type="button"
              className="segment medium no-wrap"
              aria-pressed={id === stack.id}
              onClick={() => pickStack(id)}
            >
              {name}
            </button>
          ))}
        </div>
      )}
      <button type="button" className="button medium no-wrap" onClick={sheet.open}>
        One more pivot…
      </button>
      {bench.model.pivots.length > 1 && <SideButton bench={bench} />}
      {sheet.isOpen && (
        <Dialog title="One more pivot" onClose={sheet.close}>
          <p className="lead">
            Members with the same name are one member, so give a member the same name in both rows.
          </p>
          <ul className="stack gap-2">
            {MANNERS.map((manner) => (
              <li key={manner.key}>
                <button
                  type="button"
                  className="go-button warms press stack hair"
                  onClick={() => {
                    make(addPivot(bench.draft.model, draftOf(manner.make(), 'guess').model));
                    sheet.close();
                  }}
                >
                  <strong>{manner.name}</strong>
                  <span className="soft">{manner.when}</span>
                </button>
              </li>
            ))}
          </ul>
        </Dialog>
      )}
    </div>
  );
}
