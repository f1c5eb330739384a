/**
 * The number pad: large keys for a thumb in a glove, typing into the field that is active.
 */
import type { ReactNode } from 'react';
import { padded, type Draft, type Field } from './tray.ts';
import { useFieldText, useTray } from './trayStore.ts';

interface Props {
  readonly draft: Draft;
  readonly field: Field;
  readonly onNext: () => void;
  readonly onAnother: () => void;
}

const DIGITS = ['7', '8', '9', '4', '5', '6', '1', '2', '3'] as const;

/** Whole texts that a field is often given. */
const QUICK: Readonly<Partial<Record<Field, readonly string[]>>> = {
  pitch: ['0.75', '1', '1.25', '1.5', '1.75', '2'],
  drive: ['hex ', 'star ', 'spanner ', 'pin-spanner '],
  thread: ['M10×1', 'M12×1', 'M14×1', 'M15×1'],
};

export function NumberPad({ draft, field, onNext, onAnother }: Props): ReactNode {
  const type = useTray((state) => state.type);
  const text = useFieldText(draft.key, field);
  const press = (key: string): void => type(draft.key, field, padded(text, key));
  const isWhole = field === 'count' || field === 'turns';
  return (
    <div className="pad stack gap-2" role="group" aria-label="Number pad" data-arrows>
      {QUICK[field] && (
        <div className="flow gap-2">
          {QUICK[field].map((word) => (
            <button
              key={word}
              type="button"
              className="button medium no-wrap"
              onClick={() => type(draft.key, field, word)}
            >
              {word.trim()}
            </button>
          ))}
        </div>
      )}
      <div className="pad-keys stack gap-2">
        {DIGITS.map((key) => (
          <button key={key} type="button" className="pad-key edged warms large bold" onClick={() => press(key)}>
            {key}
          </button>
        ))}
        <button
          type="button"
          className="pad-key edged warms large bold"
          onClick={() => press('.')}
          aria-label="Point"
          aria-disabled={isWhole && field === 'count'}
        >
          .
        </button>
        <button type="button" className="pad-key edged warms large bold" onClick={() => press('0')}>
          0
        </button>
        <button
          type="button"
          className="pad-key edged warms large bold"
          onClick={() => press('⌫')}
          aria-label="Rub out"
        >
          ⌫
        </button>
      </div>
      <PadEnds onNext={onNext} onAnother={onAnother} />
    </div>
  );
}

/** On to the next size, and to the next part. */
export function PadEnds({ onNext, onAnother }: Pick<Props, 'onNext' | 'onAnother'>): ReactNode {
  return (
    <div className="pad-ends stack gap-2">
      <button type="button" className="pad-key edged warms pad-next large bold" onClick={onNext}>
        Next size
      </button>
      <button type="button" className="pad-key edged warms pad-another large bold" onClick={onAnother}>
        Next part
      </button>
    </div>
  );
}
