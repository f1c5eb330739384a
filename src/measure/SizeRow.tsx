/**
 * One size of what is in the hand: its number, how well it is known and from where, and, while it is worked, where the
 * calliper goes.
 */
import { useId, useMemo, useState, type ReactNode } from 'react';
import {
  accuracyOf,
  capital,
  figure,
  readingsOf,
  wordDraftHow,
  wordDraftSize,
  type DraftSize,
  type FieldValue,
  type SizeEntry,
  type SizeOrigin,
  type SizeReading,
} from '../../shared/index.ts';
import { today } from '../widgets/day.ts';
import { Drawing } from '../widgets/Drawing.tsx';
import { readTyped, TWO_VALUES } from '../words.ts';
import { pictureOf, type Bench } from './bench.ts';
import { sizeField } from './kept.ts';
import { useMeasure } from './measureStore.ts';
import { FROM_WORDS, SIZE_BOUNDS } from './words.ts';

interface Props {
  readonly bench: Bench;
  readonly size: DraftSize;
  readonly isActive: boolean;
  readonly onActive: () => void;
  readonly onNext: () => void;
}

/** The entry that readings come to. */
function entryOf(readings: readonly SizeReading[]): SizeEntry {
  const [first, ...more] = readings;
  return first === undefined ? null : more.length === 0 ? first : readings;
}

export function SizeRow({ bench, size, isActive, onActive, onNext }: Props): ReactNode {
  const put = useMeasure((state) => state.size);
  const id = useId();
  const { entry, unit, path, band } = size;
  const readings: readonly SizeReading[] =
    typeof entry === 'number' ? [{ value: entry, from: 'standard' }] : readingsOf(entry);
  const shown = readings.length > 0 ? readings : [undefined];
  const word = capital(wordDraftSize(size));
  const change = (k: number, to: SizeReading | undefined, isTyped = false): void => {
    const next = to ? [...readings.slice(0, k), to, ...readings.slice(k + 1)] : readings.filter((_, at) => at !== k);
    put(path, entryOf(next), isTyped);
  };
  const state = entry === null || entry === undefined ? 'unknown' : band.isOpen ? 'guess' : 'known';
  return (
    <div className={isActive ? 'size-row edged stack gap-2 tinted' : 'size-row edged stack gap-2'} data-state={state}>
      {shown.map((reading, k) => (
        <Reading
          // A reading has no name but its place among the others of its size.
          key={`${path} ${k}`}
          id={`${id}-${k}`}
          label={k === 0 ? word : `${word}, reading ${k + 1}`}
          size={size}
          reading={reading}
          onActive={onActive}
          onNext={onNext}
          onChange={(to, isTyped) => change(k, to, isTyped)}
        />
      ))}
      <Clash path={path} />
      {band.clash !== undefined && (
        <p className="medium trouble-words" role="status">
          These readings do not agree. Read it once more, and take the wrong one out.
        </p>
      )}
      {isActive && (
        <Work
          bench={bench}
          size={size}
          readings={readings}
          word={word}
          change={change}
          add={() => {
            put(path, entryOf([...readings, { value: readings[0]!.value, from: 'measured', when: today() }]));
          }}
          forget={() => put(path, null)}
        />
      )}
      {isActive && unit === 'mm' && band.isOpen && band.most > band.least && (
        <p className="soft small">
          May be from {figure(band.least)} to {figure(band.most)} mm, by its kind and what stands beside it.
        </p>
      )}
    </div>
  );
}

const NO_CLASH: readonly FieldValue[] = [];

/** What two tabs or two devices have said of one size. */
function Clash({ path }: { readonly path: string }): ReactNode {
  const put = useMeasure((state) => state.size);
  const clash = useMeasure((state) => state.sum?.clashes.get(sizeField(path)) ?? NO_CLASH);
  if (clash.length === 0) return null;
  return (
    <div className="callout callout-warn stack gap-2" role="group" aria-label={TWO_VALUES}>
      <p className="small">{TWO_VALUES}</p>
      <div className="flow gap-2">
        {clash.map((value) => {
          const entry = value as SizeEntry;
          return (
            <button
              key={JSON.stringify(value)}
              type="button"
              className="button medium no-wrap"
              onClick={() => put(path, entry)}
            >
              {readingsOf(entry)
                .map((own) => figure(own.value, 3))
                .join(', ') || 'not known'}
            </button>
          );
        })}
      </div>
    </div>
  );
}

interface ReadingProps {
  readonly id: string;
  readonly label: string;
  readonly size: DraftSize;
  readonly reading: SizeReading | undefined;
  readonly onActive: () => void;
  readonly onNext: () => void;
  readonly onChange: (to: SizeReading | undefined, isTyped: boolean) => void;
}

/** The number itself; what is typed is a reading of the calliper unless something else is said of it. */
function Reading({ id, label, size, reading, onActive, onNext, onChange }: ReadingProps): ReactNode {
  const { unit, path } = size;
  const kept = reading === undefined ? '' : figure(reading.value, 3);
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const value = typed === undefined ? undefined : readTyped(typed);
  const [least, most] = SIZE_BOUNDS[unit];
  const isBad = value !== undefined && !(value >= least && value <= most);
  return (
    <div className="size-line line gap-3">
      <label htmlFor={id} className="size-word">
        {label}
      </label>
      <input
        id={id}
        data-size={path}
        className="input size-input large numbers bold slim"
        inputMode="decimal"
        autoComplete="off"
        enterKeyHint="next"
        maxLength={12}
        placeholder="unknown"
        value={typed ?? kept}
        aria-invalid={isBad}
        onFocus={onActive}
        // Until the hand leaves, its text stands as it was typed.
        onBlur={() => setTyped(undefined)}
        onChange={({ target }) => {
          setTyped(target.value);
          const next = readTyped(target.value);
          if (next === undefined) return onChange(undefined, true);
          if (!(next >= least && next <= most)) return;
          const base = reading && reading.from !== 'guess' ? reading : { from: 'measured' as const, when: today() };
          onChange({ ...base, value: next }, true);
        }}
        onKeyDown={(event) => {
          if (event.key !== 'Enter') return;
          event.preventDefault();
          onNext();
        }}
      />
      <span className="size-from soft small snug">
        {unit}
        <br />
        {reading === undefined ? 'not said' : FROM_WORDS[reading.from].brief}
      </span>
    </div>
  );
}

interface WorkProps {
  readonly bench: Bench;
  readonly size: DraftSize;
  readonly readings: readonly SizeReading[];
  readonly word: string;
  readonly change: (k: number, to: SizeReading | undefined, isTyped?: boolean) => void;
  readonly add: () => void;
  readonly forget: () => void;
}

/** How it is taken, how well, from where. */
function Work({ bench, size, readings, word, change, add, forget }: WorkProps): ReactNode {
  const picture = useMemo(() => pictureOf(bench, size), [bench, size]);
  const how = wordDraftHow(size);
  return (
    <div className="size-work stack gap-3">
      <div className="flow gap-4">
        {picture && <Drawing drawing={picture} className="size-picture rigid" />}
        {how !== '' && <p className="size-how soft">{how}.</p>}
      </div>
      {readings.map((reading, k) => (
        <About
          key={`${k}`}
          name={readings.length === 1 ? word : `${word}, reading ${k + 1}`}
          reading={reading}
          onChange={(to, isTyped) => change(k, to, isTyped)}
        />
      ))}
      <div className="flow gap-2">
        {readings[0]?.from === 'guess' && (
          <button
            type="button"
            className="button size-so medium no-wrap"
            onClick={({ currentTarget }) => {
              // The button goes with the guess; the hand stays at the size.
              currentTarget.closest('.size-row')?.querySelector('input')?.focus();
              change(0, { value: readings[0]!.value, from: 'measured', when: today() });
            }}
          >
            It measures so
          </button>
        )}
        {readings.length > 0 && readings[0]!.from !== 'guess' && (
          <button type="button" className="button medium no-wrap" onClick={add}>
            Read it once more
          </button>
        )}
        {readings.length > 1 && (
          <button
            type="button"
            className="button medium no-wrap"
            onClick={() => change(readings.length - 1, undefined)}
          >
            Take the last one out
          </button>
        )}
        {readings.length > 0 && (
          <button type="button" className="button medium no-wrap" onClick={forget}>
            Not known
          </button>
        )}
      </div>
    </div>
  );
}

/** Where a reading is from, how good it is, on which page, by whom. */
function About({
  name,
  reading,
  onChange,
}: {
  readonly name: string;
  readonly reading: SizeReading;
  readonly onChange: (to: SizeReading, isTyped?: boolean) => void;
}): ReactNode {
  return (
    <div className="size-about flow gap-3" role="group" aria-label={name}>
      <label className="stack hair small soft">
        From
        <select
          className="select strong on-sheet"
          value={reading.from}
          onChange={({ target }) => onChange({ ...reading, from: target.value as SizeOrigin })}
        >
          {Object.entries(FROM_WORDS).map(([from, { name: word }]) => (
            <option key={from} value={from}>
              {word}
            </option>
          ))}
        </select>
      </label>
      <Text
        label="Accuracy, ± mm"
        value={reading.accuracy === undefined ? '' : String(reading.accuracy)}
        placeholder={figure(accuracyOf(reading))}
        isNumber
        onText={(text) => {
          const accuracy = readTyped(text);
          const { accuracy: _, ...rest } = reading;
          if (accuracy === undefined) onChange(rest, true);
          else if (accuracy >= 0 && accuracy <= MOST_ACCURACY_mm) onChange({ ...rest, accuracy }, true);
        }}
      />
      {reading.from === 'manual' && (
        <Text
          label="Page of the manual"
          value={reading.page ?? ''}
          onText={(page) => {
            const { page: _, ...rest } = reading;
            onChange(page === '' ? rest : { ...rest, page }, true);
          }}
        />
      )}
      {(reading.from === 'measured' || reading.from === 'manual') && (
        <Text
          label="By whom"
          value={reading.by ?? ''}
          onText={(by) => {
            const { by: _, ...rest } = reading;
            onChange(by === '' ? rest : { ...rest, by }, true);
          }}
        />
      )}
    </div>
  );
}

const MOST_ACCURACY_mm = 20;
const LONGEST_TEXT = 60;

/** A field whose text stands as it is typed while what it says is kept. */
export function Text({
  label,
  value,
  placeholder,
  isNumber = false,
  longest = LONGEST_TEXT,
  onText,
}: {
  readonly label: string;
  readonly value: string;
  readonly placeholder?: string;
  readonly isNumber?: boolean;
  readonly longest?: number;
  readonly onText: (text: string) => void;
}): ReactNode {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  return (
    <label className="stack hair small soft">
      {label}
      <input
        className={isNumber ? 'input size-short usual numbers on-sheet' : 'input usual on-sheet'}
        inputMode={isNumber ? 'decimal' : 'text'}
        autoComplete="off"
        maxLength={longest}
        placeholder={placeholder}
        value={typed ?? value}
        onBlur={() => setTyped(undefined)}
        onChange={({ target }) => {
          setTyped(target.value);
          onText(target.value.trim());
        }}
      />
    </label>
  );
}
