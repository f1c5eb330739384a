/**
 * Lay the row: one axle's loose parts lie among their look-alikes, named by letters, and are laid into its row.
 *
 * The drill is a model of its own, made from a model and a seed: the loose parts are taken out of the row, they and
 * their look-alikes are put on the parts list under names that tell no pivot, and lie beside the row in any order and
 * either way round. There is no key: an answer is built and goes through the same solve as every model, so that each
 * row that passes is right and each that does not shows what is wrong with it. What no solve knows (how the thread is
 * treated, what gets grease) is held against what the maker writes; the order of work against what each needs before
 * it. mm, N, N·m.
 */
import { analyseChange } from '../analyse.ts';
import type { WorkedRow } from '../mistakes/edit.ts';
import type { LinkageModel, Part, RowEntry, Side, Stack } from '../model/schema.ts';
import { kindOf, partProfile, stands } from '../parts/kinds.ts';
import { lookAlikes, signature, startsInstead } from '../parts/look-alike.ts';
import type { Analysis, Finding, Passage, PivotAnalysis, StackAnalysis, Verdict } from '../types.ts';
import { drawsOf, shuffled } from './draw.ts';
import { PRACTICE_LIMITS } from './limits.ts';

/** What can get grease. */
export const GREASED = ['axle', 'spacers', 'receiver'] as const;
export type Greased = (typeof GREASED)[number];

/** How a thread can be treated. */
export type Treatment = Stack['thread_treatment'];

/** The end a wrench works at. */
export type TurnedEnd = Stack['turned'];

/** What a hand does at one axle, in one possible order. */
export const WORKS = ['clean', 'grease', 'push', 'treat', 'start', 'torque', 'check'] as const;
export type Work = (typeof WORKS)[number];

/** Work that needs other work done before it: common practice, no source. */
const NEEDS: readonly (readonly [before: Work, after: Work])[] = [
  ['clean', 'treat'],
  ['treat', 'start'],
  ['grease', 'push'],
  ['push', 'start'],
  ['start', 'torque'],
  ['torque', 'check'],
];

/** A row to be laid. */
export interface LayDrill {
  /** The model with the loose parts of one axle taken out, and with their names and those of their look-alikes. */
  readonly model: LinkageModel;
  readonly pivotId: string;
  readonly stackId: string;
  /** What is pressed in or stands, and beside it all that may be laid in. */
  readonly start: WorkedRow;
  /** Parts to take the axle and the nut from; no nut where the axle screws into a member. */
  readonly axles: readonly string[];
  readonly nuts: readonly string[];
  readonly treatments: readonly Treatment[];
  /** The work, in no order. */
  readonly works: readonly Work[];
  readonly par_min: number;
}

/** A row as it was laid. */
export interface LayAnswer {
  readonly row: readonly RowEntry[];
  readonly axle: string;
  readonly nut?: string | undefined;
  readonly from: Side;
  readonly turned: TurnedEnd;
  readonly treatment: Treatment;
  readonly greased: readonly Greased[];
  readonly order: readonly Work[];
}

/** What is wrong with an answer beside what the solve finds. */
export type LayFault =
  /** The axle cannot go in from there. */
  | { readonly what: 'way-shut'; readonly side: Side; readonly reason: Passage['reason'] }
  /** No tool takes hold of what should turn, or of what should be held. */
  | { readonly what: 'no-tool'; readonly end: TurnedEnd }
  | { readonly what: 'no-hold'; readonly end: TurnedEnd }
  /** Not as the maker writes; what the same torque pulls either way. */
  | {
      readonly what: 'treatment';
      readonly asked: Treatment;
      readonly preload_N: number;
      readonly asked_N: number;
    }
  | { readonly what: 'grease'; readonly lacks: readonly Greased[]; readonly needless: readonly Greased[] }
  | { readonly what: 'order'; readonly late: Work; readonly early: Work };

/** What an answer comes to. */
export interface LaidRow {
  readonly isRight: boolean;
  /** The pivot as laid. */
  readonly verdict: Verdict;
  readonly findings: readonly Finding[];
  readonly faults: readonly LayFault[];
  /** The bike as laid; none where the axle cannot even go in. */
  readonly analysis: Analysis | undefined;
}

/** Axles whose row has anything to be laid. */
export function layStacks(model: LinkageModel): readonly { readonly pivotId: string; readonly stackId: string }[] {
  return model.pivots.flatMap((pivot) =>
    pivot.stacks
      .filter((stack) => looseOf(model, stack).length > 0)
      .map((stack) => ({ pivotId: pivot.id, stackId: stack.id })),
  );
}

/**
 * The drill of one axle. Throws a RangeError where the model has no such axle. About 1 ms.
 */
export function layDrill(model: LinkageModel, stackId: string, seed: number): LayDrill {
  const pivot = model.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stackId));
  const stack = pivot?.stacks.find(({ id }) => id === stackId);
  if (!pivot || !stack) throw new RangeError(`practice: stack: met "${stackId}", allowed: one of the model's`);
  const draws = drawsOf(seed, `lay ${model.id} ${stackId}`);
  const own = looseOf(model, stack);
  const ownIds = [...new Set(own.map(({ part }) => part!))];
  const alike = ownIds.flatMap((id) => lookAlikes(model.parts, id).map((other) => other.id));
  const decoys = shuffled(
    draws,
    [...new Set(alike)].filter((id) => !ownIds.includes(id) && stands(model.parts[id]!, 'loose')),
  ).slice(0, PRACTICE_LIMITS.mostDecoys.value);
  const others = (mine: string): string[] =>
    Object.hasOwn(model.parts, mine)
      ? [
          mine,
          ...Object.keys(model.parts).filter(
            (id) => id !== mine && startsInstead(model.parts[mine]!, model.parts[id]!),
          ),
        ]
      : [];
  const list = new Names(model.parts);
  const loose = shuffled(draws, [...own.map(({ part }) => part!), ...decoys]).map((id, k): RowEntry => {
    const part = list.named(id);
    const isTurned = partProfile(model.parts[id]!).hasTwoWays && draws.even() < 0.5;
    return { id: `loose-${k + 1}`, part, ...(isTurned ? { turned: true } : {}) };
  });
  const axles = shuffled(draws, others(stack.axle)).map((id) => list.named(id));
  const nuts = shuffled(draws, others(stack.receiver)).map((id) => list.named(id));
  const row = stack.row.filter((entry) => !own.includes(entry));
  const start: WorkedRow = { row, out: loose.map((entry) => ({ entry, at: 0 })) };
  const { notes: _notes, ...bare } = stack;
  const emptied: Stack = {
    ...bare,
    axle: list.of(stack.axle) ?? stack.axle,
    receiver: list.of(stack.receiver) ?? stack.receiver,
    row,
  };
  return {
    model: {
      ...model,
      parts: { ...model.parts, ...list.parts },
      pivots: model.pivots.map((one) =>
        one === pivot ? { ...one, stacks: one.stacks.map((each) => (each === stack ? emptied : each)) } : one,
      ),
    },
    pivotId: pivot.id,
    stackId,
    start,
    axles,
    nuts,
    treatments: TREATMENTS.filter((one) => one === stack.thread_treatment || USUAL.includes(one)),
    works: shuffled(draws, WORKS),
    par_min: PRACTICE_LIMITS.layRest_min.value + loose.length * PRACTICE_LIMITS.layPart_min.value,
  };
}

const TREATMENTS: readonly Treatment[] = ['dry', 'oiled', 'greased', 'threadlocked', 'anti-seize'];
const USUAL: readonly Treatment[] = ['dry', 'greased', 'threadlocked'];

/** Loose parts of a row; a seal is set with its bearing and stays. */
function looseOf({ parts }: LinkageModel, { row }: Stack): readonly RowEntry[] {
  return row.filter(({ part }) => {
    const own = part === undefined ? undefined : parts[part];
    return own !== undefined && stands(own, 'loose') && !kindOf(own).seals;
  });
}

/** Parts under names that tell nothing but their kind; equal parts share one. */
class Names {
  readonly parts: Record<string, Part> = {};
  private readonly bySign = new Map<string, string>();

  constructor(private readonly list: LinkageModel['parts']) {}

  named(id: string): string {
    const part = this.list[id]!;
    const sign = signature(part);
    const known = this.bySign.get(sign);
    if (known !== undefined) return known;
    const letter = String.fromCodePoint('a'.codePointAt(0)! + this.bySign.size);
    const name = freeKey(this.list, `practice-${letter}`);
    const { one } = kindOf(part).noun;
    const { notes: _notes, count: _count, ...bare } = part;
    this.bySign.set(sign, name);
    this.parts[name] = { ...bare, name: `${one[0]!.toUpperCase()}${one.slice(1)} ${letter.toUpperCase()}` } as Part;
    return name;
  }

  /** The name that a part has got, if any. */
  of(id: string): string | undefined {
    const part = Object.hasOwn(this.list, id) ? this.list[id] : undefined;
    return part && this.bySign.get(signature(part));
  }
}

function freeKey(list: LinkageModel['parts'], key: string): string {
  return Object.hasOwn(list, key) ? freeKey(list, `${key}-1`) : key;
}

/**
 * Build an answer and judge it; `written` is the analysis of the model that the drill was made from. About 20 ms.
 */
export function judgeLaid(written: Analysis, drill: LayDrill, answer: LayAnswer): LaidRow {
  const pivot = written.pivots.find(({ id }) => id === drill.pivotId)!;
  const own = pivot.stacks.find(({ id }) => id === drill.stackId)!;
  const asked = stackIn(written.model, drill.stackId);
  const order = orderFault(answer.order);
  const grease = greaseFault(written.model, asked, answer.greased);
  const beside = [...(grease ? [grease] : []), ...(order ? [order] : [])];
  const shut = wayShut(own, asked, answer.from);
  if (shut) return { isRight: false, verdict: 'faulty', findings: [], faults: [shut, ...beside], analysis: undefined };
  const tool = toolFault(asked, answer.turned);
  const laid = (treatment: Treatment): Analysis => analyseChange(written, layInto(drill, answer, asked, treatment));
  const analysis = laid(answer.treatment);
  const now = analysis.pivots.find(({ id }) => id === drill.pivotId)!;
  const faults: LayFault[] = [
    ...(tool ? [tool] : []),
    ...(answer.treatment === asked.thread_treatment
      ? []
      : [
          {
            what: 'treatment' as const,
            asked: asked.thread_treatment,
            preload_N: preloadOf(now, drill.stackId),
            asked_N: preloadOf(
              laid(asked.thread_treatment).pivots.find(({ id }) => id === drill.pivotId)!,
              drill.stackId,
            ),
          },
        ]),
    ...beside,
  ];
  return {
    isRight: now.verdict !== 'faulty' && faults.length === 0,
    verdict: now.verdict,
    findings: now.findings,
    faults,
    analysis,
  };
}

function preloadOf({ stacks }: PivotAnalysis, stackId: string): number {
  return stacks.find(({ id }) => id === stackId)!.tightening.preload_N.spec;
}

function stackIn({ pivots }: LinkageModel, id: string): Stack {
  return pivots.flatMap(({ stacks }) => stacks).find((stack) => stack.id === id)!;
}

/** The model with an answer laid into it. */
function layInto(drill: LayDrill, answer: LayAnswer, asked: Stack, treatment: Treatment): LinkageModel {
  const isGreased = answer.greased.includes('spacers');
  const greased = (['axle', 'receiver'] as const).filter((one) => answer.greased.includes(one));
  const lay = (stack: Stack): Stack => {
    const { threadlocker: _locker, greased: _greased, ...bare } = stack;
    return {
      ...bare,
      axle: answer.axle,
      receiver: answer.nut ?? asked.receiver,
      from: answer.from,
      turned: answer.turned,
      thread_treatment: treatment,
      ...(treatment === 'threadlocked' && asked.threadlocker ? { threadlocker: asked.threadlocker } : {}),
      ...(greased.length > 0 ? { greased } : {}),
      row: answer.row.map((entry) =>
        entry.id.startsWith('loose-') && isGreased ? { ...entry, greased: true } : entry,
      ),
    };
  };
  return {
    ...drill.model,
    pivots: drill.model.pivots.map((pivot) =>
      pivot.id === drill.pivotId
        ? { ...pivot, stacks: pivot.stacks.map((stack) => (stack.id === drill.stackId ? lay(stack) : stack)) }
        : pivot,
    ),
  };
}

/** An axle that screws into a member has one way in, which no other row opens. */
function wayShut(own: StackAnalysis, asked: Stack, side: Side): LayFault | undefined {
  if (side === asked.from || !asked.receiver.includes('/')) return undefined;
  const { passes, reason } = side === 'drive' ? own.passage.drive : own.passage.nonDrive;
  return passes ? undefined : { what: 'way-shut', side, reason };
}

/** A wrench needs something to take hold of at one end, and where no member holds the thread, something at the other. */
function toolFault({ drives, receiver }: Stack, end: TurnedEnd): LayFault | undefined {
  if (!drives[end]) return { what: 'no-tool', end };
  const isHeld = receiver.includes('/') || (end === 'receiver' ? (drives.head ?? drives.tip) : drives.receiver);
  return isHeld ? undefined : { what: 'no-hold', end };
}

function greaseFault(model: LinkageModel, stack: Stack, given: readonly Greased[]): LayFault | undefined {
  const wanted = greasedOf(model, stack);
  const lacks = wanted.filter((one) => !given.includes(one));
  const needless = given.filter((one) => !wanted.includes(one));
  return lacks.length + needless.length === 0 ? undefined : { what: 'grease', lacks, needless };
}

/** What the maker greases. */
function greasedOf(model: LinkageModel, stack: Stack): readonly Greased[] {
  return GREASED.filter((one) =>
    one === 'spacers'
      ? looseOf(model, stack).some(({ greased }) => greased === true)
      : stack.greased?.includes(one) === true,
  );
}

/** The first work that comes before what it needs. */
function orderFault(order: readonly Work[]): LayFault | undefined {
  const found = NEEDS.find(([before, after]) => order.indexOf(before) > order.indexOf(after));
  return found && { what: 'order', late: found[0], early: found[1] };
}
