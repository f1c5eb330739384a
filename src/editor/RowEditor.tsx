/**
 * The row editor: a row's parts as a line of buttons, worked by tap, by key, by drag and by double tap.
 *
 * It takes a row and reports edits, and knows nothing of the page that shows it: whoever has a row to be worked (a
 * pivot, a set that is being measured, a task to practise) gives the parts and does what is reported. One tab stop,
 * arrows go along the line and pick; the picked part has its buttons under the line, and a drag is one edit.
 */
import { useEffect, useLayoutEffect, useRef, useState, type KeyboardEvent, type ReactNode } from 'react';
import type { RowEdit } from '../../shared/index.ts';
import { Drawing } from '../widgets/Drawing.tsx';
import { FacingGlyph, SidePlate } from '../widgets/marks.tsx';
import { EditButtons, type Elsewhere } from './EditButtons.tsx';
import type { EditorPart } from './part.ts';
import { editOfKey, movedBy, stepAlong } from './rowKeys.ts';
import { useDragAlong } from './useDragAlong.ts';

interface Props {
  /** From the non-drive to the drive side, then what was left out. */
  readonly parts: readonly EditorPart[];
  readonly picked: string | undefined;
  readonly onPick: (id: string | undefined) => void;
  readonly onPoint?: (id: string | undefined) => void;
  readonly onEdit: (edit: RowEdit) => void;
  /** Absent where there is nothing to take back, or to do again. */
  readonly onUndo?: (() => void) | undefined;
  readonly onRedo?: (() => void) | undefined;
  /** What is said before the parts that lie beside the row. */
  readonly beside?: string | undefined;
  readonly elsewhere?: Elsewhere | undefined;
}

export function RowEditor({
  parts,
  picked,
  onPick,
  onPoint,
  onEdit,
  onUndo,
  onRedo,
  beside = 'Left out:',
  elsewhere,
}: Props): ReactNode {
  const line = useRef<HTMLDivElement>(null);
  const [isSwapping, setSwapping] = useState(false);
  const part = parts.find(({ id }) => id === picked);
  const stop = part?.id ?? parts[0]?.id;
  const swaps = isSwapping ? (part?.may.swap ?? []) : [];
  const row = parts.filter(({ isOut }) => isOut !== true);
  const out = parts.filter(({ isOut }) => isOut === true);
  const { held, over, grip } = useDragAlong(line, row, onEdit);

  useEffect(() => setSwapping(false), [picked, parts]);

  useEffect(() => {
    if (picked !== undefined)
      line.current?.querySelector('[aria-pressed="true"]')?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }, [picked]);

  // A part that goes elsewhere in the line takes the keyboard along.
  const isFollowed = useRef(false);
  useLayoutEffect(() => {
    if (!isFollowed.current) return;
    isFollowed.current = false;
    line.current?.querySelector<HTMLElement>('[aria-pressed="true"]')?.focus();
  }, [parts]);

  const focus = (id: string): void => {
    onPick(id);
    line.current?.querySelector<HTMLElement>(`[data-part="${CSS.escape(id)}"]`)?.focus();
  };
  const tap = (id: string): void => {
    if (!isSwapping || !part) return onPick(id === picked ? undefined : id);
    if (swaps.includes(id)) onEdit({ do: 'swap', item: part.id, with: id });
    setSwapping(false);
  };
  const press = (event: KeyboardEvent): void => {
    const to = stepAlong(event, parts, stop, isSwapping ? [part?.id ?? '', ...swaps] : undefined);
    const means = to === undefined ? editOfKey(event, part, row) : undefined;
    if (to === undefined && means === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    if (to !== undefined) {
      if (isSwapping) line.current?.querySelector<HTMLElement>(`[data-part="${CSS.escape(to)}"]`)?.focus();
      else focus(to);
      return;
    }
    if (means === 'undo') onUndo?.();
    else if (means === 'redo') onRedo?.();
    else if (means === 'swap') setSwapping(!isSwapping);
    else if (means === 'take-along') elsewhere?.onTake(part?.id ?? '', part?.goes?.[0] ?? '');
    else if (means === 'let-go') {
      if (isSwapping) setSwapping(false);
      else if (part?.id === elsewhere?.taken) elsewhere?.onLeave();
      else onPick(undefined);
    } else if (means) onEdit(means);
    isFollowed.current = means !== 'swap' && means !== 'let-go';
  };

  const chip = (one: EditorPart): ReactNode => (
    <button
      key={one.id}
      type="button"
      className="chip edged line gap-3 snug"
      data-part={one.id}
      data-held={held?.id === one.id || undefined}
      data-over={over?.id === one.id ? over.how : undefined}
      data-dim={(isSwapping && one.id !== picked && !swaps.includes(one.id)) || undefined}
      data-changed={one.isChanged || undefined}
      data-troubled={one.isTroubled || undefined}
      style={held?.id === one.id ? { translate: `${held.dx}px ${held.dy}px` } : undefined}
      tabIndex={one.id === stop ? 0 : -1}
      aria-pressed={one.id === picked}
      title={one.name}
      onClick={() => tap(one.id)}
      onDoubleClick={() => {
        if (!one.may.turn) return;
        onPick(one.id);
        onEdit({ do: 'turn', item: one.id });
      }}
      onPointerEnter={() => onPoint?.(one.id)}
      onPointerLeave={() => onPoint?.(undefined)}
      {...grip(one)}
    >
      <span className="chip-mark rigid">
        {one.toward ? <FacingGlyph toward={one.toward} /> : one.drawing && <Drawing drawing={one.drawing} />}
      </span>
      <span className="chip-name">{one.name}</span>
    </button>
  );

  /** Where a part that lies beside the row can be laid in by a tap. */
  const place = (to: number): ReactNode =>
    part?.isOut === true &&
    part.may.places.includes(to) && (
      <button
        key={`place ${to}`}
        type="button"
        className="chip-place edged small medium"
        aria-label={`Lay ${part.name} in here, ${to === 0 ? 'first' : `after ${row[to - 1]!.name}`}`}
        onClick={() => {
          isFollowed.current = true;
          onEdit({ do: 'move', item: part.id, to });
        }}
      >
        Here
      </button>
    );

  return (
    <div className="row-editor stack gap-3" data-swapping={isSwapping}>
      <div
        className="chips flex gap-1"
        role="toolbar"
        aria-label="Parts from the non-drive to the drive side"
        ref={line}
        onKeyDown={press}
      >
        <span className="chips-end line gap-3 soft small rigid">
          <SidePlate side="non-drive" /> <span className="away-tall away-short">Non-drive side</span>
        </span>
        {row.map((one, at) => [place(at), chip(one)])}
        {place(row.length)}
        <span className="chips-end line gap-3 soft small rigid">
          <SidePlate side="drive" /> <span className="away-tall away-short">Drive side</span>
        </span>
        {out.length > 0 && <span className="chips-out soft small medium rigid">{beside}</span>}
        {out.map(chip)}
      </div>
      <EditButtons
        part={part}
        isSwapping={isSwapping}
        onSwap={() => setSwapping(!isSwapping)}
        onEdit={onEdit}
        moved={(by) => part && movedBy(part, row, by)}
        onUndo={onUndo}
        onRedo={onRedo}
        elsewhere={elsewhere}
      />
    </div>
  );
}
