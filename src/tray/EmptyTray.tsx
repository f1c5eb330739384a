/**
 * The tray before anything lies on it: what an eye tells apart, what has to be measured, and the mat to lay it all on.
 */
import { useMemo, type ReactNode } from 'react';
import { groupsByEye, wordEyeGroup, type Analysis, type Part } from '../../shared/index.ts';
import { matRows } from '../drawings/mat.ts';
import { drawPart } from '../drawings/part.ts';
import { act } from '../page/store.ts';
import { Drawing } from '../widgets/Drawing.tsx';

/** How large a millimetre is drawn beside words, and on the small mat, px. */
const BESIDE = 2.1;
const MAT = 1.4;

export function EmptyTray({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const { model } = analysis;
  const groups = useMemo(() => groupsByEye(model), [model]);
  const rows = useMemo(
    () =>
      matRows(analysis).map((row) => ({
        ...row,
        cells: row.cells.map(({ id, name, drawing }) => ({
          id,
          name,
          drawing: { ...drawing, shown: { scale: MAT, unit: 'px' } as const },
        })),
      })),
    [analysis],
  );
  const drawn = useMemo(
    () =>
      new Map(
        Object.entries(model.parts).map(
          ([id, part]: [string, Part]) => [id, drawPart({ part, scale: BESIDE })] as const,
        ),
      ),
    [model],
  );
  const pictures = (ids: readonly string[]): ReactNode => (
    <span className="eye-pictures flow gap-3">
      {ids.map((id) => {
        const drawing = drawn.get(id);
        return drawing && <Drawing key={id} drawing={drawing} className="rigid" />;
      })}
    </span>
  );
  const alone = groups.filter(({ parts }) => parts.length === 1);
  const alike = groups.filter(({ parts }) => parts.length > 1);
  return (
    <div className="empty-tray stack gap-5">
      {alike.length > 0 && (
        <section className="stack gap-3">
          <h2>These look alike: measure them</h2>
          <ul className="eye-groups stack gap-3">
            {alike.map((group) => {
              const { title, text } = wordEyeGroup(group, model);
              return (
                <li key={group.parts.join()} className="eye-group stack gap-2">
                  {pictures(group.parts)}
                  <span className="medium">{title}</span>
                  <span>{text}</span>
                </li>
              );
            })}
          </ul>
        </section>
      )}
      {alone.length > 0 && (
        <section className="stack gap-3">
          <h2>These an eye tells apart</h2>
          <ul className="eye-alone flow gap-5">
            {alone.map(({ parts }) => (
              <li key={parts[0]} className="stack gap-1">
                {pictures(parts)}
                <span className="small">{model.parts[parts[0]!]?.name}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section className="stack gap-3 from-start">
        <h2>Where they lie on the mat</h2>
        <ul className="eye-mat stack gap-3 full">
          {rows.map(({ id, title, cells }) => (
            <li key={id} className="stack gap-1">
              <span className="soft small">{title}</span>
              <span className="flow gap-4 eye-pictures">
                {cells.map((cell) => (
                  <span key={cell.id} title={cell.name}>
                    <Drawing drawing={cell.drawing} />
                  </span>
                ))}
              </span>
            </li>
          ))}
        </ul>
        <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('mat')}>
          Print the mat at full size
        </button>
      </section>
    </div>
  );
}
