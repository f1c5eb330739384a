/**
 * The tray itself: every loose part at true relative size, lined up on one face, with what tells it from its
 * look-alike.
 */
import { useMemo, useRef, type ReactNode } from 'react';
import type { Analysis } from '../../shared/index.ts';
import type { SortedDrafts } from './tray.ts';
import { useSize } from '../widgets/useSize.ts';
import { useTray } from './trayStore.ts';
import { drawnPart } from './trayWords.ts';
import { partExtent } from '../drawings/part.ts';
import { BoardRow } from './BoardRow.tsx';
import { EmptyTray } from './EmptyTray.tsx';

interface Props {
  readonly sorted: SortedDrafts;
  readonly analysis: Analysis;
}

/** Most px a millimetre takes, on a narrow board and on a wide one. */
const NARROW_SCALE = 2.75;
const WIDE_SCALE = 4;
const NARROW_px = 560;
/** Share of a wide board that the longest part may take; on a narrow one it has a line to itself. */
const PICTURE_SHARE = 0.45;

export function TrayBoard({ sorted, analysis }: Props): ReactNode {
  const drafts = useTray((state) => state.drafts);
  const board = useRef<HTMLUListElement>(null);
  const { width_px } = useSize(board);
  const { scale, lead_mm } = useMemo(() => measure(sorted, width_px), [sorted, width_px]);
  return (
    <ul className="board" ref={board}>
      {drafts.length === 0 && (
        <li className="stack gap-5">
          <p className="soft large">Nothing on the tray yet.</p>
          <EmptyTray analysis={analysis} />
        </li>
      )}
      {drafts.map((draft, index) => {
        const at = sorted.rowOf.get(draft.key);
        return (
          <BoardRow
            key={draft.key}
            draft={draft}
            number={index + 1}
            row={at === undefined ? undefined : sorted.tray.rows[at]}
            troubles={sorted.troubles.get(draft.key)}
            tray={sorted.tray}
            analysis={analysis}
            scale={scale}
            lead_mm={lead_mm}
          />
        );
      })}
    </ul>
  );
}

/** One scale for all, and the longest stretch before the face they are lined up on. */
function measure({ tray }: SortedDrafts, width_px: number): { readonly scale: number; readonly lead_mm: number } {
  const extents = tray.rows.flatMap((row) => {
    const part = drawnPart(row, tray);
    return part ? [partExtent(part)] : [];
  });
  const lead_mm = Math.max(0, ...extents.map(({ from_mm }) => -from_mm));
  const longest = Math.max(1, ...extents.map(({ to_mm }) => to_mm + lead_mm));
  const isNarrow = width_px < NARROW_px;
  const room_px = Math.max(160, isNarrow ? width_px - 8 : width_px * PICTURE_SHARE);
  return { scale: Math.min(isNarrow ? NARROW_SCALE : WIDE_SCALE, room_px / (longest + 2)), lead_mm };
}
