/**
 * Which way each loose part of a pivot looks: one line a part, from the non-drive to the drive side, before anything
 * else.
 */
import type { ReactNode } from 'react';
import { nameOf, wordWay, type Analysis, type PivotAnalysis } from '../../shared/index.ts';
import { act } from '../page/store.ts';
import { useRoving } from '../page/useRoving.ts';
import { middle_mm } from './places.ts';
import { FacingGlyph } from '../widgets/marks.tsx';

export function WhichWay({
  pivot,
  analysis,
}: {
  readonly pivot: PivotAnalysis;
  readonly analysis: Analysis;
}): ReactNode {
  const items = pivot.stacks
    .flatMap((stack) => stack.items)
    .filter((item) => item.role === 'spacer')
    .sort((a, b) => middle_mm(a) - middle_mm(b));
  const list = useRoving<HTMLUListElement>('list');
  if (items.length === 0) return null;
  return (
    <section className="ways">
      <h3>Which way round</h3>
      <ul className="stack hair" ref={list}>
        {items.map((item) => (
          <li key={item.id}>
            <button type="button" className="way warms press line gap-4" onClick={() => act.select(item.id)}>
              <FacingGlyph toward={item.smallFace ?? 'same'} />
              <span className="stack">
                <span className="strong">{nameOf(item.id, analysis)}</span> <span>{wordWay(item)}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
