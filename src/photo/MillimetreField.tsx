/** A number with its unit in its name, given on once it can be meant. */
import { useId, useState, type ReactNode } from 'react';
import { readNumber } from '../../shared/index.ts';

interface Props {
  readonly label: string;
  /** Where the name is long for the eye, what stands there instead. */
  readonly shown?: string;
  readonly value: number;
  readonly most: number;
  readonly give: (value: number) => void;
}

export function MillimetreField({ label, shown, value, most, give }: Props): ReactNode {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const id = useId();
  const read = typed === undefined ? value : readNumber(typed);
  const isGood = (number: number | undefined): number is number => number !== undefined && Math.abs(number) <= most;
  return (
    <span className="stack gap-1 slim">
      <label className="soft small medium" htmlFor={id}>
        {shown ?? label}
        {shown !== undefined && <span className="away clip no-wrap"> {label}</span>}
      </label>
      <input
        id={id}
        className="input numbers on-sheet photo-number"
        inputMode="decimal"
        autoComplete="off"
        value={typed ?? String(value)}
        aria-invalid={!isGood(read)}
        onChange={(event) => {
          setTyped(event.target.value);
          const number = readNumber(event.target.value);
          if (isGood(number)) give(number);
        }}
        onBlur={() => setTyped(undefined)}
      />
    </span>
  );
}
