/**
 * What is in the hand: what it is and every size of it, one under the other; a bearing by its designation, a thread by
 * the nearest standard ones.
 */
import { useEffect, useRef, useState, type ReactNode } from 'react';
import {
  bandsOf,
  BEARINGS,
  CLEARANCES,
  figure,
  findBearing,
  MATERIAL_KEYS,
  material,
  THREADS,
  type Draft,
  type DraftModel,
  type DraftSize,
  type Member,
} from '../../shared/index.ts';
import { LookAlikes } from '../widgets/LookAlikes.tsx';
import { sizesHeld, type Bench, type Held } from './bench.ts';
import { useMake, useMeasure } from './measureStore.ts';
import { SizeRow, Text } from './SizeRow.tsx';
import { MEMBER_WORDS } from './words.ts';

type DraftPart = DraftModel['parts'][string];

const LONGEST_NAME = 80;
/** Threads that are offered beside the size: the nearest ones. */
const NEAR_THREADS = 4;

export function HeldCard({ bench, held }: { readonly bench: Bench; readonly held: Held }): ReactNode {
  const { draft } = bench;
  const sizes = sizesHeld(bench, held);
  const thread = sizes.find(({ key }) => key === 'thread.size_mm');
  return (
    <section className="draft-card stack gap-3" aria-label={`Sizes of ${held.name}`}>
      {'part' in held ? <PartHead draft={draft} held={held} /> : <BossHead draft={draft} held={held} />}
      <SizeList bench={bench} sizes={sizes} />
      {thread && <NearThreads sizes={sizes} thread={thread} />}
      {'part' in held && <LookAlikes partId={held.part} parts={bench.model.parts} />}
    </section>
  );
}

/** To the field of a size. */
function goTo(box: HTMLElement | null, path: string): void {
  box?.querySelector<HTMLElement>(`[data-size="${CSS.escape(path)}"]`)?.focus();
}

/** Sizes one under the other, one of them worked at a time. */
export function SizeList({ bench, sizes }: { readonly bench: Bench; readonly sizes: readonly DraftSize[] }): ReactNode {
  const [active, setActive] = useState<string | undefined>(undefined);
  const box = useRef<HTMLDivElement>(null);
  const asked = useMeasure((state) => state.asked);
  useEffect(() => {
    if (asked !== undefined) goTo(box.current, asked);
  }, [asked]);
  return (
    <div className="stack gap-2" ref={box}>
      {sizes.map((size, k) => (
        <SizeRow
          key={size.path}
          bench={bench}
          size={size}
          isActive={size.path === active}
          onActive={() => setActive(size.path)}
          onNext={() => {
            const next = sizes[(k + 1) % sizes.length];
            if (next) goTo(box.current, next.path);
          }}
        />
      ))}
    </div>
  );
}

function PartHead({
  draft,
  held,
}: {
  readonly draft: Draft;
  readonly held: Extract<Held, { readonly part: string }>;
}): ReactNode {
  const make = useMake(draft);
  const part = draft.model.parts[held.part];
  if (!part) return null;
  const change = (to: DraftPart): void => make({ ...draft.model, parts: { ...draft.model.parts, [held.part]: to } });
  return (
    <>
      <h3 className="large snug">
        {held.name}
        {held.times > 1 && <span className="soft usual"> ({held.times} alike)</span>}
      </h3>
      <div className="flow gap-3">
        <Text
          label="Name"
          longest={LONGEST_NAME}
          value={part.name}
          onText={(name) => name !== '' && change({ ...part, name })}
        />
        {'material' in part && (
          <label className="stack hair small soft">
            Material
            <select
              className="select strong on-sheet"
              value={part.material}
              onChange={({ target }) => change({ ...part, material: target.value as (typeof MATERIAL_KEYS)[number] })}
            >
              {MATERIAL_KEYS.map((key) => (
                <option key={key} value={key}>
                  {material(key).name}
                </option>
              ))}
            </select>
          </label>
        )}
        {part.kind === 'bearing' && <Designation draft={draft} id={held.part} part={part} change={change} />}
      </div>
      <Extras part={part} change={change} />
    </>
  );
}

/** The designation read off the seal, or the ones that its sizes leave. */
function Designation({
  draft,
  id,
  part,
  change,
}: {
  readonly draft: Draft;
  readonly id: string;
  readonly part: Extract<DraftPart, { readonly kind: 'bearing' }>;
  readonly change: (part: DraftPart) => void;
}): ReactNode {
  const left = bandsOf(draft).bearings.get(id) ?? [];
  const near = new Set(left.map(({ designation }) => designation));
  const rest = BEARINGS.filter(({ designation }) => !near.has(designation));
  const list = (rows: typeof BEARINGS): ReactNode =>
    rows.map((row) => (
      <option key={row.designation} value={row.designation}>
        {row.designation}: {figure(row.bore_mm)} × {figure(row.outside_mm)} × {figure(row.width_mm)}
      </option>
    ));
  return (
    <>
      <label className="stack hair small soft">
        Designation on the seal
        <select
          className="select bearing-name strong on-sheet"
          value={part.designation === undefined ? '' : (findBearing(part.designation)?.designation ?? part.designation)}
          onChange={({ target }) => {
            const { designation: _, ...bare } = part;
            const { bore_mm: _b, outside_mm: _o, width_mm: _w, ...named } = bare;
            change(target.value === '' ? bare : { ...named, designation: target.value });
          }}
        >
          <option value="">cannot be read</option>
          <optgroup label="By its sizes">{list(left)}</optgroup>
          <optgroup label="Others">{list(rest)}</optgroup>
        </select>
      </label>
      <label className="stack hair small soft">
        Clearance
        <select
          className="select strong on-sheet"
          value={part.clearance ?? 'CN'}
          onChange={({ target }) => {
            const { clearance: _, ...bare } = part;
            const picked = CLEARANCES.find((own) => own === target.value);
            change(picked === undefined || picked === 'CN' ? bare : { ...bare, clearance: picked });
          }}
        >
          {CLEARANCES.map((own) => (
            <option key={own} value={own}>
              {own === 'CN' ? 'CN, no mark' : own}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}

const guess = (value: number): { readonly value: number; readonly from: 'guess' } => ({ value, from: 'guess' });

/** What a part may have besides: a land, a bore through it, a step, a flange. */
function Extras({ part, change }: { readonly part: DraftPart; readonly change: (part: DraftPart) => void }): ReactNode {
  const toggles: readonly (readonly [word: string, has: boolean, turn: () => void])[] = extrasOf(part, change);
  if (toggles.length === 0) return null;
  return (
    <div className="flow gap-3" role="group" aria-label="What it has besides">
      {toggles.map(([word, has, turn]) => (
        <label key={word} className="choice">
          <input type="checkbox" checked={has} onChange={turn} />
          {word}
        </label>
      ))}
    </div>
  );
}

function extrasOf(
  part: DraftPart,
  change: (part: DraftPart) => void,
): readonly (readonly [word: string, has: boolean, turn: () => void])[] {
  const wide = (entry: unknown): number =>
    typeof entry === 'number' ? entry : ((entry as { readonly value?: number } | null)?.value ?? 12);
  if ('shank' in part) {
    const { land_mm, land_height_mm: _, ...head } = part.head;
    const [first, ...rest] = part.shank;
    const { bore_mm, ...solid } = part;
    const across = wide(first!.diameter_mm);
    return [
      [
        'Land under the head',
        land_mm !== undefined,
        () =>
          change({
            ...part,
            head: land_mm === undefined ? { ...head, land_mm: guess(across + 3), land_height_mm: guess(0.8) } : head,
          }),
      ],
      [
        'Hollow',
        bore_mm !== undefined,
        () => change(bore_mm === undefined ? { ...part, bore_mm: guess(Math.round(across / 3)) } : solid),
      ],
      [
        'Stepped shank',
        rest.length > 0,
        () =>
          change({
            ...part,
            shank:
              rest.length > 0
                ? [{ ...first!, length_mm: guess(part.shank.reduce((sum, own) => sum + wide(own.length_mm), 0)) }]
                : [
                    { ...first!, length_mm: guess(wide(first!.length_mm) - wide(part.thread.length_mm)) },
                    { diameter_mm: guess(wide(part.thread.size_mm)), length_mm: guess(wide(part.thread.length_mm)) },
                  ],
          }),
      ],
    ];
  }
  if (part.kind === 'nut') {
    const { land_mm, land_height_mm: _, closed, ...bare } = part;
    const shut = closed === true ? { closed } : {};
    return [
      [
        'Land on its face',
        land_mm !== undefined,
        () =>
          change({
            ...bare,
            ...shut,
            ...(land_mm === undefined ? { land_mm: guess(wide(part.outside_mm) - 4), land_height_mm: guess(0.8) } : {}),
          }),
      ],
      ['Closed end', closed === true, () => change({ ...part, closed: closed !== true })],
    ];
  }
  if (part.kind === 'bush' || part.kind === 'reducer') {
    const { flange_mm, flange_length_mm: _, ...bare } = part;
    return [
      [
        'Flange',
        flange_mm !== undefined,
        () =>
          change(
            flange_mm === undefined
              ? { ...bare, flange_mm: guess(wide(part.outside_mm) + 5), flange_length_mm: guess(1.5) }
              : bare,
          ),
      ],
    ];
  }
  return [];
}

function BossHead({
  draft,
  held,
}: {
  readonly draft: Draft;
  readonly held: Extract<Held, { readonly member: string }>;
}): ReactNode {
  const make = useMake(draft);
  const member = draft.model.members[held.member];
  if (!member) return null;
  const change = (to: typeof member): void =>
    make({ ...draft.model, members: { ...draft.model.members, [held.member]: to } });
  return (
    <>
      <h3 className="large snug">{held.name}</h3>
      <div className="flow gap-3">
        <Text
          label="Name of the member"
          longest={LONGEST_NAME}
          value={member.name}
          onText={(name) => name !== '' && change({ ...member, name })}
        />
        <label className="stack hair small soft">
          Kind
          <select
            className="select strong on-sheet"
            value={member.kind}
            onChange={({ target }) => change({ ...member, kind: target.value as Member['kind'] })}
          >
            {Object.entries(MEMBER_WORDS).map(([own, word]) => (
              <option key={own} value={own}>
                {word}
              </option>
            ))}
          </select>
        </label>
        <label className="stack hair small soft">
          Material
          <select
            className="select strong on-sheet"
            value={member.material}
            onChange={({ target }) => change({ ...member, material: target.value as Member['material'] })}
          >
            {MATERIAL_KEYS.map((key) => (
              <option key={key} value={key}>
                {material(key).name}
              </option>
            ))}
          </select>
        </label>
      </div>
    </>
  );
}

/** The standard threads nearest to what is known, and how a hand tells them apart. */
function NearThreads({
  sizes,
  thread,
}: {
  readonly sizes: readonly DraftSize[];
  readonly thread: DraftSize;
}): ReactNode {
  const put = useMeasure((state) => state.put);
  const pitch = sizes.find(({ key }) => key === 'thread.pitch_mm');
  if (!pitch) return null;
  const off = (row: (typeof THREADS)[number]): number =>
    4 * Math.abs(row.size_mm - thread.band.middle) + Math.abs(row.pitch_mm - pitch.band.middle);
  const near = THREADS.toSorted((a, b) => off(a) - off(b)).slice(0, NEAR_THREADS);
  return (
    <div className="stack gap-2" role="group" aria-label="Nearest standard threads">
      <p className="soft">Count the crests along 10 mm, or try the pitch gauge, then tap the one it is:</p>
      <div className="flow gap-2">
        {near.map(({ size_mm, pitch_mm }) => (
          <button
            key={`${size_mm} ${pitch_mm}`}
            type="button"
            className="button medium"
            onClick={() =>
              put((draft, set) =>
                set(set(draft, thread.path, { value: size_mm, accuracy: 0, from: 'measured' }), pitch.path, {
                  value: pitch_mm,
                  accuracy: 0,
                  from: 'measured',
                }),
              )
            }
          >
            M{figure(size_mm)}×{figure(pitch_mm, 2)}
            <span className="soft small">{figure(10 / pitch_mm)} in 10 mm</span>
          </button>
        ))}
      </div>
      <p className="soft small">A crest reads up to 0.3 mm under the name of its thread.</p>
    </div>
  );
}
