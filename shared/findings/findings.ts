/**
 * The fit check: what is wrong, unsure or worth knowing about a solved pivot, as data.
 *
 * Each rule looks at the solved joint alone; limits stand in `limits.ts` or `standards/` and go with the finding. A
 * `stop` means the pivot must not be ridden as built, a `warn` that a person must judge, a `note` that it should be
 * known. Words are made in `words/fit.ts`. N, mm, MPa.
 */
import { pressedArea_mm2 } from '../joint/contact.ts';
import {
  isColumnPiece,
  isSprung,
  ownerOf,
  boreRadius_mm,
  type JointItem,
  type JointStack,
  linedBores,
  type Piece,
} from '../joint/joint.ts';
import { LIMITS, type Limit } from '../limits.ts';
import type { ResolvedBore } from '../model/resolve.ts';
import { thickest_mm } from '../joint/thread.ts';
import { radiusRange, zRange } from '../profile/polygon.ts';
import { armLimit } from '../joint/arm.ts';
import {
  bendsOf,
  bottomsOf,
  breaksOf,
  HOLDS_N,
  isEdge,
  looseRings,
  ringForce_N,
  screwedIn,
  sideLoadsOf,
  type Link,
  type Met,
} from '../joint/reading.ts';
import { emptySeats, gapCause, isOverEmptySeat } from './gap-cause.ts';
import type { Squeeze } from '../joint/passage.ts';
import { frameOf, type SolvedJoint } from '../joint/solve.ts';
import { material } from '../standards/index.ts';
import type { Finding, FindingCode, Measure, Passage, Severity } from '../types.ts';
import { fitFaults } from './fits.ts';
import { sealFaults } from './seals.ts';
import { circlipFaults } from './circlips.ts';
import { tipFaults } from './tips.ts';
import { springFaults } from './springs.ts';

/** What the rules may look at. */
export interface Evidence {
  readonly solved: SolvedJoint;
  readonly met: readonly Met[];
  readonly columns: ReadonlyMap<string, readonly Link[]>;
  readonly clamp_N: ReadonlyMap<string, number>;
  readonly passages: ReadonlyMap<string, Passage>;
  readonly squeeze: Squeeze;
}

const mm = (value: number): Measure => ({ value, unit: 'mm' });
const N = (value: number): Measure => ({ value, unit: 'N' });
const MPa = (value: number): Measure => ({ value, unit: 'MPa' });
const share = (value: number): Measure => ({ value, unit: '1' });

interface Draft {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly items: readonly JointItem[];
  readonly numbers: Record<string, Measure>;
  readonly limit?: Measure & { readonly source: string };
  readonly rests?: readonly string[];
  readonly about?: Record<string, string>;
  readonly stack?: string;
}

const limitOf = (limit: Limit, unit: Measure['unit']): Measure & { source: string } => ({
  value: limit.value,
  unit,
  source: limit.source,
});

type Rule = (evidence: Evidence) => Draft[];

/**
 * All findings of a solved pivot, worst first; estimates are noted by `analyse`, which knows what they could change.
 */
export function findAll(evidence: Evidence): Finding[] {
  const pivot = evidence.solved.joint.pivot.id;
  const drafts = RULES.flatMap(({ rule }) => mergeAlike(rule(evidence)));
  return worstFirst(
    drafts.map(({ items, stack, ...draft }): Finding => {
      const stackId = stack ?? items[0]?.stack.id;
      return {
        ...draft,
        pivot,
        ...(stackId === undefined ? {} : { stack: stackId }),
        parts: [...new Set(items.map((item) => item.id))],
      };
    }),
  );
}

/** Findings by severity, the worst first. */
export function worstFirst(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity));
}

/** Findings of these codes that say the same of several parts of one stack become one, with the worst numbers. */
const MERGED: readonly FindingCode[] = ['arm-drawn', 'bearing-side-loaded'];

function mergeAlike(drafts: readonly Draft[]): Draft[] {
  const merged: Draft[] = [];
  for (const draft of drafts) {
    const isSame = (other: Draft): boolean =>
      other.code === draft.code &&
      other.severity === draft.severity &&
      other.limit?.value === draft.limit?.value &&
      other.items[0]?.stack === draft.items[0]?.stack &&
      other.about?.['way'] === draft.about?.['way'];
    const at = MERGED.includes(draft.code) ? merged.findIndex(isSame) : -1;
    if (at < 0) merged.push(draft);
    else {
      const known = merged[at]!;
      const worse = firstNumber(draft) > firstNumber(known) ? draft : known;
      merged[at] = { ...worse, items: [...known.items, ...draft.items] };
    }
  }
  return merged;
}

function firstNumber(draft: Draft): number {
  return Object.values(draft.numbers)[0]?.value ?? 0;
}

const SEVERITIES: readonly Severity[] = ['stop', 'warn', 'note'];

/** One finding a stack: every spacer the column fails to clamp, and the least that any face of them carries. */
const innerRingLoose: Rule = (evidence) =>
  evidence.solved.joint.stacks.flatMap((own): Draft[] => {
    const limit = LIMITS.leastRingShare.value * evidence.solved.tightening.get(own.stack.id)!.preload_N.spec;
    const rings = own.items
      .filter((item) => item.role === 'bearing')
      .map((item) => ({ item, least: ringForce_N(item, evidence.met) }));
    const loose = rings.filter(({ least }) => least < limit);
    if (loose.length === 0) return [];
    return [
      {
        code: 'inner-ring-loose',
        severity: 'stop',
        items: loose.map(({ item }) => item),
        numbers: { least_N: N(Math.min(...loose.map(({ least }) => least))) },
        limit: { value: limit, unit: 'N', source: LIMITS.leastRingShare.source },
      },
    ];
  });

/** Free parts against the column: outer rings, arms, and seals, each by its own code. */
const rubs: Rule = ({ met, solved }) => {
  const lined = linedBores(solved.joint);
  return met.flatMap((meeting): Draft[] => {
    if (!meeting.shouldBeFree) return [];
    const { a, b } = meeting;
    const free = isColumnPiece(a) ? b : a;
    const own = free.item.boss;
    const sides = own && lined.has(own) ? sidesOf(own, met) : undefined;
    // Nothing holds it along the axle: told once, by what it has on both sides together.
    if (sides && meeting !== sides[0]) return [];
    const most_N = Math.max(...(sides ?? [meeting]).map((side) => side.force_N));
    const force_N = sides && most_N < HOLDS_N ? 0 : most_N;
    const free_mm = sides ? sides.reduce((sum, side) => sum + side.free_mm, 0) : meeting.free_mm;
    const items = [free === a ? b.item : a.item, free.item];
    const numbers = { gap_mm: mm(free_mm), force_N: N(force_N) };
    if (meeting.law === undefined) return sealRub(meeting, items);
    const isOuter = free.solid.role === 'outer-ring' && isColumnPiece(free === a ? b : a);
    const near = force_N > 0 || free_mm <= LIMITS.rubClearance_mm.value;
    if (!near && free_mm > LIMITS.tightClearance_mm.value) return [];
    const other = ownerOf(free === a ? b : a);
    return [
      {
        code: isOuter ? 'outer-ring-touched' : 'arm-rubbed',
        severity: near ? 'stop' : 'warn',
        items,
        numbers,
        limit: limitOf(near ? LIMITS.rubClearance_mm : LIMITS.tightClearance_mm, 'mm'),
        ...(isOuter && free.item.bearing?.estimated.includes('shoulders') ? { rests: ['shoulders'] } : {}),
        ...(other === undefined ? {} : { about: { member: other } }),
      },
    ];
  });
};

/** What stands nearest a bore that turns on a bush on its two sides, the non-drive one first. */
function sidesOf(bore: ResolvedBore, met: readonly Met[]): Met[] {
  const isBore = ({ item, solid }: Piece): boolean =>
    item.boss === bore && item.role === 'boss' && solid.role === 'body';
  const nearest = (found: readonly Met[]): Met[] =>
    [...found].sort((p, q) => q.force_N - p.force_N || p.free_mm - q.free_mm).slice(0, 1);
  const beside = met.filter(({ law, shouldBeFree }) => law !== undefined && shouldBeFree);
  return [
    ...nearest(beside.filter(({ a, b }) => isBore(b) && isColumnPiece(a))),
    ...nearest(beside.filter(({ a, b }) => isBore(a) && isColumnPiece(b))),
  ];
}

function sealRub({ a, b, gap, free_mm }: Met, items: readonly JointItem[]): Draft[] {
  const seal = a.solid.role === 'seal' ? a : b;
  const ring = seal === a ? b : a;
  if (!isColumnPiece(ring) || free_mm > LIMITS.sealClearance_mm.value || gap.bands_mm.length === 0) return [];
  const [inner] = radiusRange(seal.solid.polygon);
  const cover = Math.max(...gap.bands_mm.map(([, r1]) => r1)) - inner;
  const estimated = seal.item.bearing?.estimated.includes('shoulders') === true;
  return [
    {
      code: 'seal-rubbed',
      severity: cover >= LIMITS.sealCover_mm.value ? 'stop' : 'warn',
      items,
      numbers: { gap_mm: mm(free_mm), cover_mm: mm(cover) },
      limit: limitOf(LIMITS.sealClearance_mm, 'mm'),
      ...(estimated ? { rests: ['shoulders'] } : {}),
    },
  ];
}

/** A ring that bears on the inner ring beyond the maker's abutment limit, though not yet on the seal. */
const abutment: Rule = ({ met }) =>
  met.flatMap((meeting): Draft[] => {
    const inner = [meeting.a, meeting.b].find((piece) => piece.solid.role === 'inner-ring');
    if (!inner?.item.bearing || !meeting.isTouching || meeting.shouldBeFree) return [];
    const reach = 2 * Math.max(...meeting.gap.bands_mm.map(([, r1]) => r1));
    const limit = inner.item.bearing.abutmentMax_mm;
    const other = inner === meeting.a ? meeting.b : meeting.a;
    if (reach <= limit + 0.25 || limit >= inner.item.bearing.innerShoulder_mm) return [];
    return [
      {
        code: 'seal-rubbed',
        severity: 'warn',
        items: [other.item, inner.item],
        numbers: { reach_mm: mm(reach) },
        limit: { value: limit, unit: 'mm', source: inner.item.bearing.source },
        about: { rule: 'abutment' },
      },
    ];
  });

const armDrawn: Rule = ({ solved }) =>
  bendsOf(solved).flatMap(({ item, arm, bend_mm, force_N }): Draft[] => {
    const limit = armLimit(item.boss!);
    const severity = severityOf(Math.abs(bend_mm), limit.value);
    if (!severity) return [];
    return [
      {
        code: 'arm-drawn',
        severity,
        items: [item],
        numbers: { bend_mm: mm(Math.abs(bend_mm)), force_N: N(force_N) },
        limit: limitOf(limit, 'mm'),
        about: { way: bend_mm > 0 ? 'in' : 'out', material: limit === LIMITS.armDrawnCarbon_mm ? 'carbon' : 'metal' },
        ...(arm.isEstimated ? { rests: ['arm-stiffness'] } : {}),
      },
    ];
  });

function severityOf(value: number, limit: number): Severity | undefined {
  return value > limit ? 'stop' : value > limit * LIMITS.warnShare.value ? 'warn' : undefined;
}

const memberOffLine: Rule = ({ solved }) => {
  const { joint, spec } = solved;
  const anchor = frameOf(joint);
  return [...joint.bases].flatMap(([id, base]): Draft[] => {
    const shift = spec.shift_mm[base]!;
    const severity = severityOf(Math.abs(shift), LIMITS.offLine_mm.value);
    const bosses = joint.stacks.flatMap(({ items }) => items).filter((item) => item.member === id);
    if (!severity || id === anchor || bosses.length === 0) return [];
    return [
      {
        code: 'member-off-line',
        severity,
        items: bosses,
        numbers: { shift_mm: mm(Math.abs(shift)) },
        limit: limitOf(LIMITS.offLine_mm, 'mm'),
        about: { side: shift > 0 ? 'drive' : 'non-drive', member: id, ...(anchor === undefined ? {} : { anchor }) },
      },
    ];
  });
};

const sideLoad: Rule = ({ solved }) =>
  sideLoadsOf(solved).flatMap(({ item, load_N, limit_N, safety }): Draft[] => {
    const severity = severityOf(load_N, limit_N);
    if (!severity) return [];
    return [
      {
        code: 'bearing-side-loaded',
        severity,
        items: [item],
        numbers: { load_N: N(load_N), safety: share(safety) },
        limit: {
          value: limit_N,
          unit: 'N',
          source: 'bearing catalogue, 2018, p. 254: axial load at most 0.25 C0 for small and thin bearings',
        },
        ...(item.bearing!.estimated.includes('static-rating') ? { rests: ['static-rating'] } : {}),
      },
    ];
  });

const notHome: Rule = (evidence) =>
  bearingsOf(evidence).flatMap((item): Draft[] =>
    item.proud_mm <= LIMITS.home_mm.value
      ? []
      : [
          {
            code: 'bearing-not-home',
            severity: 'stop',
            items: [item],
            numbers: { proud_mm: mm(item.proud_mm) },
            limit: limitOf(LIMITS.home_mm, 'mm'),
          },
        ],
  );

const sidePlay: Rule = ({ columns, solved, met }) => {
  const loose = new Set(looseRings(solved, met).map((item) => item.stack.id));
  return solved.joint.stacks.flatMap((own): Draft[] => {
    const open = breaksOf(own, columns.get(own.stack.id)!);
    if (open.length === 0) return [];
    const ids = new Set(open.flatMap(({ links }) => links.flatMap(({ from, to }) => [from, to])));
    return [
      {
        code: 'side-play',
        severity: 'stop',
        items: own.items.filter((item) => ids.has(item.id)),
        numbers: { play_mm: mm(open.reduce((sum, { play_mm }) => sum + play_mm, 0)) },
        limit: limitOf(LIMITS.touching_mm, 'mm'),
        about: { held: own.items.some(({ bearing }) => bearing) && !loose.has(own.stack.id) ? 'balls' : 'nothing' },
      },
    ];
  });
};

const bottoms: Rule = ({ solved, met }) =>
  solved.joint.stacks.flatMap((own): Draft[] => {
    const pull = solved.pull_N.get(own.stack.id)!;
    const places = [...bottomsOf(own, solved, met)].sort(([, a], [, b]) => b - a);
    const lost = places.reduce((sum, [, force_N]) => sum + force_N, 0);
    const [worst] = places;
    if (!worst || pull === 0 || lost <= LIMITS.bottomShare.value * pull) return [];
    const [where, force_N] = worst;
    return [
      {
        code: 'bottoms-before-clamp',
        severity: 'stop',
        items: [own.axle, own.receiver],
        // The force is that of the place named; a second place has taken the rest.
        numbers: { lost_N: N(force_N), preload_N: N(pull) },
        limit: { value: LIMITS.bottomShare.value * pull, unit: 'N', source: LIMITS.bottomShare.source },
        about: { where, of: screwedIn(own) === own.axle ? 'axle' : 'receiver' },
      },
    ];
  });

/** What the solve may be off by where a length is just enough, mm. */
const ROUNDING_mm = 1e-6;

const threads: Rule = ({ solved }) =>
  solved.joint.stacks.flatMap((own): Draft[] => {
    const { axle, receiver, matches } = own.thread;
    const spec = own.stack.thread;
    const differs =
      spec !== undefined &&
      (spec.size_mm !== axle.size_mm || spec.pitch_mm !== axle.pitch_mm || spec.hand !== axle.hand);
    const items = [own.axle, own.receiver];
    if (!matches || differs) {
      return [
        {
          code: 'thread-mismatch',
          severity: 'stop',
          items,
          numbers: {
            axleSize_mm: mm(axle.size_mm),
            axlePitch_mm: mm(axle.pitch_mm),
            receiverSize_mm: mm((matches ? spec! : receiver).size_mm),
            receiverPitch_mm: mm((matches ? spec! : receiver).pitch_mm),
          },
          about: {
            axleHand: axle.hand,
            receiverHand: (matches ? spec! : receiver).hand,
            against: matches ? 'spec' : 'receiver',
          },
        },
      ];
    }
    const { engagement_mm, engagementNeeded_mm } = solved.tightening.get(own.stack.id)!;
    const short_mm = engagementNeeded_mm - engagement_mm;
    if (short_mm <= ROUNDING_mm) return [];
    const isStop = short_mm > (1 - LIMITS.leastThreadShare.value) * engagementNeeded_mm + ROUNDING_mm;
    return [
      {
        code: 'thread-too-short',
        severity: isStop ? 'stop' : 'warn',
        items,
        numbers: { engagement_mm: mm(Math.max(0, engagement_mm)) },
        limit: {
          value: engagementNeeded_mm,
          unit: 'mm',
          source: 'common practice, no source: 0.8 d in steel, 1 d in light alloy',
        },
        about: { starts: engagement_mm > axle.pitch_mm ? 'yes' : 'no' },
      },
    ];
  });

const willNotPass: Rule = ({ solved, passages }) =>
  solved.joint.stacks.flatMap((own): Draft[] => {
    const passage = passages.get(own.stack.id)!;
    if (passage.passes) return [];
    const worst = [...passage.blocks].sort((a, b) => b.axle_mm - b.bore_mm - (a.axle_mm - a.bore_mm))[0];
    const items = [own.axle, ...own.items.filter((item) => passage.blocks.some((block) => block.with === item.id))];
    return [
      {
        code: 'axle-will-not-pass',
        severity: 'stop',
        items,
        numbers: worst ? { axle_mm: mm(worst.axle_mm), bore_mm: mm(worst.bore_mm) } : {},
        about: { side: passage.from, reason: passage.reason ?? 'bore-too-small' },
      },
    ];
  });

const tooLong: Rule = ({ squeeze: { push_N, between, by } }) =>
  by === 'hand' || !between
    ? []
    : [
        {
          code: 'row-too-long',
          severity: by === 'nothing' ? 'stop' : 'warn',
          items: between,
          numbers: { push_N: N(push_N) },
          limit: limitOf(by === 'nothing' ? LIMITS.leverPush_N : LIMITS.handPush_N, 'N'),
          about: { by },
        },
      ];

const boreMismatch: Rule = ({ solved }) =>
  solved.joint.stacks.flatMap((own) => {
    const sign = own.stack.from === 'non-drive' ? 1 : -1;
    return own.items.flatMap((item): Draft[] => {
      const found: Draft[] = [];
      if (item.bearing && item.seat) {
        const difference = item.seat.diameter_mm - item.bearing.outside_mm;
        if (Math.abs(difference) > LIMITS.seatFit_mm.value) {
          found.push({
            code: 'bore-mismatch',
            severity: 'stop',
            items: [item],
            numbers: { seat_mm: mm(item.seat.diameter_mm), outside_mm: mm(item.bearing.outside_mm) },
            limit: limitOf(LIMITS.seatFit_mm, 'mm'),
            about: { what: 'seat' },
          });
        }
      }
      if ((item.role !== 'bearing' && item.role !== 'spacer') || item.sealedToward !== undefined || item.clips)
        return found;
      const [low, high] = zRange(item.local.map(({ solid }) => solid.polygon));
      const [near, far] = [low, high].map((z) => sign * (item.z0 + z - own.axle.z0)).sort((a, b) => a - b);
      const shaft = thickest_mm(own.stack.axle.part, near!, far!);
      const bore = 2 * boreRadius_mm(solved.joint.pieces, item);
      const limit = item.role === 'bearing' ? LIMITS.bearingFit_mm : LIMITS.spacerFit_mm;
      if (shaft > 0 && bore - shaft > limit.value) {
        found.push({
          code: 'bore-mismatch',
          severity: item.role === 'bearing' ? 'stop' : 'warn',
          items: [item, own.axle],
          numbers: { bore_mm: mm(bore), axle_mm: mm(shaft) },
          limit: limitOf(limit, 'mm'),
          about: { what: 'axle' },
        });
      }
      return found;
    });
  });

/** A seat in the row that no bearing was pressed into. */
const empty: Rule = ({ solved }) =>
  solved.joint.stacks.flatMap((own) =>
    emptySeats(own).map(
      ({ boss, side, diameter_mm }): Draft => ({
        code: 'part-missing',
        severity: 'warn',
        items: [boss],
        numbers: { seat_mm: mm(diameter_mm) },
        stack: own.stack.id,
        about: { cause: 'seat', side },
      }),
    ),
  );

const fits: Rule = ({ solved }) => solved.joint.stacks.flatMap((own): Draft[] => fitFaults(solved.joint, own));

const seals: Rule = ({ solved, met }) => solved.joint.stacks.flatMap((own) => sealFaults(own, met));

const springs: Rule = ({ solved: { joint, spec } }) => joint.stacks.flatMap((own) => springFaults(own, spec.shift_mm));

const circlips: Rule = ({ solved, met }) => circlipFaults(solved, met);

const tips: Rule = ({ solved }) => solved.joint.stacks.flatMap(tipFaults);

/** A run of spacers that is shorter than its place, with what it comes from where the parts tell. */
const missing: Rule = ({ solved }) =>
  solved.joint.stacks.flatMap((own) => {
    const runs = [...own.slack, ...emptyRuns(own)];
    return runs.flatMap(({ items, before, after, free_mm }): Draft[] => {
      // A gap that a bearing would fill is told as its empty seat.
      if (free_mm <= LIMITS.missingSpacer_mm.value || isOverEmptySeat(own, { items, before, after, free_mm }))
        return [];
      const cause = gapCause(solved.joint, own, { items, before, after, free_mm });
      return [
        {
          code: 'part-missing',
          severity: 'warn',
          items: [...(before ? [before] : []), ...items, ...(after ? [after] : [])],
          numbers: { free_mm: mm(free_mm) },
          limit: limitOf(LIMITS.missingSpacer_mm, 'mm'),
          stack: own.stack.id,
          ...(cause ? { about: { ...cause } } : {}),
        },
      ];
    });
  });

/** Neighbours in the column with nothing loose between them, and the gap the model leaves there. */
function emptyRuns(own: JointStack): { items: JointItem[]; before: JointItem; after: JointItem; free_mm: number }[] {
  const column = own.items.filter((item) => item.inColumn);
  return column.slice(1).flatMap((after, k) => {
    const before = column[k]!;
    const bothFixed = [before, after].every((item) => item.role === 'bearing' || item.role === 'boss');
    if (!bothFixed) return [];
    const end = faceOf(before, 'drive');
    const start = faceOf(after, 'non-drive');
    return [{ items: [], before, after, free_mm: start - end }];
  });
}

function faceOf(item: JointItem, side: 'drive' | 'non-drive'): number {
  const solids = item.local.filter(({ solid }) => solid.role === 'inner-ring' || solid.role === 'body');
  const [low, high] = zRange(solids.map(({ solid }) => solid.polygon));
  return item.z0 + (side === 'drive' ? high : low);
}

const crushed: Rule = ({ met, solved }) =>
  met.flatMap((meeting): Draft[] => {
    if (meeting.law === undefined || meeting.shouldBeFree || isSprung(meeting)) return [];
    const pressure = solved.high.contact_N[meeting.law]! / pressedArea_mm2(meeting.gap.bands_mm);
    const rows = [meeting.a, meeting.b].map((piece) => material(piece.solid.material));
    const softer = rows[0]!.bearingPressure_MPa <= rows[1]!.bearingPressure_MPa ? rows[0]! : rows[1]!;
    const ratio = pressure / softer.bearingPressure_MPa;
    if (ratio <= LIMITS.pressureWarnShare.value) return [];
    return [
      {
        code: 'face-crushed',
        severity: ratio > 1 && !softer.isEstimate ? 'stop' : 'warn',
        items: [meeting.a.item, meeting.b.item],
        numbers: { pressure_MPa: MPa(pressure) },
        limit: { value: softer.bearingPressure_MPa, unit: 'MPa', source: softer.source },
        about: { material: softer.name },
        ...(softer.isEstimate ? { rests: ['material'] } : {}),
      },
    ];
  });

const axleStress: Rule = ({ solved }) =>
  solved.joint.stacks.flatMap((own): Draft[] => {
    const { axleStress_MPa, axleYield_MPa } = solved.tightening.get(own.stack.id)!;
    const limit = LIMITS.axleShare.value * axleYield_MPa;
    if (axleStress_MPa <= limit) return [];
    return [
      {
        code: 'axle-overstressed',
        severity: axleStress_MPa > axleYield_MPa ? 'stop' : 'warn',
        items: [own.axle],
        numbers: { stress_MPa: MPa(axleStress_MPa), yield_MPa: MPa(axleYield_MPa) },
        limit: { value: limit, unit: 'MPa', source: LIMITS.axleShare.source },
      },
    ];
  });

const clampLow: Rule = ({ solved, clamp_N }) =>
  solved.joint.stacks.flatMap((own): Draft[] => {
    const clamp = clamp_N.get(own.stack.id)!;
    const spec = solved.tightening.get(own.stack.id)!.preload_N.spec;
    const limit = LIMITS.leastClampShare.value * spec;
    if (clamp >= limit || clamp < LIMITS.leastRingShare.value * spec) return [];
    return [
      {
        code: 'clamp-too-low',
        severity: 'warn',
        items: [own.axle],
        numbers: { clamp_N: N(clamp), preload_N: N(spec), share: share(clamp / spec) },
        limit: { value: limit, unit: 'N', source: LIMITS.leastClampShare.source },
      },
    ];
  });

const edges: Rule = ({ met, solved }) =>
  met.flatMap((meeting): Draft[] => {
    if (meeting.shouldBeFree || meeting.force_N === 0 || isSprung(meeting) || !isEdge(meeting)) return [];
    const pull = solved.pull_N.get(meeting.a.item.stack.id)!;
    if (meeting.force_N < LIMITS.leastRingShare.value * pull) return [];
    return [
      {
        code: 'edge-contact',
        severity: 'warn',
        items: [meeting.a.item, meeting.b.item],
        numbers: { radius_mm: mm(meeting.gap.bands_mm[0]?.[0] ?? 0), force_N: N(meeting.force_N) },
      },
    ];
  });

const againstHabit: Rule = ({ solved }) =>
  solved.joint.stacks.flatMap((own): Draft[] => {
    const { turn, stand, turned } = solved.tightening.get(own.stack.id)!;
    if (turn === 'clockwise') return [];
    return [
      {
        code: 'turns-against-habit',
        severity: 'note',
        items: [turned === 'receiver' ? own.receiver : own.axle],
        numbers: {},
        about: { turn, side: stand, turned },
      },
    ];
  });

function bearingsOf({ solved }: Evidence): JointItem[] {
  return solved.joint.stacks.flatMap(({ items }) => items.filter((item) => item.role === 'bearing'));
}

/** Every rule, in the order of the list, with the codes by which it may stop; the others never do. */
const RULES: readonly { readonly rule: Rule; readonly stops: readonly FindingCode[] }[] = [
  { rule: willNotPass, stops: ['axle-will-not-pass'] },
  { rule: tooLong, stops: ['row-too-long'] },
  { rule: threads, stops: ['thread-mismatch', 'thread-too-short'] },
  { rule: rubs, stops: ['outer-ring-touched', 'arm-rubbed', 'seal-rubbed'] },
  { rule: abutment, stops: [] },
  { rule: bottoms, stops: ['bottoms-before-clamp'] },
  { rule: innerRingLoose, stops: ['inner-ring-loose'] },
  { rule: armDrawn, stops: ['arm-drawn'] },
  { rule: memberOffLine, stops: ['member-off-line'] },
  { rule: sideLoad, stops: ['bearing-side-loaded'] },
  { rule: notHome, stops: ['bearing-not-home'] },
  { rule: sidePlay, stops: ['side-play'] },
  { rule: boreMismatch, stops: ['bore-mismatch'] },
  { rule: empty, stops: [] },
  { rule: fits, stops: ['fit-too-tight', 'fit-too-loose'] },
  { rule: seals, stops: [] },
  { rule: springs, stops: [] },
  { rule: circlips, stops: [] },
  { rule: tips, stops: [] },
  { rule: missing, stops: [] },
  { rule: crushed, stops: ['face-crushed'] },
  { rule: axleStress, stops: ['axle-overstressed'] },
  { rule: clampLow, stops: [] },
  { rule: edges, stops: [] },
  { rule: againstHabit, stops: [] },
];

/** Codes of the rules that stop, for a check that none is missing. */
export const STOP_CODES: readonly FindingCode[] = RULES.flatMap(({ stops }) => stops);

const STOPPERS = RULES.filter(({ stops }) => stops.length > 0);

/**
 * Whether any rule of the fit check stops, all that is asked at a corner of the estimates: the rules that stop by the
 * `likely` codes are looked at first, and the first stop ends the search.
 */
export function anyStop(evidence: Evidence, likely: readonly FindingCode[]): boolean {
  const isLikely = ({ stops }: (typeof RULES)[number]): boolean => stops.some((code) => likely.includes(code));
  return [true, false].some((isFirst) =>
    STOPPERS.some((one) => isLikely(one) === isFirst && one.rule(evidence).some(({ severity }) => severity === 'stop')),
  );
}
