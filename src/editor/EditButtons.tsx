/**
 * The buttons of the picked part: turn it round, leave it out, swap it, move it one place on; and undo and redo.
 */
import type { ReactNode } from 'react';
import type { RowEdit } from '../../shared/index.ts';
import type { EditorPart } from './part.ts';

interface Props {
  readonly part: EditorPart | undefined;
  readonly isSwapping: boolean;
  readonly onSwap: () => void;
  readonly onEdit: (edit: RowEdit) => void;
  /** The edit that moves the part one place on, if it can be moved that way. */
  readonly moved: (by: 1 | -1) => RowEdit | undefined;
  readonly onUndo?: (() => void) | undefined;
  readonly onRedo?: (() => void) | undefined;
  readonly elsewhere?: Elsewhere | undefined;
}

/** The other rows that a part can be taken along to. */
export interface Elsewhere {
  readonly rows: readonly { readonly id: string; readonly name: string }[];
  /** Take a part along to another row: it then lies beside that one. */
  readonly onTake: (item: string, row: string) => void;
  /** Leave what was taken along where it stands. */
  readonly onLeave: () => void;
  /** Id of what was taken along to this row. */
  readonly taken?: string | undefined;
}

export function EditButtons({ part, isSwapping, onSwap, onEdit, moved, onUndo, onRedo, elsewhere }: Props): ReactNode {
  const [back, on] = [moved(-1), moved(1)];
  return (
    <div className="edits stack gap-2" role="group" aria-label={part ? part.name : 'No part picked'}>
      <p className="edits-name strong snug" role="status">
        {isSwapping
          ? 'Swap it with which part?'
          : part?.isOut === true && part.may.places.length > 0
            ? `${part.name}: tap “Here” where it goes, or drag it there.`
            : (part?.name ?? 'Tap a part to work it.')}
      </p>
      <div className="edits-row flow gap-2">
        {part !== undefined && part.id === elsewhere?.taken ? (
          <>
            {part.may.swap.length > 0 && <Edit word={isSwapping ? 'Do not swap' : 'Swap…'} onPress={onSwap} />}
            <Edit word="Leave it where it is" onPress={elsewhere.onLeave} />
          </>
        ) : part?.isOut === true && part.may.places.length > 0 ? null : part?.isOut === true ? (
          <Edit word="Put it back" onPress={() => onEdit({ do: 'put-back', item: part.id })} isMain />
        ) : (
          <>
            <Edit
              word="Turn round"
              onPress={part?.may.turn ? () => onEdit({ do: 'turn', item: part.id }) : undefined}
              isMain
            />
            <Edit
              word="Leave out"
              onPress={part?.may.leaveOut ? () => onEdit({ do: 'leave-out', item: part.id }) : undefined}
            />
            <Edit
              word={isSwapping ? 'Do not swap' : 'Swap…'}
              onPress={(part?.may.swap.length ?? 0) > 0 ? onSwap : undefined}
            />
            <span className="edits-pair flex gap-2">
              <Edit word="‹ N" label="move toward the non-drive side" onPress={back && (() => onEdit(back))} />
              <Edit word="D ›" label="move toward the drive side" onPress={on && (() => onEdit(on))} />
            </span>
          </>
        )}
        {elsewhere?.rows
          .filter(({ id }) => part?.goes?.includes(id))
          .map(({ id, name }) => (
            <Edit
              key={id}
              word="To the other axle"
              label={name}
              onPress={() => part && elsewhere.onTake(part.id, id)}
            />
          ))}
        <span className="edits-pair flex gap-2">
          <Edit word="Undo" onPress={onUndo} />
          <Edit word="Redo" onPress={onRedo} />
        </span>
      </div>
    </div>
  );
}

interface EditProps {
  readonly word: string;
  /** What it means, for who does not see where it stands. */
  readonly label?: string;
  readonly onPress: (() => void) | undefined;
  readonly isMain?: boolean;
}

/** A button that stays where it is when it cannot be pressed, so that a thumb finds the others. */
function Edit({ word, label, onPress, isMain = false }: EditProps): ReactNode {
  return (
    <button
      type="button"
      className={isMain && onPress ? 'button button-main edit medium no-wrap' : 'button edit medium no-wrap'}
      aria-disabled={onPress === undefined}
      title={label}
      onClick={onPress}
    >
      {word}
      {label !== undefined && <span className="away clip no-wrap">: {label}</span>}
    </button>
  );
}
