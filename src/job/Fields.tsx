/**
 * Fields of a job: a line of text, a number, chips to pick from. What is typed stands under the hand at once.
 */
import { useId, useState, type ReactNode } from 'react';
import { readNumber } from '../../shared/index.ts';
import { useJob } from './jobStore.ts';

interface TextProps {
  readonly field: string;
  readonly value: string;
  readonly label: string;
  readonly hint?: string;
  readonly most?: number;
  readonly isDay?: boolean;
  readonly isLong?: boolean;
}

/** A text of the job. */
export function TextField({
  field,
  value,
  label,
  hint,
  most = 120,
  isDay = false,
  isLong = false,
}: TextProps): ReactNode {
  const put = useJob((state) => state.put);
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const id = useId();
  const shared = {
    id,
    className: 'input full on-sheet',
    maxLength: most,
    value: typed ?? value,
    placeholder: hint,
    onBlur: () => setTyped(undefined),
  };
  const change = (text: string): void => {
    setTyped(text);
    put({ [field]: text }, true);
  };
  return (
    <div className="stack gap-1 slim">
      <label className="soft small medium" htmlFor={id}>
        {label}
      </label>
      {isLong ? (
        <textarea {...shared} rows={3} onChange={(event) => change(event.target.value)} />
      ) : (
        <input {...shared} type={isDay ? 'date' : 'text'} onChange={(event) => change(event.target.value)} />
      )}
    </div>
  );
}

interface NumberProps {
  readonly value: number | undefined;
  readonly label: string;
  readonly give: (value: number | undefined) => void;
  /** The largest that can be meant. */
  readonly most: number;
}

/** A number with its unit in the label; told once it can be meant. */
export function NumberField({ value, label, give, most }: NumberProps): ReactNode {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const id = useId();
  const read = typed === undefined ? value : readNumber(typed);
  const isBad = typed !== undefined && typed.trim() !== '' && !(read !== undefined && read > 0 && read <= most);
  return (
    <div className="stack gap-1 slim">
      <label className="soft small medium" htmlFor={id}>
        {label}
      </label>
      <input
        id={id}
        className="input job-number numbers bold on-sheet"
        inputMode="decimal"
        autoComplete="off"
        value={typed ?? (value === undefined ? '' : String(value))}
        aria-invalid={isBad}
        onChange={(event) => {
          const text = event.target.value;
          setTyped(text);
          const number = readNumber(text);
          if (text.trim() === '') give(undefined);
          else if (number !== undefined && number > 0 && number <= most) give(number);
        }}
        onBlur={() => setTyped(undefined)}
      />
    </div>
  );
}

interface ChipProps<T extends string> {
  readonly label: string;
  readonly choices: readonly T[];
  readonly words: Readonly<Record<T, string>>;
  readonly picked: readonly T[];
  /** The one that goes with no other. */
  readonly alone: T;
  readonly give: (picked: readonly T[]) => void;
}

/** Chips of which several can be on; the good one turns the others off. */
export function Chips<T extends string>({ label, choices, words, picked, alone, give }: ChipProps<T>): ReactNode {
  const press = (choice: T): void => {
    if (picked.includes(choice)) give(picked.filter((one) => one !== choice));
    else if (choice === alone) give([alone]);
    else give([...picked.filter((one) => one !== alone), choice]);
  };
  return (
    <div className="flow gap-2" role="group" aria-label={label}>
      {choices.map((choice) => (
        <button
          key={choice}
          type="button"
          className="button button-small medium no-wrap"
          aria-pressed={picked.includes(choice)}
          onClick={() => press(choice)}
        >
          {words[choice]}
        </button>
      ))}
    </div>
  );
}
