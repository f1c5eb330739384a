/**
 * Drafts: read, changed a size at a time, and completed to a model that the rest of the core can judge.
 *
 * A file of a draft is taken as long as it has the form of one and its row makes sense. Sizes that contradict one
 * another are questions to the hand, with the places they stand at. A model file is a draft in which every size is
 * known. Completed, every size stands at the middle of what is known of it, the bearings are those of the table, and
 * the bosses stand where the row puts them; what nobody has said is listed.
 */
import { readForm, readText } from '../model/read.ts';
import { checkModel } from '../model/check.ts';
import { showName, showValue, type Problem, type Problems } from '../model/problems.ts';
import { linkageModel, type LinkageModel, type Part } from '../model/schema.ts';
import { shankLength_mm, type Shanked } from '../parts/shanked.ts';
import {
  draftBody,
  isSizeKey,
  sizePaths,
  type Draft,
  type DraftModel,
  type SizeEntry,
  type SizeOrigin,
  type SizePath,
} from '../envelope/draft.ts';
import { findBearing, type BearingRow } from '../standards/bearings.ts';
import { misfitsOf } from './adjust.ts';
import { bandsOf, nearestRow, type Bands } from './bands.ts';
import { readingsOf, type BandOrigin } from './known.ts';
import { pathKeys, pathText, put, valueAt, withValue } from './path.ts';
import { bodiesOf, placeBosses } from './row.ts';

/** Where editors find the form of a draft's file, seen from a folder beside `assets/`. */
const DRAFT_SCHEMA = '../assets/linkage-draft.schema.json';

/** Why a hand should look again at sizes that were said. */
export interface DraftQuestion {
  readonly code: 'readings-differ' | 'contradicts' | 'no-such-size' | 'sum-differs';
  /** Where it shows, as a problem of a file names it. */
  readonly path: string;
  readonly met: string;
  readonly allowed: string;
}

/** A draft as read. */
export type DraftReading =
  | { readonly ok: true; readonly draft: Draft; readonly questions: readonly DraftQuestion[] }
  | ({ readonly ok: false } & Problems);

/** The version of the file's form. */
const SCHEMA = 1;

/**
 * Read a draft: the file that `writeDraft` makes, its body alone, or a model. Never throws on what a text says; tells
 * all its problems at once, `path` naming the place in the text.
 */
export function readDraft(text: string): DraftReading {
  const parsed = readText(text);
  if (!parsed.ok) return parsed;
  const { repeated, data } = parsed;
  const reading = readDraftData(data);
  if (repeated.problems.length === 0) return reading;
  return {
    ok: false,
    problems: [...repeated.problems, ...(reading.ok ? [] : reading.problems)],
    more: repeated.more + (reading.ok ? 0 : reading.more),
  };
}

/** The same for plain data. */
export function readDraftData(data: unknown): DraftReading {
  const own = typeof data === 'object' && data !== null ? (data as Readonly<Record<string, unknown>>) : {};
  if ('kind' in own && 'body' in own) {
    if (own['kind'] !== 'draft') return refused('kind', own['kind'], 'draft');
    if (own['schema'] !== SCHEMA)
      return refused('schema', own['schema'], `${SCHEMA}: a newer form is read by the Axlewright that wrote it`);
    return under('body', readDraftData(own['body']));
  }
  if (!('model' in own)) return readBody({ model: data }, 'model');
  return readBody(own);
}

function refused(path: string, met: unknown, allowed: string): DraftReading {
  return { ok: false, problems: [{ code: 'not-one-of', path, met: showValue(met), allowed }], more: 0 };
}

function under(head: string, reading: DraftReading): DraftReading {
  if (reading.ok) return reading;
  return { ...reading, problems: reading.problems.map((own) => ({ ...own, path: `${head}.${own.path}` })) };
}

/** A model read as a draft is told of by its own paths. */
function readBody(data: unknown, hidden?: string): DraftReading {
  const strip = (problems: readonly Problem[]): Problem[] =>
    problems.map((own) =>
      hidden !== undefined && own.path.startsWith(`${hidden}.`)
        ? { ...own, path: own.path.slice(hidden.length + 1) }
        : own,
    );
  const form = readForm(data, draftBody);
  if (!form.ok) return { ok: false, problems: strip(form.problems), more: form.more };
  const draft = form.data;
  const bare = withoutReferences(draft.model);
  if (bare.length > 0) return { ok: false, problems: strip(bare), more: 0 };
  const { faults } = completed(draft);
  const wrong = faults
    .filter(({ code }) => !SIZE_FAULTS.includes(code))
    .map((own) => ({ ...own, path: `model.${own.path}` }));
  if (wrong.length > 0) return { ok: false, problems: strip(wrong), more: 0 };
  return { ok: true, draft, questions: questionsOf(draft) };
}

/** Problems of a model that are about sizes: in a draft a question. */
const SIZE_FAULTS: readonly Problem['code'][] = ['impossible-size', 'bearing-contradicts', 'out-of-range'];

/** Names that lead nowhere, before anything is completed along them. */
function withoutReferences(model: DraftModel): Problem[] {
  const found: Problem[] = [];
  for (const [id, part] of Object.entries(model.parts))
    if (part.kind === 'bearing' && part.designation !== undefined && !findBearing(part.designation))
      found.push({
        code: 'bearing-unknown',
        path: `model.parts.${id}.designation`,
        met: showName(part.designation),
        allowed: 'a designation of the bearing table, or bore_mm, outside_mm and width_mm alone',
      });
  model.pivots.forEach(({ stacks }, p) =>
    stacks.forEach(({ axle, receiver, row }, s) => {
      const at = `model.pivots[${p}].stacks[${s}]`;
      const part = (id: string, path: string): void => {
        if (!Object.hasOwn(model.parts, id))
          found.push({ code: 'no-such-part', path, met: showName(id), allowed: Object.keys(model.parts).join(', ') });
      };
      const boss = (member: string, bore: string, path: string): void => {
        if (!Object.hasOwn(model.members, member))
          found.push({
            code: 'no-such-member',
            path,
            met: showName(member),
            allowed: Object.keys(model.members).join(', '),
          });
        else if (!Object.hasOwn(model.members[member]!.bores, bore))
          found.push({
            code: 'no-such-bore',
            path,
            met: showName(bore),
            allowed: Object.keys(model.members[member]!.bores).join(', '),
          });
      };
      part(axle, `${at}.axle`);
      const [member, bore] = receiver.split('/');
      if (bore === undefined) part(receiver, `${at}.receiver`);
      else boss(member!, bore, `${at}.receiver`);
      row.forEach((entry, k) => {
        const place = `${at}.row[${k}]`;
        const isOne = (entry.part === undefined) !== (entry.member === undefined && entry.bore === undefined);
        if (!isOne || (entry.member === undefined) !== (entry.bore === undefined))
          found.push({
            code: 'row-contradicts',
            path: place,
            met: showName(entry.id),
            allowed: 'either part, or member and bore',
          });
        else if (entry.part !== undefined) part(entry.part, `${place}.part`);
        else boss(entry.member!, entry.bore!, place);
      });
    }),
  );
  return found;
}

/** A draft as the text of a file: its form is linked, so that an editor completes it. */
export function writeDraft(draft: Draft, app: string): string {
  return `${JSON.stringify({ kind: 'draft', schema: SCHEMA, app, $schema: DRAFT_SCHEMA, body: draft }, undefined, 2)}\n`;
}

/**
 * A draft from a model: each of its sizes as an entry. As a guess, bearings lose their designation, so that they may
 * turn out to be others. Bosses are told by width and distance.
 */
export function draftOf(model: LinkageModel, from: SizeOrigin | 'written' = 'written'): Draft {
  const own = structuredClone(model) as unknown as DraftModel;
  for (const pivot of model.pivots) for (const [member, bores] of bodiesOf(pivot)) asWidths(own, model, member, bores);
  if (from === 'written') return { model: own };
  const finished = completed({ model: own }).model;
  for (const [id, part] of Object.entries(own.parts)) {
    if (part.kind !== 'bearing' || from !== 'guess') continue;
    const { bore_mm, outside_mm, width_mm } = sizesOfBearing(finished, id);
    put(own, ['parts', id], { ...part, designation: undefined, bore_mm, outside_mm, width_mm });
    put(own, ['parts', id, 'designation'], undefined);
  }
  for (const path of sizePaths(own)) {
    const value = valueAt(own, path);
    if (typeof value === 'number') put(own, path, { value, from });
  }
  return { model: own };
}

function asWidths(own: DraftModel, model: LinkageModel, member: string, bores: readonly string[]): void {
  bores.forEach((id, k) => {
    const bore = model.members[member]!.bores[id]!;
    const { z_from_mm, z_to_mm, ...rest } = bore;
    const before = k === 0 ? undefined : model.members[member]!.bores[bores[k - 1]!]!;
    put(own, ['members', member, 'bores', id], {
      width_mm: rounded(z_to_mm - z_from_mm),
      ...(before ? { gap_mm: rounded(z_from_mm - before.z_to_mm) } : {}),
      ...structuredClone(rest),
    });
  });
}

const rounded = (value: number): number => Math.round(value * 1e6) / 1e6;

function sizesOfBearing(model: LinkageModel, id: string): Pick<BearingRow, 'bore_mm' | 'outside_mm' | 'width_mm'> {
  const { sizes } = bandsOf({ model: model as unknown as DraftModel });
  const of = (key: string): number => sizes.get(`parts.${id}.${key}`)!.middle;
  return { bore_mm: of('bore_mm'), outside_mm: of('outside_mm'), width_mm: of('width_mm') };
}

/**
 * The draft with another entry at a size; null makes it unknown. The draft given is not changed. A boss that is told by
 * its ends is told by width and distance from then on. Throws a RangeError for a place that is no size of the draft.
 */
export function setSize(draft: Draft, path: string, entry: SizeEntry): Draft {
  const keys = pathKeys(path);
  const last = String(keys.at(-1));
  const holder = valueAt(draft.model, keys.slice(0, -1));
  if (typeof holder !== 'object' || holder === null || !(isSizeKey(last) || last === 'width_mm' || last === 'gap_mm'))
    throw new RangeError(`setSize: path: met ${path}, allowed: a size of the draft`);
  const base = keys[0] === 'members' && (last === 'width_mm' || last === 'gap_mm') ? loosened(draft, keys) : draft;
  return { ...base, model: withValue(base.model, keys, entry) };
}

/** The bosses of a member in one pivot told by width and distance instead of by their ends. */
function loosened(draft: Draft, keys: SizePath): Draft {
  const [, member, , bore] = keys as readonly string[];
  if (valueAt(draft.model, ['members', member!, 'bores', bore!, 'z_from_mm']) === undefined) return draft;
  const pivot = draft.model.pivots.find((own) =>
    bodiesOf(own as LinkageModel['pivots'][number])
      .get(member!)
      ?.includes(bore!),
  );
  if (!pivot) throw new RangeError(`setSize: path: met ${pathText(keys)}, allowed: a boss that a row names`);
  const own = structuredClone(draft.model);
  const { model } = completed(draft);
  asWidths(own, model, member!, bodiesOf(pivot as LinkageModel['pivots'][number]).get(member!)!);
  return { ...draft, model: own };
}

/** A size that stands in a completed model without anybody having read it. */
export interface Assumed {
  readonly path: string;
  readonly value: number;
  /** ± what it may be off by. */
  readonly accuracy: number;
  readonly from: BandOrigin;
}

/** A draft completed. */
export interface Completed {
  readonly model: LinkageModel;
  /** Sizes that were guessed, or that nobody has said. */
  readonly assumed: readonly Assumed[];
  /** Why the model cannot be judged as it stands; empty where it can. Paths are those of the draft's model. */
  readonly faults: readonly Problem[];
}

/** The complete model at the middle of what is known. About 5 ms a bike. Never throws on a draft that was read. */
export function completed(draft: Draft): Completed {
  const bands = bandsOf(draft);
  const model = modelAt(draft, bands, (name) => bands.sizes.get(name)!.middle);
  const assumed = [...bands.sizes].flatMap(([path, band]): Assumed[] =>
    band.isOpen && band.least < band.most
      ? [{ path, value: band.middle, accuracy: (band.most - band.least) / 2, from: band.from }]
      : [],
  );
  return { model, assumed, faults: faultsOf(model) };
}

/** What is wrong with a completed model. */
function faultsOf(model: LinkageModel): Problem[] {
  const form = readForm(model, linkageModel);
  return form.ok ? [...checkModel(model).problems] : [...form.problems];
}

/** The model with every size at a value within its band. */
export function modelAt(draft: Draft, bands: Bands, valueOf: (path: string) => number): LinkageModel {
  const model = structuredClone(draft.model) as unknown as LinkageModel;
  for (const [name, path] of bands.paths) put(model, path, valueOf(name));
  for (const [id, rows] of bands.bearings) placeBearing(model, id, rows);
  for (const [id, part] of Object.entries(model.parts)) put(model, ['parts', id], agreed(part));
  for (const { bores } of Object.values(model.members))
    for (const bore of Object.values(bores)) {
      const width = (bore as { width_mm?: number }).width_mm;
      if (bore.thread && width !== undefined) bore.thread.length_mm = Math.min(bore.thread.length_mm, width);
    }
  placeBosses(model);
  return model;
}

function placeBearing(model: LinkageModel, id: string, rows: readonly BearingRow[]): void {
  const part = model.parts[id]!;
  if (part.kind !== 'bearing' || rows.length === 0) return;
  const row = nearestRow(rows, [part.bore_mm, part.outside_mm, part.width_mm]);
  const { bore_mm: _b, outside_mm: _o, width_mm: _w, ...rest } = part;
  const { designation } = part;
  put(model, ['parts', id], { ...rest, designation: designation ?? row.designation });
}

/** Sizes that follow others where the two cannot both be: a thread is no longer than what it is cut into. */
function agreed(part: Part): Part {
  switch (part.kind) {
    case 'axle':
    case 'bolt':
    case 'screw':
    case 'sleeve':
      return {
        ...part,
        thread: { ...part.thread, length_mm: Math.min(part.thread.length_mm, shankLength_mm(part as Shanked)) },
      };
    case 'nut':
      return { ...part, thread: { ...part.thread, length_mm: Math.min(part.thread.length_mm, part.length_mm) } };
    default:
      return part;
  }
}

/** What a hand should look at again: readings that do not agree, and sizes that cannot all be true. */
export function questionsOf(draft: Draft): DraftQuestion[] {
  const bands = bandsOf(draft);
  const found: DraftQuestion[] = [];
  for (const [path, { clash }] of bands.sizes) {
    if (clash === undefined) continue;
    const said = readingsOf(valueAt(draft.model, bands.paths.get(path)!) as SizeEntry);
    found.push({
      code: 'readings-differ',
      path,
      met: said.map(({ value }) => String(value)).join(', '),
      allowed: 'readings that agree within their accuracies',
    });
  }
  const written = structuredClone(draft.model) as unknown as LinkageModel;
  for (const [name, path] of bands.paths) put(written, path, bands.sizes.get(name)!.middle);
  for (const { bores } of Object.values(written.members))
    for (const [id, bore] of Object.entries(bores)) {
      const { width_mm, thread } = bore as { width_mm?: number; thread?: { length_mm: number } };
      if (width_mm !== undefined && thread && thread.length_mm > width_mm + 1e-9)
        found.push({
          code: 'contradicts',
          path: `members.${memberOf(written, bores)}.bores.${id}.width_mm`,
          met: String(width_mm),
          allowed: `at least thread.length_mm (${thread.length_mm})`,
        });
    }
  placeBosses(written);
  for (const { code, path, met, allowed } of faultsOf(written))
    if (SIZE_FAULTS.includes(code) && !found.some((own) => sameBoss(own.path, path)))
      found.push({ code: 'contradicts', path, met, allowed });
  for (const { terms, id } of draft.compared ?? [])
    for (const { size } of terms)
      if (!bands.sizes.has(size))
        found.push({ code: 'no-such-size', path: `compared: ${id}`, met: size, allowed: 'a size of this draft' });
  for (const { path, read, expected } of misfitsOf(draft))
    found.push({ code: 'sum-differs', path, met: rounded(read).toFixed(3), allowed: `${expected.toFixed(3)} mm` });
  return found;
}

function memberOf(model: LinkageModel, bores: unknown): string {
  return Object.entries(model.members).find(([, own]) => own.bores === bores)![0];
}

/** A thread too long for its boss is one question, not two. */
function sameBoss(told: string, path: string): boolean {
  return (
    path.endsWith('.thread.length_mm') && told.replace(/\.width_mm$/, '') === path.replace(/\.thread\.length_mm$/, '')
  );
}
