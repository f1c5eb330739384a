/**
 * The picked pivot's row, worked in the row editor, with its verdict beside it and what the change would do under it;
 * the section stands between them where the page has no other place for it.
 */
import { useMemo, type ReactNode } from 'react';
import {
  applyMistake,
  editModel,
  mistakeItems,
  toldVerdict,
  wordTried,
  wordVerdict,
  type WorkedRow,
} from '../../shared/index.ts';
import { pivotOf, shownOf, stackOf, toldOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { VerdictMark } from '../widgets/marks.tsx';
import { WhatIfWords } from '../mistakes/WhatIfCard.tsx';
import { RowEditor } from '../editor/RowEditor.tsx';
import { rowParts } from '../mistakes/rowParts.ts';

const NONE: readonly string[] = [];

export function WorkRow({ children }: { readonly children?: ReactNode }): ReactNode {
  const written = useApp((state) => state.opened?.analysis);
  const analysis = useApp(shownOf);
  const stack = useApp(stackOf);
  const pivot = useApp((state) => toldOf(state)?.pivots.find(({ id }) => id === pivotOf(state)?.id));
  const whatIf = useApp((state) => state.whatIf);
  const selectedId = useApp((state) => state.selectedId);
  const edits = useApp((state) => state.edits);
  const worked = useWorked(stack?.id);
  const parts = useMemo(
    () =>
      written && analysis && stack && worked
        ? rowParts({ stack, analysis, worked, written, changed: whatIf ? mistakeItems(whatIf.row.mistake) : NONE })
        : [],
    [written, analysis, stack, worked, whatIf],
  );
  if (!written || !stack || !pivot) return null;
  const idOf = (rowId: string | undefined): string | undefined => rowId && `${stack.id}/${rowId}`;
  const own = `${stack.id}/`;
  const picked = selectedId?.startsWith(own) === true ? selectedId.slice(own.length) : undefined;
  return (
    <section className="work-row stack gap-3" aria-label="Work the row">
      <p className="work-row-verdict line gap-3 large bold" role="status">
        <VerdictMark verdict={whatIf ? whatIf.row.verdict : toldVerdict(pivot)} />
        {whatIf ? wordTried(whatIf.row, written).verdict : wordVerdict(pivot)}
      </p>
      <RowEditor
        parts={parts}
        picked={picked}
        onPick={(id) => act.pickPart(idOf(id))}
        onPoint={(id) => act.light(idOf(id))}
        onEdit={(edit) => act.editRow({ stack: stack.id, edit })}
        onUndo={edits.done.length > 0 ? act.undoEdit : undefined}
        onRedo={edits.undone.length > 0 ? act.redoEdit : undefined}
      />
      {children}
      {whatIf && <WhatIfWords whatIf={whatIf} written={written} />}
    </section>
  );
}

/** The row of a stack with what was taken out of it. */
function useWorked(stackId: string | undefined): WorkedRow | undefined {
  const written = useApp((state) => state.opened?.analysis.model);
  const base = useApp((state) => state.base);
  const done = useApp((state) => state.edits.done);
  return useMemo(() => {
    const edited = written && editModel(base ? applyMistake(written, base) : written, done);
    const row = edited?.model.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId)?.row;
    return row && (edited.rows.get(stackId!) ?? { row, out: [] });
  }, [written, base, done, stackId]);
}
