/**
 * How an axle is tightened: torque, tools, treatment of the thread, from which side, and notes.
 */
import type { ReactNode } from 'react';
import { stackIn, THREAD_TREATMENTS, withStack, type Side, type Stack } from '../../shared/index.ts';
import type { Bench } from './bench.ts';
import { SizeList } from './HeldCard.tsx';
import { useMake } from './measureStore.ts';
import { Text } from './SizeRow.tsx';
import { TOOL_WORDS, TREATMENT_WORDS } from './words.ts';

type Drive = keyof Stack['drives'];
type ToolName = keyof typeof TOOL_WORDS;

const ENDS: readonly (readonly [Drive, string])[] = [
  ['head', 'Head'],
  ['tip', 'Tip'],
  ['receiver', 'Nut or screw'],
];
const USUAL_TOOL_mm = 6;
const LONGEST_NOTES = 2000;
const LONGEST_NOTE = 400;
const MOST_NOTES = 20;

export function AxleCard({ bench, stackId }: { readonly bench: Bench; readonly stackId: string }): ReactNode {
  const make = useMake(bench.draft);
  const { model } = bench.draft;
  const stack = stackIn(model, stackId);
  if (!stack) return null;
  type DraftStack = typeof stack;
  const change = (to: Partial<DraftStack>): void => make(withStack(model, stackId, (own) => ({ ...own, ...to })));
  const intoMember = stack.receiver.includes('/');
  const ends = ENDS.filter(([end]) => end !== 'receiver' || !intoMember);
  const sizes = bench.sizes.filter(
    ({ owner, key }) => owner.what === 'stack' && owner.stack === stackId && /^(torque|drives)/.test(key),
  );
  const pivot = model.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stackId))!;
  return (
    <details className="draft-card fold" open>
      <summary>Torque, tools, notes</summary>
      <div className="stack gap-3">
        <SizeList bench={bench} sizes={sizes} />
        <div className="flow gap-3">
          <Choice
            label="Thread"
            value={stack.thread_treatment}
            choices={THREAD_TREATMENTS.map((own) => [own, TREATMENT_WORDS[own]])}
            pick={(thread_treatment) => {
              const { threadlocker: _, ...own } = stack;
              make(
                withStack(model, stackId, () => ({
                  ...own,
                  thread_treatment,
                  ...(thread_treatment === 'threadlocked' ? { threadlocker: 'medium strength' as const } : {}),
                })),
              );
            }}
          />
          {stack.thread_treatment === 'threadlocked' && (
            <Choice
              label="Threadlocker"
              value={stack.threadlocker ?? 'medium strength'}
              choices={(['low strength', 'medium strength', 'high strength'] as const).map((own) => [own, own])}
              pick={(threadlocker) => change({ threadlocker })}
            />
          )}
          <Choice
            label="Axle goes in from"
            value={stack.from}
            choices={(['non-drive', 'drive'] as const).map((own: Side) => [own, `${own} side`])}
            pick={(from) => change({ from })}
          />
          <Choice
            label="The torque wrench turns"
            value={stack.turned}
            choices={ends.filter(([end]) => stack.drives[end]).map(([end, word]) => [end, word])}
            pick={(turned) => change({ turned })}
          />
          {ends.map(([end, word]) => (
            <Choice<ToolName | 'none'>
              key={end}
              label={`Tool: ${word.toLowerCase()}`}
              value={stack.drives[end]?.tool ?? 'none'}
              choices={[
                ...(end === stack.turned ? [] : [['none', 'none'] as const]),
                ...(Object.keys(TOOL_WORDS) as ToolName[]).map((own) => [own, TOOL_WORDS[own]] as const),
              ]}
              pick={(tool) => {
                const { [end]: old, ...others } = stack.drives;
                const size = old?.size_mm ?? ({ value: USUAL_TOOL_mm, from: 'guess' } as const);
                change({ drives: tool === 'none' ? others : { ...others, [end]: { tool, size_mm: size } } });
              }}
            />
          ))}
        </div>
        <div className="flow gap-3">
          {(['axle', 'receiver'] as const)
            .filter((own) => own === 'axle' || !intoMember)
            .map((own) => (
              <label key={own} className="choice">
                <input
                  type="checkbox"
                  checked={stack.greased?.includes(own) === true}
                  onChange={() => {
                    const before = stack.greased ?? [];
                    change({
                      greased: before.includes(own) ? before.filter((one) => one !== own) : [...before, own],
                    });
                  }}
                />
                {own === 'axle' ? 'Shank greased' : 'Face of the nut greased'}
              </label>
            ))}
        </div>
        <Text
          label="Name of the pivot"
          value={pivot.name}
          longest={80}
          onText={(name) =>
            name !== '' &&
            make({ ...model, pivots: model.pivots.map((own) => (own.id === pivot.id ? { ...own, name } : own)) })
          }
        />
        <label className="stack hair small soft">
          Notes, one a line
          <textarea
            className="input usual full on-sheet"
            rows={3}
            maxLength={LONGEST_NOTES}
            defaultValue={(stack.notes ?? []).join('\n')}
            onBlur={({ target }) => {
              const notes = target.value
                .split('\n')
                .map((line) => line.trim().slice(0, LONGEST_NOTE))
                .filter((line) => line !== '')
                .slice(0, MOST_NOTES);
              const { notes: _, ...own } = stack;
              make(withStack(model, stackId, () => (notes.length > 0 ? { ...own, notes } : own)));
            }}
          />
        </label>
      </div>
    </details>
  );
}

function Choice<T extends string>({
  label,
  value,
  choices,
  pick,
}: {
  readonly label: string;
  readonly value: T;
  readonly choices: readonly (readonly [value: T, word: string])[];
  readonly pick: (value: T) => void;
}): ReactNode {
  return (
    <label className="stack hair small soft">
      {label}
      <select className="select strong on-sheet" value={value} onChange={({ target }) => pick(target.value as T)}>
        {choices.map(([own, word]) => (
          <option key={own} value={own}>
            {word}
          </option>
        ))}
      </select>
    </label>
  );
}
