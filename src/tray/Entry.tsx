/**
 * The part in the hand: its kind by picture, its sizes by the number pad, and at every key what it can be.
 */
import { useEffect, useMemo, useRef, type ReactNode } from 'react';
import { calliperPlace, capital, kindOf, wordKind, wordTrayRow, type Analysis } from '../../shared/index.ts';
import {
  isMeasured,
  shownFields,
  SIZE_OF,
  sortDrafts,
  type Draft,
  type Field,
  type PartKindName,
  type SortedDrafts,
} from './tray.ts';
import { useTray } from './trayStore.ts';
import { askedField, fieldHow, STANDING_WORDS, standingOf } from './trayWords.ts';
import { drawPart } from '../drawings/part.ts';
import type { Drawing as Drawn } from '../drawings/shapes.ts';
import { Drawing } from '../widgets/Drawing.tsx';
import { FieldRow } from './FieldRow.tsx';
import { KindPicker } from './KindPicker.tsx';
import { NumberPad, PadEnds } from './NumberPad.tsx';
import { StandingMark } from './StandingMark.tsx';

interface Props {
  readonly sorted: SortedDrafts;
  readonly analysis: Analysis;
}

export function Entry({ sorted, analysis }: Props): ReactNode {
  const { drafts, hand } = useTray();
  const draft = drafts.find(({ key }) => key === hand);
  return (
    <section className="tray-entry anchor scroll" aria-label="Part in the hand">
      {draft ? (
        <DraftEntry
          key={draft.key}
          draft={draft}
          number={drafts.indexOf(draft) + 1}
          sorted={sorted}
          analysis={analysis}
        />
      ) : (
        <EmptyHand />
      )}
    </section>
  );
}

function EmptyHand(): ReactNode {
  const drafts = useTray((state) => state.drafts);
  return (
    <div className="tray-begin stack from-start">
      <p className="tray-begin-words large balanced">
        {drafts.length === 0
          ? 'Take a loose part, say what it is, measure what you can. One size is often enough.'
          : 'Take the next part, or tap one on the tray to measure more of it.'}
      </p>
    </div>
  );
}

function DraftEntry({
  draft,
  number,
  sorted,
  analysis,
}: { readonly draft: Draft; readonly number: number } & Props): ReactNode {
  const { field, unit, takeInHand, setKind, goTo, add, remove } = useTray();
  const box = useRef<HTMLDivElement>(null);
  const fields = shownFields(draft);
  const measures: readonly Field[] = fields.filter((name) => name !== 'label' && name !== 'slides');
  const active = field !== undefined && fields.includes(field) ? field : undefined;
  const troubles = sorted.troubles.get(draft.key) ?? [];
  const isChoosing = draft.kind === undefined && active === undefined;

  useEffect(() => {
    if (active !== undefined)
      box.current?.querySelector<HTMLInputElement>(`[data-field='${active}']`)?.focus({ preventScroll: false });
  }, [active]);

  const step = (): void => {
    const at = active === undefined ? -1 : measures.indexOf(active);
    const asked = askedField(sorted, draft);
    const next = asked !== undefined && asked !== active ? asked : measures[(at + 1) % measures.length];
    if (next) goTo(next);
  };
  return (
    <div
      className="tray-draft flex gap-3"
      ref={box}
      onKeyDown={(event) => {
        if (event.key === 'Escape') takeInHand(undefined);
      }}
    >
      <div className="tray-draft-head line gap-3">
        <h3>{draft.texts.label ?? `No. ${number}`}</h3>
        {!isChoosing && (
          <button
            type="button"
            className="button tray-kind-now medium no-wrap"
            onClick={() => {
              setKind(draft.key, undefined);
              takeInHand(draft.key);
            }}
          >
            {draft.kind === undefined ? 'Kind not said' : capital(wordKind(draft.kind))}
            <span className="away clip no-wrap">: change the kind</span> <span aria-hidden="true">▾</span>
          </button>
        )}
        <button type="button" className="button medium no-wrap end" onClick={() => takeInHand(undefined)}>
          Done
        </button>
      </div>
      {isChoosing ? (
        <KindPicker
          onPick={(kind) => {
            setKind(draft.key, kind);
            // The kind is kept a moment later; what is asked for with it is known already.
            const now = { ...draft, kind };
            const state = useTray.getState();
            const drafts = state.drafts.map((one) => (one.key === draft.key ? now : one));
            const asked = askedField(sortDrafts(analysis.model, { ...state, drafts }), now);
            takeInHand(draft.key, asked ?? shownFields(now)[0]);
          }}
          onSkip={() => goTo('outside')}
        />
      ) : (
        <>
          <div className="tray-fields stack gap-2">
            {fields.map((name) => (
              <FieldRow
                key={name}
                draft={draft}
                field={name}
                unit={unit}
                isActive={name === active}
                isWrong={troubles.some((one) => one.field === name)}
                model={analysis.model}
                onNext={step}
              />
            ))}
            <button type="button" className="button tray-off medium no-wrap" onClick={() => remove(draft.key)}>
              Take off
            </button>
          </div>
          <div className="tray-hand stack gap-2 on-sheet">
            <Guess draft={draft} active={active} sorted={sorted} />
            {active !== undefined && active !== 'label' && active !== 'slides' ? (
              <NumberPad draft={draft} field={active} onNext={step} onAnother={add} />
            ) : (
              <PadEnds onNext={step} onAnother={add} />
            )}
          </div>
        </>
      )}
    </div>
  );
}

/** How the active size is taken, and what the part can be so far, said at every key. */
function Guess({
  draft,
  active,
  sorted,
}: {
  readonly draft: Draft;
  readonly active: Field | undefined;
  readonly sorted: SortedDrafts;
}): ReactNode {
  const at = sorted.rowOf.get(draft.key);
  const row = at === undefined ? undefined : sorted.tray.rows[at];
  const troubles = sorted.troubles.get(draft.key) ?? [];
  const kind = draft.kind;
  const picture = useMemo(
    () => (kind === undefined || active === undefined ? undefined : pictureOf(kind, active)),
    [kind, active],
  );
  return (
    <div className="tray-guess line gap-5 snug">
      {picture !== undefined && <Drawing drawing={picture} className="tray-guess-picture rigid" />}
      <div className="stack gap-1 slim">
        {active !== undefined && <p className="tray-how soft small">{fieldHow(active, kind)}</p>}
        <div role="status" id={`guess-${draft.key}`} className="line gap-3">
          {troubles.length > 0 ? (
            <p className="medium trouble-words any-break">{troubles.map(({ words }) => words).join(' ')}</p>
          ) : row && isMeasured(draft) ? (
            <>
              <StandingMark standing={standingOf(row)} />
              <p>
                <strong>{wordTrayRow(row, sorted.tray).title}</strong>
                {row.alternatives.length > 0
                  ? `, or ${row.alternatives.length === 1 ? 'another' : `one of ${row.alternatives.length} more`}`
                  : row.isSure
                    ? ''
                    : `: ${STANDING_WORDS[standingOf(row)].toLowerCase()}`}
              </p>
            </>
          ) : (
            <p className="soft">Measure one size.</p>
          )}
        </div>
      </div>
    </div>
  );
}

/** A part of the kind with the tool in place. */
function pictureOf(kind: PartKindName, field: Field): Drawn | undefined {
  const part = kindOf({ kind }).sample;
  const size =
    field === 'drive'
      ? 'drive'
      : field === 'slides'
        ? 'bore_mm'
        : field in SIZE_OF
          ? SIZE_OF[field as keyof typeof SIZE_OF]
          : undefined;
  const place = size && calliperPlace(part, size);
  return place && drawPart({ part, scale: 2, callipers: place });
}
