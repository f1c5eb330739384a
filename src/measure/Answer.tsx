/**
 * What is asked for, answered where it is asked: one number, of a size or of a comparison.
 */
import { useId, useRef, useState, type ReactNode } from 'react';
import {
  figure,
  readingsOf,
  wordComparing,
  wordComparison,
  wordDraftHow,
  wordDraftSizeOf,
  type Comparison,
  type DraftSize,
  type SizeEntry,
  type SizeReading,
} from '../../shared/index.ts';
import { today } from '../widgets/day.ts';
import { Drawing } from '../widgets/Drawing.tsx';
import { Segments } from '../widgets/Segments.tsx';
import { readTyped } from '../words.ts';
import { pictureOf, type Bench } from './bench.ts';
import { freshId, useMeasure } from './measureStore.ts';
import { SENSE_WORDS, SIZE_BOUNDS } from './words.ts';

interface FieldProps {
  readonly label: string;
  readonly unit: string;
  readonly least: number;
  readonly most: number;
  readonly isFirst: boolean;
  readonly button: string;
  readonly onEnter: (value: number) => void;
  readonly children?: ReactNode;
}

/** The number and the button that enters it; Enter does the same. */
export function NumberAnswer(props: FieldProps): ReactNode {
  const { label, unit, least, most, isFirst, button, onEnter, children } = props;
  const id = useId();
  const [typed, setTyped] = useState('');
  const [isRefused, setRefused] = useState(false);
  const field = useRef<HTMLInputElement>(null);
  return (
    <form
      className="stack gap-3 from-start"
      onSubmit={(event) => {
        event.preventDefault();
        const value = readTyped(typed);
        if (value === undefined || !(value >= least && value <= most)) {
          setRefused(true);
          return field.current?.focus();
        }
        onEnter(value);
      }}
    >
      {children}
      <label htmlFor={id} className="medium">
        {label}
      </label>
      <div className="flow gap-3">
        <span className="line gap-2">
          <input
            ref={field}
            id={id}
            className="input answer-input large numbers bold slim"
            inputMode="decimal"
            autoComplete="off"
            enterKeyHint="next"
            maxLength={12}
            autoFocus={isFirst}
            value={typed}
            aria-invalid={isRefused}
            onChange={({ target }) => {
              setTyped(target.value);
              setRefused(false);
            }}
          />
          {unit}
        </span>
        <button type="submit" className="button button-main medium no-wrap">
          {button}
        </button>
      </div>
      {isRefused && (
        <p className="medium trouble-words" role="status">
          Type a number from {figure(least)} to {figure(most)} {unit}.
        </p>
      )}
    </form>
  );
}

/** A size, with where the calliper goes. */
export function SizeAnswer({
  bench,
  size,
  accuracy,
  isFirst,
  onEntered,
}: {
  readonly bench: Bench;
  readonly size: DraftSize;
  /** ± that the reading is good for. */
  readonly accuracy: number;
  readonly isFirst: boolean;
  readonly onEntered: () => void;
}): ReactNode {
  const put = useMeasure((state) => state.size);
  const [least, most] = SIZE_BOUNDS[size.unit];
  const how = wordDraftHow(size);
  const picture = pictureOf(bench, size, wordDraftSizeOf(size));
  return (
    <>
      <div className="flow gap-4">
        {picture && <Drawing drawing={picture} className="size-picture rigid" />}
        <p className="size-how">{how}.</p>
      </div>
      <NumberAnswer
        label="It reads"
        unit={size.unit}
        least={least}
        most={most}
        isFirst={isFirst}
        button="Enter it"
        onEnter={(value) => {
          put(size.path, withReading(size.entry, { value, ...said(size, accuracy) }));
          onEntered();
        }}
      />
    </>
  );
}

/** Where a reading is from: a torque and a tool stand on the part or in the manual, the rest is measured. */
function said({ key, unit }: DraftSize, accuracy: number): Omit<SizeReading, 'value'> {
  if (unit === 'N·m') return { from: 'manual', when: today() };
  return { from: 'measured', when: today(), ...(key.startsWith('drives') ? { accuracy } : {}) };
}

/** An entry with one more reading; a guess goes. */
export function withReading(entry: SizeEntry | undefined, reading: SizeReading): SizeEntry {
  const before = readingsOf(entry).filter(({ from }) => from !== 'guess');
  return before.length === 0 ? reading : [...before, reading];
}

/** A comparison, with which of the two is more. */
export function ComparisonAnswer({
  bench,
  comparison,
  isFirst,
  onEntered,
}: {
  readonly bench: Bench;
  readonly comparison: Pick<Comparison, 'with' | 'terms' | 'accuracy'>;
  readonly isFirst: boolean;
  readonly onEntered: () => void;
}): ReactNode {
  const put = useMeasure((state) => state.put);
  const { with: tool, terms, accuracy } = comparison;
  const [isLess, setLess] = useState<'more' | 'less'>('more');
  const isDifference = terms.some(({ times }) => times < 0);
  const [more, less] = SENSE_WORDS[tool];
  const sizes = terms.flatMap(({ size }) => bench.sizes.find(({ path }) => path === size) ?? []);
  return (
    <>
      <p>
        {wordComparing(tool)}. It is good for ± {figure(accuracy)} mm.
      </p>
      {terms.length === 2 && (
        <div className="flow gap-4">
          {sizes.map((size) => {
            const picture = pictureOf(bench, size, wordDraftSizeOf(size));
            return picture && <Drawing key={size.path} drawing={picture} className="size-picture rigid" />;
          })}
        </div>
      )}
      <NumberAnswer
        label={isDifference ? (isLess === 'less' ? less : more) : 'It reads'}
        unit="mm"
        least={0}
        most={SIZE_BOUNDS.mm[1]}
        isFirst={isFirst}
        button="Enter it"
        onEnter={(value) => {
          const one = {
            id: freshId(),
            with: tool,
            terms,
            value_mm: isDifference && isLess === 'less' ? -value : value,
            accuracy_mm: accuracy,
            when: today(),
          };
          put((draft) => ({ ...draft, compared: [...(draft.compared ?? []), one] }));
          onEntered();
        }}
      >
        {isDifference && (
          <Segments
            label={wordComparison(terms, bench.sizes)}
            choices={[
              ['more', more],
              ['less', less],
            ]}
            value={isLess}
            pick={setLess}
          />
        )}
      </NumberAnswer>
    </>
  );
}
