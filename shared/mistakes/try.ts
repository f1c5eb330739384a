/**
 * One mistake built and solved: what the clamp force does, what is touched, how far arms are drawn and what that puts
 * on the bearings, how it feels at the bench, and what would give it away.
 *
 * Method: the changed pivot goes through the same solve and fit check as the written one (`judge`), and again at the
 * ends of an estimate's spread where that could flip the verdict. Every number comes from that solve; nothing is looked
 * up by kind of mistake. Words are made in `words/mistakes.ts`. mm, N, N·m.
 */
import { hasStop, judge, verdictOf, type Judged, type Judging } from '../findings/judge.ts';
import { toldVerdict } from '../findings/told.ts';
import type { ClampResult } from '../joint/clamp.ts';
import type { JointItem } from '../joint/joint.ts';
import { LIMITS } from '../limits.ts';
import { pivotOf, resolveChange, resolveModel, type ResolvedModel } from '../model/resolve.ts';
import type { LinkageModel, Part } from '../model/schema.ts';
import { kindOf } from '../parts/kinds.ts';
import { passage } from '../joint/passage.ts';
import { bendsOf, breaksOf, innerRingMeets, sideLoadsOf, type Met } from '../joint/reading.ts';
import type { Finding, Measure, Verdict } from '../types.ts';
import { checkFor, type RevealingCheck } from './check.ts';
import { dragOf, feel, MISSED, type BenchFeel, type Drag } from './felt.ts';
import { MISTAKE_LIMITS } from './limits.ts';
import { applyChanges, applyMistake, type Mistake } from './list.ts';

/** Whether the parts can be put together that way. `by-force` has a push to overcome that hands do not have. */
export type Assembly =
  | { readonly goes: 'yes' }
  | { readonly goes: 'by-force'; readonly push_N: number }
  | {
      readonly goes: 'no';
      readonly why:
        | 'axle-blocked'
        | 'thread-on-this-side'
        | 'thread-opens-other-side'
        | 'thread-does-not-match'
        | 'thread-does-not-reach'
        | 'no-room'
        | 'not-in-line';
      readonly push_N?: number;
      readonly off_mm?: number;
    };

/** What riding would do to it. */
export type TrailEffect =
  | 'knocks'
  | 'axle-may-break'
  | 'thread-may-strip'
  | 'works-loose'
  | 'ring-creeps'
  | 'drags'
  | 'wears-early'
  | 'arm-strained'
  | 'clamp-fades'
  | 'lets-water-in'
  | 'spacer-off-centre'
  | 'bearing-moves';

/** A free face that is touched, or so near that it will be. */
export interface TouchedFace {
  readonly what: 'outer-ring' | 'seal' | 'arm';
  /** Scene ids of what touches and of what should be free. */
  readonly by: string;
  readonly of: string;
  readonly force_N: number;
  readonly gap_mm: number;
}

/** How far an arm is bent by tightening; + toward its own member's middle. */
export interface ArmBend {
  readonly item: string;
  readonly bend_mm: number;
  readonly force_N: number;
}

/** What the assembly alone pushes a bearing sideways with. */
export interface SideLoad {
  readonly item: string;
  readonly load_N: number;
  readonly limit_N: number;
}

/** A mistake with its consequence at one pivot. */
export interface TriedMistake {
  readonly mistake: Mistake;
  readonly pivot: string;
  /** As it is told: with something to look at it is `unsure`. */
  readonly verdict: Verdict;
  readonly assembly: Assembly;
  /**
   * Least force an inner ring (or, without bearings, any spacer) carries in the stacks that the mistake touches; 0
   * where nothing goes together.
   */
  readonly clamp_N: number;
  /** The same of the pivot as written. */
  readonly written_N: number;
  readonly findings: readonly Finding[];
  readonly touched: readonly TouchedFace[];
  /** Bent arms, the most bent first. */
  readonly arms: readonly ArmBend[];
  /** Loaded bearings, the most loaded first. */
  readonly sideLoads: readonly SideLoad[];
  /** What stays open in the clamp column, or the room a loose inner ring has in it, mm. */
  readonly open_mm: number;
  readonly drags: readonly Drag[];
  readonly bench: readonly BenchFeel[];
  readonly trail: readonly TrailEffect[];
  /** Goes together by hand, tightens, feels free, and is not right all the same. */
  readonly isSilent: boolean;
  readonly check: RevealingCheck;
  /**
   * What a swap between two pivots does to the other one; two verdicts where it depends on which way round the spacer
   * lies there.
   */
  readonly elsewhere?: { readonly pivot: string; readonly verdicts: readonly Verdict[] };
}

/** A pivot as one build leaves it, solved. */
export interface SolvedPivot {
  readonly judged: Judged;
  verdict?: Verdict;
  /** What it comes to against the pivot as written, whichever mistake leads there. */
  outcome?: Outcome;
}

/** Of a pivot that goes together, all that no single mistake tells; of one that does not, why. */
type Outcome =
  | { readonly shut: Assembly; readonly why: readonly Finding[] }
  | Omit<Built, 'mistake' | 'written_N' | 'clamp_N'>;

/**
 * A model as written, and what has been solved of it so far: a pivot that two mistakes leave alike (a swap seen
 * from either end, or with either of two equal spacers) is solved once.
 */
export interface MistakeWork {
  readonly model: ResolvedModel;
  readonly judging: Judging;
  readonly solved: Map<string, SolvedPivot>;
}

/**
 * Begin with a model as written, which must have been read without problems; what is solved is kept for the mistakes
 * that leave a pivot alike. Nothing is solved yet.
 */
export function beginMistakes(model: LinkageModel, judging: Judging = {}): MistakeWork {
  return { model: resolveModel(model), judging, solved: new Map() };
}

const MAKES = new WeakMap<Part, string>();

/** What a part is, whatever it is called and however many there are; springs of one name lie in one another. */
function makeOf({ part, partId }: { readonly part: Part; readonly partId: string }): string {
  let made = MAKES.get(part);
  if (made === undefined) {
    const { name: _name, count: _count, ...rest } = part;
    MAKES.set(part, (made = JSON.stringify(kindOf(part).spring ? [partId, rest] : rest)));
  }
  return made;
}

/** A pivot of the written or of a changed model, solved now or before. */
function solvedPivot(work: MistakeWork, model: ResolvedModel, pivotId: string): SolvedPivot {
  // Only the stacks and what is in them differ between builds; parts of one make are one to the solve.
  const key = JSON.stringify([
    pivotId,
    pivotOf(model, pivotId, 'mistakes').stacks.map(({ axle, receiver, from, torque_Nm, row }) => [
      makeOf(axle),
      receiver.part ? makeOf(receiver) : '',
      from,
      torque_Nm,
      row.map((entry) => [
        entry.id,
        entry.role === 'boss' ? '' : makeOf(entry),
        entry.turned,
        entry.proud_mm,
        entry.torque_Nm,
      ]),
    ]),
  ]);
  const known = work.solved.get(key);
  if (known) return known;
  const solved: SolvedPivot = { judged: judge(model, pivotId, work.judging) };
  work.solved.set(key, solved);
  return solved;
}

/**
 * Build and solve one mistake at its pivot; it must be one of `listMistakes` of the model begun with. Forces N, lengths
 * mm. 2 to 10 ms, less where a pivot was solved before.
 */
export function tryMistake(work: MistakeWork, mistake: Mistake): TriedMistake {
  const { built, written, model, solved } = buildMistake(work, mistake);
  const elsewhere = lookElsewhere(work, mistake, model);
  const fixed = { mistake, pivot: mistake.pivot, written_N: built.written_N, ...elsewhere };
  if (!solved)
    return {
      ...fixed,
      verdict: 'faulty',
      assembly: built.assembly,
      clamp_N: built.clamp_N,
      findings: built.findings,
      touched: built.touched,
      arms: built.arms,
      sideLoads: built.sideLoads,
      open_mm: built.open_mm,
      drags: built.drags,
      bench: built.bench,
      trail: [],
      isSilent: false,
      check: { kind: 'hand', stack: mistake.slots[0]!.stack },
    };
  const { judged } = solved;
  const { assembly, findings, bench } = built;
  const isStopped = hasStop(findings) && !hasStop(judged.findings);
  const verdict = isStopped ? 'faulty' : toldVerdict({ verdict: verdictAt(solved), findings });
  return {
    ...fixed,
    verdict,
    assembly,
    clamp_N: built.clamp_N,
    findings,
    touched: built.touched,
    arms: built.arms,
    sideLoads: built.sideLoads,
    open_mm: built.open_mm,
    drags: built.drags,
    bench,
    trail: trailOf(findings),
    isSilent: verdict !== 'sound' && assembly.goes === 'yes' && MISSED.includes(bench[0]!),
    check: checkFor(work.model.written, written, mistake, judged),
  };
}

/** What a mistake comes to at its pivot, without its verdict, which an estimate may have to be solved again for. */
type Built = Pick<
  TriedMistake,
  | 'mistake'
  | 'written_N'
  | 'assembly'
  | 'clamp_N'
  | 'findings'
  | 'touched'
  | 'arms'
  | 'sideLoads'
  | 'open_mm'
  | 'drags'
  | 'bench'
>;

/** A mistake with the solves behind it; nothing is solved of what cannot be put together. */
export interface BuiltMistake {
  readonly built: Built;
  readonly written: Judged;
  readonly model: ResolvedModel;
  readonly solved?: SolvedPivot;
}

/** Build and solve one mistake, without the verdict: for what only reads the build. */
export function buildMistake(work: MistakeWork, mistake: Mistake): BuiltMistake {
  const written = solvedPivot(work, work.model, mistake.pivot).judged;
  const model = resolveChange(work.model, applyMistake(work.model.written, mistake));
  const fixed = { mistake, written_N: leastClamp_N(written, mistake) };
  const shut = cannotEnter(written, model);
  if (shut) return { built: { ...fixed, ...unbuilt(shut.assembly, shut.findings) }, written, model };
  const solved = solvedPivot(work, model, mistake.pivot);
  solved.outcome ??= outcomeOf(solved.judged, written);
  const { outcome } = solved;
  if ('shut' in outcome) return { built: { ...fixed, ...unbuilt(outcome.shut, outcome.why) }, written, model };
  return { built: { ...fixed, ...outcome, clamp_N: leastClamp_N(solved.judged, mistake) }, written, model, solved };
}

function outcomeOf(judged: Judged, written: Judged): Outcome {
  const blocked = blocks(judged, written);
  if (blocked) return { shut: blocked, why: judged.findings.filter(({ code }) => BLOCKING.includes(code)) };
  const against = [...clampAgainstWritten(written, judged), ...leftOutAgainstWritten(written, judged)];
  const findings = [...judged.findings, ...against].sort((a, b) => SEVERITY[a.severity] - SEVERITY[b.severity]);
  const { push_N, by } = judged.evidence.squeeze;
  const assembly: Assembly =
    by !== 'hand' && push_N > written.evidence.squeeze.push_N ? { goes: 'by-force', push_N } : { goes: 'yes' };
  const touched = findings.flatMap(touchedFace);
  const drags = dragOf(judged);
  const sideLoads = sideLoadsOf(judged.solved)
    .map(({ item, load_N, limit_N }): SideLoad => ({ item: item.id, load_N, limit_N }))
    .sort((a, b) => b.load_N - a.load_N);
  const open = open_mm(judged);
  const arms = armsOf(judged);
  const off_mm = Math.max(
    offLine_mm(judged.solved, judged.solved.spec),
    ...arms.map(({ bend_mm }) => Math.abs(bend_mm)),
  );
  const bench = feel({ judged, assembly, drags, open_mm: open, touched }, off_mm);
  return { assembly, findings, touched, arms, sideLoads, open_mm: open, drags, bench };
}

function lookElsewhere(work: MistakeWork, mistake: Mistake, model: ResolvedModel): Pick<TriedMistake, 'elsewhere'> {
  if (mistake.also === undefined) return {};
  const builds = [
    model,
    ...(mistake.otherWay ? [resolveChange(work.model, applyChanges(work.model.written, mistake.otherWay))] : []),
  ];
  return {
    elsewhere: {
      pivot: mistake.also,
      verdicts: [
        ...new Set(
          builds.map((build) => {
            const solved = solvedPivot(work, build, mistake.also!);
            return toldVerdict({ verdict: verdictAt(solved), findings: solved.judged.findings });
          }),
        ),
      ],
    },
  };
}

const SEVERITY = { stop: 0, warn: 1, note: 2 } as const;
const BLOCKING: readonly Finding['code'][] = [
  'axle-will-not-pass',
  'row-too-long',
  'thread-mismatch',
  'thread-too-short',
];

function unbuilt(assembly: Assembly, findings: readonly Finding[]): Omit<Built, 'mistake' | 'written_N'> {
  return {
    assembly,
    clamp_N: 0,
    findings,
    touched: [],
    arms: [],
    sideLoads: [],
    open_mm: 0,
    drags: [],
    bench: ['will-not-go'],
  };
}

/** An axle that screws into a member has one way in: from the other side there is nothing to solve. */
function cannotEnter(
  written: Judged,
  model: ResolvedModel,
): { assembly: Assembly; findings: readonly Finding[] } | undefined {
  for (const own of written.joint.stacks) {
    const now = model.pivots.flatMap((pivot) => pivot.stacks).find((stack) => stack.id === own.stack.id)!;
    if (now.from === own.stack.from || own.receiver.role !== 'boss') continue;
    const { reason } = passage(written.joint, own, now.from);
    if (!reason) continue;
    const finding: Finding = {
      code: 'axle-will-not-pass',
      severity: 'stop',
      pivot: written.joint.pivot.id,
      stack: own.stack.id,
      parts: [own.axle.id],
      numbers: {},
      about: { side: now.from, reason },
    };
    return { assembly: { goes: 'no', why: WAY_SHUT[reason] }, findings: [finding] };
  }
  return undefined;
}

const WAY_SHUT = {
  'receiver-is-here': 'thread-on-this-side',
  'thread-opens-other-side': 'thread-opens-other-side',
} as const;

/**
 * What keeps a build from being put together at all: the way, the thread, more push than a lever or a mallet gives, or
 * a spacer so long that a member is pushed out of line with its other pivots before anything is tightened.
 */
function blocks({ solved, evidence }: Judged, written: Judged): Extract<Assembly, { goes: 'no' }> | undefined {
  for (const own of solved.joint.stacks) {
    const way = evidence.passages.get(own.stack.id)!;
    if (!way.passes) return { goes: 'no', why: way.reason ? WAY_SHUT[way.reason] : 'axle-blocked' };
    if (!own.thread.matches) return { goes: 'no', why: 'thread-does-not-match' };
    if (solved.tightening.get(own.stack.id)!.engagement_mm <= own.thread.axle.pitch_mm)
      return { goes: 'no', why: 'thread-does-not-reach' };
  }
  const { push_N, by } = evidence.squeeze;
  if (by === 'nothing' && push_N > written.evidence.squeeze.push_N) return { goes: 'no', why: 'no-room', push_N };
  const off_mm = offLine_mm(solved, solved.hand);
  return off_mm > MISTAKE_LIMITS.seen_mm.value ? { goes: 'no', why: 'not-in-line', off_mm } : undefined;
}

function leastClamp_N({ evidence }: Judged, mistake: Mistake): number {
  const touched = new Set(mistake.slots.map(({ stack }) => stack));
  return Math.min(...[...evidence.clamp_N].flatMap(([stack, force]) => (touched.has(stack) ? [force] : [])));
}

/** Furthest a member stands off its line against the frame, or the first member of the pivot, mm. */
function offLine_mm({ joint }: Judged['solved'], { shift_mm }: ClampResult): number {
  return Math.max(0, ...[...joint.bases.values()].map((base) => Math.abs(shift_mm[base]!)));
}

/** The fit check measures a build against its own torque; against the written torque a weak one shows as well. */
function clampAgainstWritten(written: Judged, { solved, evidence }: Judged): Finding[] {
  return solved.joint.stacks.flatMap((own): Finding[] => {
    const asked = written.solved.tightening.get(own.stack.id)!;
    const clamp_N = evidence.clamp_N.get(own.stack.id)!;
    if (own.stack.torque_Nm >= asked.torque_Nm || clamp_N >= asked.preload_N.low) return [];
    const newton = (value: number): Measure => ({ value, unit: 'N' });
    return [
      {
        code: 'clamp-too-low',
        severity: 'stop',
        pivot: written.joint.pivot.id,
        stack: own.stack.id,
        parts: [own.axle.id],
        numbers: {
          clamp_N: newton(clamp_N),
          preload_N: newton(asked.preload_N.spec),
          share: { value: clamp_N / asked.preload_N.spec, unit: '1' },
        },
        limit: {
          ...newton(asked.preload_N.low),
          source: 'low end of the written torque’s own band: VDI 2230 friction, ISO 6789 wrench',
        },
        about: { against: 'written' },
      },
    ];
  });
}

/** A seal or a lock that is not there leaves no trace in the fit: only the row as written knows of it. */
function leftOutAgainstWritten(written: Judged, { joint }: Judged): Finding[] {
  const there = new Set(
    joint.stacks.flatMap(({ items }) => items.flatMap((item) => (traceless(item) ? [item.id] : []))),
  );
  return written.joint.stacks.flatMap(({ stack, items }) =>
    items.flatMap((item): Finding[] => {
      const code = traceless(item);
      if (!code || there.has(item.id)) return [];
      const about = { how: 'left-out', against: 'written' };
      const { id: pivot } = written.joint.pivot;
      return [{ code, severity: 'warn', pivot, stack: stack.id, parts: [item.id], numbers: {}, about }];
    }),
  );
}

/** The code by which a part is missed that nothing else misses. */
function traceless({ sealedToward, role, made }: JointItem): Finding['code'] | undefined {
  if (sealedToward !== undefined) return 'seal-misfitted';
  return role === 'tip' && kindOf(made!).secures !== undefined ? 'tip-misfitted' : undefined;
}

function verdictAt(solved: SolvedPivot): Verdict {
  solved.verdict ??= verdictOf(solved.judged);
  return solved.verdict;
}

const TOUCHED: Readonly<Partial<Record<Finding['code'], TouchedFace['what']>>> = {
  'outer-ring-touched': 'outer-ring',
  'seal-rubbed': 'seal',
  'arm-rubbed': 'arm',
};

function touchedFace({ code, severity, parts: [by, of], numbers }: Finding): TouchedFace[] {
  const what = TOUCHED[code];
  if (!what || severity !== 'stop' || by === undefined || of === undefined) return [];
  return [{ what, by, of, force_N: numbers['force_N']?.value ?? 0, gap_mm: numbers['gap_mm']?.value ?? 0 }];
}

function armsOf({ solved }: Judged): ArmBend[] {
  return bendsOf(solved)
    .map(({ item, bend_mm, force_N }) => ({ item: item.id, bend_mm, force_N }))
    .sort((a, b) => Math.abs(b.bend_mm) - Math.abs(a.bend_mm));
}

/**
 * What stays open: the breaks of the clamp column, or the room an inner ring has between its neighbours where the
 * column goes round it (a stepped axle's shoulder on the next spacer leaves the spacers before it loose).
 */
function open_mm({ joint, evidence }: Judged): number {
  const breaks = joint.stacks.flatMap((own) => breaksOf(own, evidence.columns.get(own.stack.id)!));
  const rings = joint.stacks
    .flatMap(({ items }) => items.filter((item) => item.role === 'bearing'))
    .map((item) => roomOf(item, evidence.met));
  return Math.max(
    breaks.reduce((sum, { play_mm }) => sum + play_mm, 0),
    ...rings.filter((room) => room > LIMITS.touching_mm.value),
  );
}

/** How far an inner ring could be slid between what stands still on its two sides, mm. */
function roomOf(item: JointItem, met: readonly Met[]): number {
  const sides = Object.values(innerRingMeets(item, met)).map((face) => face.map(({ free_mm }) => free_mm));
  return sides.some((free) => free.length === 0) ? 0 : sides.reduce((sum, free) => sum + Math.min(...free), 0);
}

/** What riding would do, by what stops it; where nothing does, by what is to be looked at. */
function trailOf(findings: readonly Finding[]): TrailEffect[] {
  const weight = hasStop(findings) ? 'stop' : 'warn';
  return [...new Set(findings.flatMap((finding) => (finding.severity === weight ? (effectOf(finding) ?? []) : [])))];
}

/** What is loose where no ring sits, in a bore or a bush, has play. */
function effectOf({ code, about }: Finding): TrailEffect | undefined {
  const isRing = about?.['what'] === 'seat' || about?.['what'] === 'axle';
  return code === 'fit-too-loose' && !isRing ? 'knocks' : TRAIL[code];
}

const TRAIL: Readonly<Partial<Record<Finding['code'], TrailEffect>>> = {
  'side-play': 'knocks',
  'axle-overstressed': 'axle-may-break',
  'thread-too-short': 'thread-may-strip',
  'bottoms-before-clamp': 'works-loose',
  'clamp-too-low': 'works-loose',
  'inner-ring-loose': 'ring-creeps',
  'outer-ring-touched': 'drags',
  'arm-rubbed': 'drags',
  'bearing-side-loaded': 'wears-early',
  'member-off-line': 'wears-early',
  'arm-drawn': 'arm-strained',
  'face-crushed': 'clamp-fades',
  'edge-contact': 'clamp-fades',
  'seal-rubbed': 'lets-water-in',
  'seal-misfitted': 'lets-water-in',
  'bore-mismatch': 'spacer-off-centre',
  'fit-too-tight': 'wears-early',
  'fit-too-loose': 'ring-creeps',
  'bearing-not-home': 'bearing-moves',
  'circlip-misfitted': 'bearing-moves',
  'tip-misfitted': 'works-loose',
};
