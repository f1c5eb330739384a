/**
 * The picked pivot's row, worked in the row editor, with its verdict beside it and what the change would do under it;
 * the section stands between them where the page has no other place for it.
 */
import { useEffect, useMemo, useState, type ReactNode } from 'react';
import {
  applyMistake,
  editModel,
  mayGo,
  mistakeItems,
  toldVerdict,
  wordTried,
  wordVerdict,
  type PivotAnalysis,
  type RowEdit,
  type WorkedRow,
} from '../../shared/index.ts';
import { pivotOf, shownOf, stackOf, toldOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { VerdictMark } from '../widgets/marks.tsx';
import { WhatIfWords } from '../mistakes/WhatIfCard.tsx';
import { RowEditor } from '../editor/RowEditor.tsx';
import { rowParts, takenAlong } from '../mistakes/rowParts.ts';
import type { EditorPart } from '../editor/part.ts';

const NONE: readonly string[] = [];

export function WorkRow({ children }: { readonly children?: ReactNode }): ReactNode {
  const written = useApp((state) => state.opened?.analysis);
  const analysis = useApp(shownOf);
  const stack = useApp(stackOf);
  const pivot = useApp((state) => toldOf(state)?.pivots.find(({ id }) => id === pivotOf(state)?.id));
  const whatIf = useApp((state) => state.whatIf);
  const selectedId = useApp((state) => state.selectedId);
  const edits = useApp((state) => state.edits);
  const rows = useRows(pivot);
  const worked = rows.get(stack?.id ?? '');
  const taking = useTaking(stack?.id, pivot?.id);
  const inRow = useMemo(
    () =>
      written && analysis && stack && worked
        ? rowParts({ stack, analysis, worked, written, changed: whatIf ? mistakeItems(whatIf.row.mistake) : NONE })
        : [],
    [written, analysis, stack, worked, whatIf],
  );
  const parts = useMemo((): readonly EditorPart[] => {
    if (!analysis || !stack || !worked) return inRow;
    const { parts: known } = analysis.model;
    const goes = (id: string): string[] =>
      [...rows].flatMap(([other, { row }]) => {
        const may = other === stack.id ? undefined : mayGo(worked.row, id, row, known);
        return may && may.places.length + may.swap.length > 0 ? [other] : [];
      });
    const from = taking.taken && rows.get(taking.taken.stack);
    return [
      ...inRow.map((part) => (part.isOut || part.isEnd ? part : { ...part, goes: goes(part.id) })),
      ...(taking.taken && from
        ? takenAlong(taking.taken.id, analysis, mayGo(from.row, taking.taken.item, worked.row, known))
        : []),
    ];
  }, [inRow, analysis, stack, worked, rows, taking.taken]);
  if (!written || !stack || !pivot) return null;
  const taken = taking.taken;
  const idOf = (rowId: string | undefined): string | undefined => rowId && `${stack.id}/${rowId}`;
  const own = `${stack.id}/`;
  const inThis = selectedId?.startsWith(own) === true ? selectedId.slice(own.length) : undefined;
  const picked = taken && selectedId === taken.id ? taken.id : inThis;
  const edit = (done: RowEdit): void =>
    taken && done.item === taken.id
      ? act.editRow({ stack: taken.stack, edit: { ...done, item: taken.item }, into: stack.id })
      : act.editRow({ stack: stack.id, edit: done });
  return (
    <section className="work-row stack gap-3" aria-label="Work the row">
      <p className="work-row-verdict line gap-3 large bold" role="status">
        <VerdictMark verdict={whatIf ? whatIf.row.verdict : toldVerdict(pivot)} />
        {whatIf ? wordTried(whatIf.row, written).verdict : wordVerdict(pivot)}
      </p>
      <RowEditor
        parts={parts}
        picked={picked}
        onPick={(id) => act.pickPart(id === taken?.id ? id : idOf(id))}
        onPoint={(id) => act.light(id === taken?.id ? id : idOf(id))}
        onEdit={edit}
        onUndo={edits.done.length > 0 ? act.undoEdit : undefined}
        onRedo={edits.undone.length > 0 ? act.redoEdit : undefined}
        beside={taken && 'Beside the row:'}
        elsewhere={{
          rows: pivot.stacks.filter(({ id }) => id !== stack.id),
          onTake: (item, row) => taking.take({ stack: stack.id, item, id: `${stack.id}/${item}` }, row),
          onLeave: taking.leave,
          taken: taken?.id,
        }}
      />
      {children}
      {whatIf && <WhatIfWords whatIf={whatIf} written={written} />}
    </section>
  );
}

/** The rows of a pivot as they were worked, by their stacks, with what was taken out of each. */
function useRows(pivot: PivotAnalysis | undefined): ReadonlyMap<string, WorkedRow> {
  const written = useApp((state) => state.opened?.analysis.model);
  const base = useApp((state) => state.base);
  const done = useApp((state) => state.edits.done);
  const id = pivot?.id;
  return useMemo(() => {
    const edited = written && editModel(base ? applyMistake(written, base) : written, done);
    const stacks = edited?.model.pivots.find((one) => one.id === id)?.stacks ?? [];
    return new Map(
      stacks.map((stack) => [stack.id, edited!.rows.get(stack.id) ?? { row: stack.row, out: [] }] as const),
    );
  }, [written, base, done, id]);
}

/** A part on its way from one row of a pivot to another. */
interface Taken {
  readonly stack: string;
  readonly item: string;
  readonly id: string;
}

/** What is taken along to another row: it lies beside that one until it is laid in, left, or the rows have changed. */
function useTaking(stackId: string | undefined, pivotId: string | undefined) {
  const [on, setOn] = useState<Taken | undefined>(undefined);
  const done = useApp((state) => state.edits.done);
  useEffect(() => setOn(undefined), [done, pivotId]);
  const taken = on && on.stack !== stackId ? on : undefined;
  return {
    taken,
    take: (part: Taken, row: string): void => {
      setOn(part);
      act.pickStack(row);
      act.pickPart(part.id);
    },
    leave: (): void => {
      setOn(undefined);
      if (on) act.pickStack(on.stack);
    },
  };
}
