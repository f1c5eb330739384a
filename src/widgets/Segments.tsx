/**
 * One choice of a few, side by side, as buttons of which one is pressed.
 */
import type { ReactNode } from 'react';
import { useRoving } from '../page/useRoving.ts';

interface Props<T extends string> {
  readonly label: string;
  readonly choices: readonly (readonly [value: T, word: string])[];
  readonly value: T;
  readonly pick: (value: T) => void;
  /** A choice that cannot be made now. */
  readonly off?: T | undefined;
}

export function Segments<T extends string>({ label, choices, value, pick, off }: Props<T>): ReactNode {
  const bar = useRoving<HTMLDivElement>('row');
  return (
    <div className="segments tinted" role="group" aria-label={label} ref={bar}>
      {choices.map(([choice, word]) => (
        <button
          key={choice}
          type="button"
          className="segment medium no-wrap"
          aria-pressed={value === choice}
          disabled={off === choice}
          onClick={() => pick(choice)}
        >
          {word}
        </button>
      ))}
    </div>
  );
}
