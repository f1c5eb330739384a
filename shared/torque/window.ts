/**
 * The torque window of a stack: where it holds too little, where something gives, and the setting between.
 *
 * Below: the lowest clamp at which no inner ring can creep (`creep.ts`), and beside it the lowest that still does so
 * once the faces have settled (`settling.ts`); without a ring, what settling takes altogether. Above: yield and proof of the axle at its weakest section, shear of the
 * metal under its head, stripping of the weaker thread, pressure on every clamped face against the softer material, and
 * the thinnest wall of every clamped part; carbon has its own row. Each limit is a preload; friction turns it into a
 * band of torque: `sure_Nm` holds whatever the friction and the wrench within their bands, `possible_Nm` at their other
 * end. N, N·m, mm, MPa.
 */
import { pressedArea_mm2 } from '../joint/contact.ts';
import { isColumnPiece, isSprung, type JointItem, type Piece } from '../joint/joint.ts';
import { LIMITS } from '../limits.ts';
import { receiverSleeve } from '../joint/thread.ts';
import { clampForce_N, readColumn, type Met } from '../joint/reading.ts';
import { material, type Material } from '../standards/index.ts';
import { SHEAR_SHARE, stripForce } from '../standards/thread-strip.ts';
import type { Shanked } from '../parts/shanked.ts';
import type { Measure, Polygon } from '../types.ts';
import { leastPreload_N, meetAt, torqueAt, type TorqueStack } from './setup.ts';
import { creep } from './creep.ts';
import { TORQUE_LIMITS } from './limits.ts';
import { sectionsOf, type Section, type SectionKind } from './sections.ts';
import { settlingLossOf_N } from './settling.ts';
import { slipOf } from './slip.ts';

/** What may end a window, from below or above; `words/torque.ts` says each. */
export const WINDOW_LIMITS = [
  'rings-creep',
  'clamp-lost',
  'clamp-fades',
  'works-loose',
  'axle-yield',
  'axle-proof',
  'head-shears',
  'thread-strips',
  'sleeve-strips',
  'face-pressed',
  'carbon-pressed',
  'wall-pressed',
] as const;
/** What ends the window. */
export type WindowLimitKind = (typeof WINDOW_LIMITS)[number];

/** One end of the window. */
export interface WindowLimit {
  readonly kind: WindowLimitKind;
  /** Preload at which it is met, N. */
  readonly preload_N: number;
  /** Torque that keeps to the limit whatever the friction, N·m. */
  readonly sure_Nm: number;
  /** Torque that keeps to it only at the kindest friction, N·m. */
  readonly possible_Nm: number;
  /** Scene ids of the parts concerned. */
  readonly parts: readonly string[];
  /** What must not be passed (or must be reached). */
  readonly at: Measure;
  readonly section?: SectionKind;
  readonly material?: string;
  readonly isEstimate: boolean;
  /** True where something gives before its preload is there: no torque to be told. */
  readonly isOutOfReach?: true;
  readonly source: string;
}

/** How sure it is that the spec keeps to one end. */
export type Sureness = 'sure' | 'maybe' | 'no';
export type WindowVerdict = 'too-little' | 'perhaps-too-little' | 'right' | 'perhaps-too-much' | 'too-much';

/** The window of one stack. */
export interface TorqueWindow {
  readonly spec_Nm: number;
  /** Lower end; undefined where no preload holds the rings. */
  readonly least?: WindowLimit;
  /** What still holds the rings once the faces have settled: told beside the window, it ends none. */
  readonly keeps?: WindowLimit;
  /** Below this a joint that slips across can work loose, unless the thread is locked: told beside as well. */
  readonly slips?: WindowLimit;
  /** Upper ends, the lowest first. */
  readonly most: readonly WindowLimit[];
  readonly enough: Sureness;
  readonly notTooMuch: Sureness;
  readonly verdict: WindowVerdict;
  /**
   * Where the right zone begins (undefined where nothing holds) and ends for sure, N·m; friction may leave no sure
   * torque between.
   */
  readonly from_Nm?: number;
  readonly to_Nm: number;
}

/** How far above the spec's highest preload the lowest clamp is looked for. */
const SEARCH = 4;
/** Share by which two parts may differ that give together. */
const SAME = 1e-3;
/** Most secants before the search is done by halves: a column that gives in proportion takes two or three. */
const SECANTS = 8;

/**
 * The window of a stack: what ends it below and above, N and N·m, each bound for the least and the most friction. About
 * 70 ms, some twenty clamp solves. Where the column does not close there is no lower end.
 */
export function torqueWindow(bench: TorqueStack): TorqueWindow {
  const { tightening } = bench;
  const most = upperLimits(bench);
  const least = creepLimit(bench, most[0]!.preload_N);
  const spec = tightening.torque_Nm;
  const enough = least === undefined ? 'no' : sureness(spec >= least.sure_Nm, spec >= least.possible_Nm);
  const to_Nm = Math.min(...most.map((limit) => limit.sure_Nm));
  const notTooMuch = sureness(spec <= to_Nm, spec <= Math.min(...most.map((limit) => limit.possible_Nm)));
  const keeps = least && settledLimit(bench, least);
  const slips = slipLimit(bench, most[0]!);
  return {
    spec_Nm: spec,
    ...(least ? { least } : {}),
    ...(keeps ? { keeps } : {}),
    ...(slips ? { slips } : {}),
    most,
    enough,
    notTooMuch,
    verdict: verdictOf(enough, notTooMuch),
    ...(least ? { from_Nm: least.sure_Nm } : {}),
    to_Nm,
  };
}

/**
 * Upper ends of a window, the lowest first. A force that all but follows the preload is brought to its limit by a few
 * solves; given the meetings at the top of the spec's band it is taken to follow exactly from there, which tells as
 * surely whether the band passes a limit.
 */
export function upperLimits(bench: TorqueStack, metHigh?: readonly Met[]): WindowLimit[] {
  const isQuick = metHigh !== undefined;
  const met = metHigh ?? meetAt(bench, bench.tightening.preload_N.high);
  return [
    ...axleLimits(bench),
    ...headLimit(bench),
    ...stripLimit(bench),
    ...sleeveLimit(bench),
    ...pressureLimits(bench, met, isQuick),
    ...wallLimit(bench, met, isQuick),
  ].sort((a, b) => a.preload_N - b.preload_N);
}

/** Every limit of a window, the lowest torque's first. */
export function limitsOf({ least, keeps, slips, most }: TorqueWindow): readonly WindowLimit[] {
  const below = [least, keeps, slips].filter((limit) => limit !== undefined);
  return [...below.sort((a, b) => a.preload_N - b.preload_N), ...most];
}

function sureness(isSure: boolean, isPossible: boolean): Sureness {
  return isSure ? 'sure' : isPossible ? 'maybe' : 'no';
}

function verdictOf(enough: Sureness, notTooMuch: Sureness): WindowVerdict {
  if (enough === 'no') return 'too-little';
  if (notTooMuch === 'no') return 'too-much';
  return notTooMuch === 'maybe' ? 'perhaps-too-much' : enough === 'maybe' ? 'perhaps-too-little' : 'right';
}

function creepLimit(bench: TorqueStack, firstUpper_N: number): WindowLimit | undefined {
  const { own, tightening } = bench;
  if (hasNoRing(bench)) return lostLimit(bench);
  const margin = (force: number): number => creep(own, meetAt(bench, force)).margin;
  // A spec far too small must not pass for a column that stays open: then the first upper end is as far as it goes.
  const preload_N = leastPreload_N(margin, SEARCH * tightening.preload_N.high) ?? leastPreload_N(margin, firstUpper_N);
  return preload_N === undefined ? undefined : ringsAt(bench, preload_N);
}

/** The lower end at a preload that just holds the rings. */
function ringsAt(bench: TorqueStack, preload_N: number): WindowLimit {
  const { own } = bench;
  const met = meetAt(bench, preload_N);
  const worst = creep(own, met);
  return {
    kind: 'rings-creep',
    preload_N,
    ...torquesBelow(bench, preload_N),
    parts: worst.items.filter((item) => item.bearing).map((item) => item.id),
    at: { value: clampForce_N(own, met, readColumn(own, met)), unit: 'N' },
    isEstimate: true,
    source:
      'face friction at the low end of VDI 2230 class B (greased) or C (dry) against bearings whose balls slide under half their static rating: an upper estimate',
  };
}

/**
 * The lower end alone, found by a few secants from the top of the spec's band; undefined where nothing holds the rings.
 */
export function ringsLimit(bench: TorqueStack): WindowLimit | undefined {
  const { own, tightening } = bench;
  if (hasNoRing(bench)) return lostLimit(bench);
  const margin = (preload_N: number): number => creep(own, meetAt(bench, preload_N)).margin;
  // However small the setting, what the axle itself could give is searched.
  const most_N = Math.max(SEARCH * tightening.preload_N.high, ...axleLimits(bench).map((limit) => limit.preload_N));
  let preload_N = tightening.preload_N.high;
  for (let round = 0; round < SECANTS; round++) {
    const here = margin(preload_N);
    if (!(here > 0)) return undefined;
    const next = preload_N / here;
    if (Math.abs(next - preload_N) < 1e-4 * preload_N) return ringsAt(bench, preload_N);
    preload_N = Math.min(next, most_N);
  }
  return creepLimit(bench, most_N);
}

/** A column without bearings has no ring to creep: the least is what leaves anything once the faces have settled. */
export function lostLimit(bench: TorqueStack): WindowLimit | undefined {
  const loss_N = settlingLossOf_N(bench);
  return loss_N === undefined ? undefined : settled(bench, 'clamp-lost', 0, loss_N);
}

/** True where no bearing stands in a stack's column. */
export function hasNoRing({ own }: TorqueStack): boolean {
  return !own.items.some((item) => item.bearing);
}

/** The preload at which the rings still hold when settling has taken its part; none where no thread takes hold. */
export function settledLimit(bench: TorqueStack, least: WindowLimit): WindowLimit | undefined {
  const loss_N = settlingLossOf_N(bench);
  return loss_N === undefined || least.kind === 'clamp-lost'
    ? undefined
    : settled(bench, 'clamp-fades', least.preload_N, loss_N);
}

function settled(
  bench: TorqueStack,
  kind: 'clamp-lost' | 'clamp-fades',
  needed_N: number,
  loss_N: number,
): WindowLimit {
  const preload_N = needed_N + loss_N;
  return {
    kind,
    preload_N,
    ...torquesBelow(bench, preload_N),
    parts: [bench.own.axle.id],
    at: { value: loss_N, unit: 'N' },
    isEstimate: true,
    source:
      'VDI 2230: least preload plus the loss by settling f_Z/(δ_S + δ_P), its guide values from memory; resilience of the parts from the clamp solve',
  };
}

/** The preload from which the screw stands still while the parts slip across it; none where no thread takes hold. */
function slipLimit(bench: TorqueStack, gives: WindowLimit): WindowLimit | undefined {
  const slip = (bench.solved.pull_N.get(bench.own.stack.id) ?? 0) > 0 ? slipOf(bench) : undefined;
  if (!slip) return undefined;
  const { play_mm, preload_N } = slip;
  return {
    kind: 'works-loose',
    preload_N,
    ...(preload_N > gives.preload_N ? { isOutOfReach: true } : {}),
    ...torquesBelow(bench, preload_N),
    parts: [bench.own.axle.id],
    at: { value: play_mm, unit: 'mm' },
    isEstimate: true,
    source:
      'critical slip of a screw as a beam held at both ends, s = μ·F·l³/(12·E·I), from memory; face friction at the low end of VDI 2230 class B (greased) or C (dry)',
  };
}

/** Torques that keep to a lower limit: whatever the friction, and only at the kindest. N·m. */
function torquesBelow(bench: TorqueStack, preload_N: number): Pick<WindowLimit, 'sure_Nm' | 'possible_Nm'> {
  return { sure_Nm: torqueAt(bench, preload_N, 'low'), possible_Nm: torqueAt(bench, preload_N, 'high') };
}

function upper(
  bench: TorqueStack,
  preload_N: number,
  rest: Omit<WindowLimit, 'preload_N' | 'sure_Nm' | 'possible_Nm'>,
): WindowLimit {
  return {
    ...rest,
    preload_N,
    sure_Nm: torqueAt(bench, preload_N, 'high'),
    possible_Nm: torqueAt(bench, preload_N, 'low'),
  };
}

/** Yield in pull and twist together, and proof in pull alone, each at the section that reaches it first. */
function axleLimits(bench: TorqueStack): WindowLimit[] {
  const sections = sectionsOf(bench);
  const limitAt = (
    kind: 'axle-yield' | 'axle-proof',
    share: number,
    stress: (section: Section) => number,
    source: string,
  ): WindowLimit => {
    const first = sections
      .map((section) => ({ section, preload_N: (share * section.yield_MPa) / stress(section) }))
      .reduce((a, b) => (b.preload_N < a.preload_N ? b : a));
    const { section } = first;
    return upper(bench, first.preload_N, {
      kind,
      parts: [section.item.id],
      at: { value: share * section.yield_MPa, unit: 'MPa' },
      section: section.kind,
      isEstimate: section.isEstimate,
      source,
    });
  };
  return [
    limitAt('axle-yield', LIMITS.axleShare.value, (section) => section.vonMises_MPa_per_N, LIMITS.axleShare.source),
    limitAt(
      'axle-proof',
      TORQUE_LIMITS.proofShare.value,
      (section) => section.tension_MPa_per_N,
      TORQUE_LIMITS.proofShare.source,
    ),
  ];
}

/** The ring of metal under a head, round the shank, shears. Of a two-piece axle both heads count. */
function headLimit(bench: TorqueStack): WindowLimit[] {
  const { own } = bench;
  const headed = [own.axle, own.receiver].filter(({ made }) => made !== undefined && 'head' in made);
  if (headed.length === 0) return [];
  const heads = headed.map((item) => {
    const part = item.made as Shanked;
    const row = material(part.material);
    const height_mm = part.head.height_mm + (part.head.land_height_mm ?? 0);
    const stress_MPa = LIMITS.axleShare.value * SHEAR_SHARE * row.yield_MPa;
    return {
      item,
      row,
      height_mm,
      stress_MPa,
      preload_N: stress_MPa * Math.PI * part.shank[0]!.diameter_mm * height_mm,
    };
  });
  const first = heads.reduce((a, b) => (b.preload_N < a.preload_N ? b : a));
  return [
    upper(bench, first.preload_N, {
      kind: 'head-shears',
      parts: [first.item.id],
      at: { value: first.height_mm, unit: 'mm' },
      material: first.row.name,
      isEstimate: first.row.isEstimate,
      source: `shear of the cylinder π·d·h under the head at yield/√3 (distortion energy), ${LIMITS.axleShare.source}`,
    }),
  ];
}

const STRIP_SOURCE = `shear areas of ASME B1.1, shear strength tensile/√3; ${TORQUE_LIMITS.stripShare.source}`;

function stripLimit(bench: TorqueStack): WindowLimit[] {
  const { own, tightening } = bench;
  if (!own.thread.matches) return [];
  const { size_mm, pitch_mm } = own.thread.axle;
  const axleMaterial = material(own.stack.axle.part.material);
  const receiverMaterial = material(own.thread.receiverMaterial);
  // A sleeve carries the internal thread; its screw, the receiver, the external one.
  const isSleeve = own.axle.kind === 'sleeve';
  const [external, internal] = isSleeve ? [receiverMaterial, axleMaterial] : [axleMaterial, receiverMaterial];
  const bearing_mm = tightening.engagement_mm - TORQUE_LIMITS.lostPitches.value * pitch_mm;
  const { force_N, weaker } = stripForce({
    size_mm,
    pitch_mm,
    engagement_mm: Math.max(0, bearing_mm),
    externalTensile_MPa: external.tensile_MPa,
    internalTensile_MPa: internal.tensile_MPa,
  });
  const softer = weaker === 'external' ? external : internal;
  const item = (weaker === 'external') === isSleeve ? own.receiver : own.axle;
  return [
    upper(bench, TORQUE_LIMITS.stripShare.value * force_N, {
      kind: 'thread-strips',
      parts: [item.id],
      at: { value: Math.max(0, tightening.engagement_mm), unit: 'mm' },
      material: softer.name,
      isEstimate: softer.isEstimate,
      source: STRIP_SOURCE,
    }),
  ];
}

/** A threaded sleeve in a member is pulled by its outer thread, over all of its length. */
function sleeveLimit({ own, ...bench }: TorqueStack): WindowLimit[] {
  const sleeve = receiverSleeve(own.stack);
  if (!sleeve || !own.thread.matches) return [];
  const { member, thread } = own.stack.receiver.bore!;
  const [outer, inner] = [material(sleeve.material), material(member.material)];
  const { force_N, weaker } = stripForce({
    size_mm: sleeve.outside_mm,
    pitch_mm: sleeve.pitch_mm,
    engagement_mm: Math.max(0, thread!.length_mm - TORQUE_LIMITS.lostPitches.value * sleeve.pitch_mm),
    externalTensile_MPa: outer.tensile_MPa,
    internalTensile_MPa: inner.tensile_MPa,
  });
  const softer = weaker === 'external' ? outer : inner;
  return [
    upper({ own, ...bench }, TORQUE_LIMITS.stripShare.value * force_N, {
      kind: 'sleeve-strips',
      parts: [own.receiver.id],
      at: { value: thread!.length_mm, unit: 'mm' },
      material: softer.name,
      isEstimate: softer.isEstimate,
      source: STRIP_SOURCE,
    }),
  ];
}

/** The clamped face that reaches what its softer side takes first; faces of carbon have a row of their own. */
function pressureLimits(bench: TorqueStack, metHigh: readonly Met[], isQuick: boolean): WindowLimit[] {
  const limits: WindowLimit[] = [];
  const high_N = bench.tightening.preload_N.high;
  const faces = metHigh.flatMap((met, k) => {
    const softer = softerOf(met);
    const allowed = softer.bearingPressure_MPa * pressedArea_mm2(met.gap.bands_mm);
    const isClamped =
      met.law !== undefined &&
      !met.shouldBeFree &&
      !isSprung(met) &&
      met.force_N > 0 &&
      met.a.item.stack === bench.own.stack;
    return isClamped ? [{ k, met, softer, allowed_N: allowed, first_N: (high_N * allowed) / met.force_N }] : [];
  });
  for (const kind of ['face-pressed', 'carbon-pressed'] as const) {
    const mine = faces.filter(({ softer }) => (softer.family === 'carbon') === (kind === 'carbon-pressed'));
    if (mine.length === 0) continue;
    const [first, ...others] = firstOf(mine);
    limits.push(
      upper(
        bench,
        isQuick ? first.first_N : settle(bench, first.first_N, (met) => met[first.k]!.force_N, first.allowed_N),
        {
          kind,
          parts: [...new Set([first, ...others].flatMap(({ met: { a, b } }) => [a.item.id, b.item.id]))],
          at: { value: first.softer.bearingPressure_MPa, unit: 'MPa' },
          material: first.softer.name,
          isEstimate: first.softer.isEstimate,
          source: first.softer.source,
        },
      ),
    );
  }
  return limits;
}

/** What gives first, and all that gives with it: of two equal spacers neither is first. */
function firstOf<T extends { readonly first_N: number }>(all: readonly T[]): readonly [T, ...T[]] {
  const first = all.reduce((a, b) => (b.first_N < a.first_N ? b : a));
  return [first, ...all.filter((one) => one !== first && one.first_N < first.first_N * (1 + SAME))];
}

/** Preload at which a force that all but follows it reaches `wanted_N`: a few secants from a first guess. */
function settle(bench: TorqueStack, first_N: number, force: (met: readonly Met[]) => number, wanted_N: number): number {
  let preload_N = first_N;
  for (let round = 0; round < 4; round++) {
    const here = force(meetAt(bench, preload_N));
    if (here <= 0) return preload_N;
    preload_N *= wanted_N / here;
  }
  return preload_N;
}

function softerOf({ a, b }: Met): Material {
  const [one, other] = [material(a.solid.material), material(b.solid.material)];
  return one.bearingPressure_MPa <= other.bearingPressure_MPa ? one : other;
}

/** The clamped part (no axle, no inner ring) whose thinnest section reaches its share of the yield first. */
function wallLimit(bench: TorqueStack, met: readonly Met[], isQuick: boolean): WindowLimit[] {
  const { own, joint, tightening } = bench;
  const high_N = tightening.preload_N.high;
  const walls = joint.pieces.flatMap((piece) => {
    if (piece.item.stack !== own.stack || piece.solid.role !== 'body' || !isColumnPiece(piece)) return [];
    // A spring is made to be pressed flat.
    if (piece.nearBody !== piece.body) return [];
    const through = through_N(met, piece.item);
    const { area_mm2, isThin } = thinnestOf(piece);
    const row = material(piece.solid.material);
    const allowed = row.yield_MPa * (isThin ? TORQUE_LIMITS.thinYieldShare.value : 1);
    return through <= 0
      ? []
      : [
          {
            piece,
            row,
            isThin,
            allowed_MPa: allowed,
            allowed_N: allowed * area_mm2,
            first_N: (high_N * allowed * area_mm2) / through,
          },
        ];
  });
  if (walls.length === 0) return [];
  const [first, ...others] = firstOf(walls);
  const { piece, row, isThin } = first;
  return [
    upper(
      bench,
      isQuick ? first.first_N : settle(bench, first.first_N, (here) => through_N(here, piece.item), first.allowed_N),
      {
        kind: 'wall-pressed',
        parts: [...new Set([first, ...others].map((wall) => wall.piece.item.id))],
        at: { value: first.allowed_MPa, unit: 'MPa' },
        material: row.name,
        isEstimate: isThin || row.isEstimate,
        source: isThin ? `half the yield of a thin wall: ${TORQUE_LIMITS.thinYieldShare.source}` : row.source,
      },
    ),
  ];
}

/** Force that runs through a part of the column: the greater of its two faces. */
function through_N(met: readonly Met[], item: JointItem): number {
  const sum = (own: (meeting: Met) => Piece): number =>
    met.reduce(
      (total, meeting) => (own(meeting).item === item && isColumnPiece(own(meeting)) ? total + meeting.force_N : total),
      0,
    );
  return Math.max(
    sum((meeting) => meeting.a),
    sum((meeting) => meeting.b),
  );
}

const THINNEST = new WeakMap<Piece['local'], Thinnest>();

/** The same wherever the piece stands, so that it is looked for once. */
function thinnestOf({ local }: Piece): Thinnest {
  const known = THINNEST.get(local);
  if (known) return known;
  const found = thinnest(local.solid.polygon);
  THINNEST.set(local, found);
  return found;
}

interface Thinnest {
  readonly area_mm2: number;
  readonly isThin: boolean;
}

/**
 * Least area of a solid's cross-sections, and whether its wall is thin there; between two corners it is least at one of
 * them.
 */
function thinnest(polygon: Polygon): Thinnest {
  const levels = [...new Set(polygon.map(([, z]) => z))].sort((a, b) => a - b);
  let least = { area_mm2: Infinity, isThin: false };
  for (let k = 0; k + 1 < levels.length; k++) {
    // Broken edges are no section: only what is more than a tenth of the part long counts.
    if (levels[k + 1]! - levels[k]! < 0.1 * (levels.at(-1)! - levels[0]!)) continue;
    for (const z of [levels[k]! + 1e-6, levels[k + 1]! - 1e-6]) {
      const radii = crossings(polygon, z);
      let area = 0;
      for (let j = 0; j + 1 < radii.length; j += 2) area += Math.PI * (radii[j + 1]! ** 2 - radii[j]! ** 2);
      const wall = radii.length < 2 ? 0 : radii.at(-1)! - radii[0]!;
      if (area > 0 && area < least.area_mm2)
        least = { area_mm2: area, isThin: wall < TORQUE_LIMITS.thinWallShare.value * 2 * radii.at(-1)! };
    }
  }
  return least;
}

function crossings(polygon: Polygon, z: number): number[] {
  const radii: number[] = [];
  polygon.forEach(([r0, z0], k) => {
    const [r1, z1] = polygon[(k + 1) % polygon.length]!;
    if (z0 > z !== z1 > z) radii.push(r0 + ((z - z0) * (r1 - r0)) / (z1 - z0));
  });
  return radii.sort((a, b) => a - b);
}
