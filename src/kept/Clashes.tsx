/**
 * What two devices have entered in one place of a thing without knowing of one another, whatever kind of thing it is:
 * all of it is shown, and stays until a hand picks one.
 */
import type { ReactNode } from 'react';
import type { FieldValue, Sum } from '../../shared/index.ts';
import { openThing } from '../page/keep.ts';
import { dayWords } from '../widgets/day.ts';
import { TWO_VALUES } from '../words.ts';

interface Props {
  readonly name: string;
  readonly clashes: Sum['clashes'];
  readonly onChange: () => void;
}

const LONGEST = 80;

export function Clashes({ name, clashes, onChange }: Props): ReactNode {
  const pick = async (field: string, value: FieldValue): Promise<void> => {
    await (await openThing(name)).set({ [field]: value });
    onChange();
  };
  return [...clashes].map(([field, values]) => {
    const said = values.map(wordValue);
    return (
      <div
        key={field}
        className="callout callout-warn stack gap-2"
        role="group"
        aria-label={`${TWO_VALUES} ${wordField(field)}`}
      >
        <p>
          {TWO_VALUES} <strong className="any-break">{wordField(field)}</strong>
        </p>
        <div className="flow gap-3">
          {values.map((value, k) => (
            <button
              key={JSON.stringify(value)}
              type="button"
              className="button medium any-break"
              onClick={() => void pick(field, value)}
            >
              {said.indexOf(said[k]!) === said.lastIndexOf(said[k]!) ? said[k] : `No. ${k + 1}: ${said[k]}`}
            </button>
          ))}
        </div>
      </div>
    );
  });
}

/** `part/main/bearing-nd/condition` as words. */
function wordField(field: string): string {
  return field.replaceAll(/[/._-]+/g, ' ');
}

function wordValue(value: FieldValue): string {
  if (value === null || value === '') return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return String(value);
  if (typeof value === 'string') return value.length <= LONGEST ? value : `a text of ${value.length} characters`;
  if (Array.isArray(value)) return value.map(wordValue).join(', ');
  return Object.entries(value)
    .map(([key, own]) => {
      if (key === 'at_ms' && typeof own === 'number') return dayWords(own);
      const [, what = key, unit = ''] = /^(.*)_(mm|Nm)$/.exec(key) ?? [];
      return `${what === 'is' || what === 'key' ? '' : `${wordField(what)} `}${wordValue(own)} ${unit}`.trim();
    })
    .join(', ');
}
