/**
 * The ball bearing: named by its standard designation or by its boundary dimensions, with what its table or an estimate
 * adds to them.
 *
 * Where a spacer's shoulders are not known they are estimated by the stated rule of `standards/bearings.ts`, and the
 * resolved bearing says so.
 */
import * as z from 'zod';
import { tubePolygon, withoutRepeats } from '../profile/polygon.ts';
import {
  boreTolerance,
  CLEARANCE_GROUPS,
  estimateAxialPlay_mm,
  estimateAxialStiffness_N_per_mm,
  estimateShoulders,
  estimateStaticRating_N,
  findBearing,
  nearestClearance,
  outsideTolerance,
  ringWidthTolerance,
  suggestBearing,
  type Clearance,
  type ClearanceGroup,
} from '../standards/bearings.ts';
import { impossible, noMore, within, type Contradiction } from './contradictions.ts';
import { ASSUMED, type PartEntry } from './entry.ts';
import { common, size_mm } from './fields.ts';
import { across, along, exact, size, type Band } from './sizes.ts';
import type { Polygon } from '../profile/solid.ts';

/** A bearing in the model file. */
export const bearingForm = z
  .strictObject({
    kind: z.literal('bearing'),
    ...common,
    designation: z.string().min(2).max(24).optional().describe('standard designation, looked up in the table'),
    bore_mm: size_mm.optional(),
    outside_mm: size_mm.optional(),
    width_mm: size_mm.optional(),
    ball_rows: z
      .union([z.literal(1), z.literal(2)])
      .optional()
      .describe('rows of balls; one where neither this nor a designation says two'),
    clearance: z
      .enum(CLEARANCE_GROUPS)
      .optional()
      .describe('group of radial internal clearance by ISO 5753; a bearing without a mark is CN'),
    chamfer_mm: z.number().min(0).max(3).optional(),
    inner_shoulder_mm: size_mm.optional().describe('outside diameter of the inner ring’s face'),
    outer_shoulder_mm: size_mm.optional().describe('inside diameter of the outer ring’s face'),
    axial_play_mm: z.number().min(0).max(1).optional().describe('whole play of the inner ring along the axis'),
    axial_stiffness_N_per_mm: z.number().min(100).max(1e7).optional(),
  })
  .describe('named by designation, or by bore, outside and width alone');

type Bearing = z.output<typeof bearingForm>;

/**
 * Two rings and the balls between them need at least this much between bore and outside, mm: a bound against typing
 * mistakes.
 */
const LEAST_SECTION_mm = 1;

/** What of a bearing is estimated where neither file nor table says it. */
export type BearingEstimate = 'shoulders' | 'axial-play' | 'axial-stiffness' | 'static-rating';

/** A bearing with every size known; mm, N/mm, N. `estimated` lists what no source gives. */
export interface ResolvedBearing {
  readonly designation?: string;
  readonly bore_mm: number;
  readonly outside_mm: number;
  readonly width_mm: number;
  readonly ballRows: 1 | 2;
  readonly chamfer_mm: number;
  readonly isChamferEstimated: boolean;
  readonly innerShoulder_mm: number;
  readonly outerShoulder_mm: number;
  /** Largest outside diameter of a ring against the inner ring, by the maker's table or the estimate. */
  readonly abutmentMax_mm: number;
  /** Group of radial internal clearance, and its limits before the bearing is mounted. */
  readonly group: ClearanceGroup;
  readonly clearance_mm: Clearance;
  /** Whole axial play of the inner ring against the outer ring. */
  readonly axialPlay_mm: number;
  readonly axialStiffness_N_per_mm: number;
  readonly staticRating_N: number;
  readonly source: string;
  readonly estimated: readonly BearingEstimate[];
  /** How far an estimated shoulder diameter may be off; 0 when known. */
  readonly shoulderSpread_mm: number;
}

/**
 * Spread of ring faces between makers and editions, mm: what a table row taken over from a like bearing may be off by
 */
const MAKER_SPREAD_mm = 0.6;

/** Boundary dimensions of a bearing part: the file's own first, then the table's. */
function boundary(part: Bearing): { readonly bore_mm: number; readonly outside_mm: number; readonly width_mm: number } {
  const row = part.designation === undefined ? undefined : findBearing(part.designation);
  const bore_mm = part.bore_mm ?? row?.bore_mm;
  const outside_mm = part.outside_mm ?? row?.outside_mm;
  const width_mm = part.width_mm ?? row?.width_mm;
  if (bore_mm === undefined || outside_mm === undefined || width_mm === undefined) {
    throw new Error(`resolve: bearing ${part.name}: no size known; the model was not checked`);
  }
  return { bore_mm, outside_mm, width_mm };
}

/** Width of a bearing by its file or its table, before either was checked; undefined for any other part. */
export function bearingWidth_mm(part: { readonly kind: string } | undefined): number | undefined {
  const { kind, width_mm, designation } = (part ?? {}) as Partial<Bearing>;
  if (kind !== 'bearing') return undefined;
  return width_mm ?? (designation === undefined ? undefined : findBearing(designation)?.width_mm);
}

/**
 * Sizes of a bearing part, mm, N and N/mm: the file's own first, then the table's, then the estimate, which `estimated`
 * lists. Throws an Error where neither file nor table gives a size, which the check of the model tells before.
 */
export function resolveBearing(part: Bearing): ResolvedBearing {
  let known = KNOWN.get(part);
  if (!known) KNOWN.set(part, (known = resolvedNow(part)));
  return known;
}

/** A model that a mistake changes keeps its other parts as they are, and is resolved a hundred times. */
const KNOWN = new WeakMap<Bearing, ResolvedBearing>();

function resolvedNow(part: Bearing): ResolvedBearing {
  const row = part.designation === undefined ? undefined : findBearing(part.designation);
  const { bore_mm, outside_mm, width_mm } = boundary(part);
  const guess = estimateShoulders({ bore_mm, outside_mm });
  const innerKnown = part.inner_shoulder_mm ?? row?.innerShoulder_mm;
  const outerKnown = part.outer_shoulder_mm ?? row?.outerShoulder_mm;
  const estimated: BearingEstimate[] = [];
  const isGuessed = innerKnown === undefined || outerKnown === undefined;
  const isBorrowed =
    (part.inner_shoulder_mm === undefined && row?.estimated.includes('innerShoulder_mm') === true) ||
    (part.outer_shoulder_mm === undefined && row?.estimated.includes('outerShoulder_mm') === true);
  if (isGuessed || isBorrowed) estimated.push('shoulders');
  if (part.axial_play_mm === undefined) estimated.push('axial-play');
  if (part.axial_stiffness_N_per_mm === undefined) estimated.push('axial-stiffness');
  if (!row) estimated.push('static-rating');
  const innerShoulder_mm = innerKnown ?? guess.innerShoulder_mm;
  const group = part.clearance ?? 'CN';
  return {
    ...(row ? { designation: row.designation } : {}),
    bore_mm,
    outside_mm,
    width_mm,
    ballRows: part.ball_rows ?? row?.ballRows ?? 1,
    chamfer_mm: part.chamfer_mm ?? row?.chamfer_mm ?? Math.min(0.3, width_mm / 20),
    isChamferEstimated: (part.chamfer_mm ?? row?.chamfer_mm) === undefined,
    innerShoulder_mm,
    outerShoulder_mm: outerKnown ?? guess.outerShoulder_mm,
    abutmentMax_mm:
      part.inner_shoulder_mm ?? row?.innerAbutmentMax_mm ?? (isGuessed ? guess.innerAbutmentMax_mm : innerShoulder_mm),
    group,
    clearance_mm: nearestClearance(bore_mm, group),
    axialPlay_mm: part.axial_play_mm ?? estimateAxialPlay_mm({ bore_mm, outside_mm }, group),
    axialStiffness_N_per_mm: part.axial_stiffness_N_per_mm ?? stiffnessOf(bore_mm, outside_mm, row?.staticRating_N),
    staticRating_N: row?.staticRating_N ?? estimateStaticRating_N({ bore_mm, outside_mm }),
    source: row?.source ?? 'sizes from the model file',
    estimated,
    shoulderSpread_mm: isGuessed ? guess.accuracy_mm : isBorrowed ? MAKER_SPREAD_mm : 0,
  };
}

/** Estimates already made: the point-contact solve behind one costs more than the rest of a joint. */
const STIFFNESS = new Map<string, number>();

function stiffnessOf(bore_mm: number, outside_mm: number, staticRating_N: number | undefined): number {
  const key = `${bore_mm} ${outside_mm} ${staticRating_N ?? ''}`;
  const known = STIFFNESS.get(key);
  if (known !== undefined) return known;
  const stiffness = estimateAxialStiffness_N_per_mm({
    bore_mm,
    outside_mm,
    ...(staticRating_N === undefined ? {} : { staticRating_N }),
  });
  STIFFNESS.set(key, stiffness);
  return stiffness;
}

/** A boundary dimension with the tolerance of ISO 492 Normal, where that reaches. */
function band(part: Bearing, pick: 'bore_mm' | 'outside_mm' | 'width_mm'): Band {
  const { bore_mm, outside_mm, [pick]: nominal } = boundary(part);
  if (!(bore_mm > 2.5 && bore_mm <= 50 && outside_mm <= 80)) return exact(nominal);
  const { lower_mm, upper_mm } =
    pick === 'bore_mm'
      ? boreTolerance(bore_mm)
      : pick === 'outside_mm'
        ? outsideTolerance(outside_mm)
        : ringWidthTolerance(bore_mm);
  return [nominal, nominal + lower_mm, nominal + upper_mm];
}

/** The bearing. */
export const bearing: PartEntry<Bearing> = {
  noun: { one: 'bearing', many: 'bearings' },
  hint: 'inner and outer ring',
  sample: { kind: 'bearing', name: 'Bearing', bore_mm: 12, outside_mm: 26, width_mm: 9 },
  family: 'bearing',
  stands: ['seat'],
  sizes: {
    outside_mm: size('outside_mm', {
      get: (part) => boundary(part).outside_mm,
      reads: (part) => band(part, 'outside_mm'),
      place: (part, { to_mm }) => across('outside-jaws', boundary(part).outside_mm, to_mm / 2),
    }),
    bore_mm: size('bore_mm', {
      get: (part) => boundary(part).bore_mm,
      reads: (part) => band(part, 'bore_mm'),
      place: (part) => across('inside-jaws', boundary(part).bore_mm, 0),
    }),
    length_mm: size('length_mm', {
      word: 'width',
      short: 'Width',
      code: 'width',
      how: 'Close the outside jaws on both faces of the inner ring',
      compared: ['narrower', 'wider'],
      get: (part) => boundary(part).width_mm,
      reads: (part) => band(part, 'width_mm'),
      place: (part, { to_mm }) => {
        const { bore_mm, outside_mm } = boundary(part);
        return along('outside-jaws', (outside_mm + bore_mm) / 4, 0, to_mm);
      },
    }),
  },
  told: ['bore_mm', 'outside_mm', 'length_mm'],
  fitting_mm: (part) => boundary(part).bore_mm,
  profile: (part, { edge_mm, sealRecess_mm } = ASSUMED) => {
    const known = resolveBearing(part);
    const [bore, outside] = [known.bore_mm / 2, known.outside_mm / 2];
    const [inner, outer] = [known.innerShoulder_mm / 2, known.outerShoulder_mm / 2];
    const width = known.width_mm;
    // Each ring is chamfered at its fitting edge and square at its shoulder, where the face zones are measured.
    const edges = known.isChamferEstimated ? known.chamfer_mm * (edge_mm / ASSUMED.edge_mm) : known.chamfer_mm;
    const chamfer = Math.min(edges, (inner - bore) / 3, (outside - outer) / 3, width / 6);
    const innerRing: Polygon = [
      [bore, chamfer],
      [bore + chamfer, 0],
      [inner, 0],
      [inner, width],
      [bore + chamfer, width],
      [bore, width - chamfer],
    ];
    const outerRing: Polygon = [
      [outer, 0],
      [outside - chamfer, 0],
      [outside, chamfer],
      [outside, width - chamfer],
      [outside - chamfer, width],
      [outer, width],
    ];
    const seal = Math.min(0.7, width / 8);
    const sealAt = (z_mm: number): Polygon => tubePolygon(inner, outer, z_mm, z_mm + seal);
    const gap = outer - inner;
    const rows = known.ballRows;
    const ball = Math.min(gap * 1.25, (width / rows) * 0.62);
    const circle = inner + outer;
    return {
      solids: [
        { role: 'inner-ring', material: 'bearing-steel', polygon: withoutRepeats(innerRing) },
        { role: 'outer-ring', material: 'bearing-steel', polygon: withoutRepeats(outerRing) },
        { role: 'seal', material: 'nitrile-rubber', polygon: sealAt(sealRecess_mm) },
        { role: 'seal', material: 'nitrile-rubber', polygon: sealAt(width - sealRecess_mm - seal) },
      ],
      balls: {
        count: Math.max(7, Math.floor((Math.PI * circle) / (ball * 1.6))),
        diameter_mm: ball,
        circle_mm: circle,
        z_mm: width / 2,
        ...(rows === 2 ? { apart_mm: 1.2 * ball } : {}),
      },
      from_mm: 0,
      to_mm: width,
      hasTwoWays: false,
    };
  },
  check: (part) => {
    const row = part.designation === undefined ? undefined : findBearing(part.designation);
    if (part.designation !== undefined && !row) {
      return [
        {
          code: 'bearing-unknown',
          key: 'designation',
          met: part.designation,
          allowed: 'a designation of the bearing table, or bore_mm, outside_mm and width_mm alone',
          suggestion: suggestBearing(part.designation),
        },
      ];
    }
    const found = (['bore_mm', 'outside_mm', 'width_mm'] as const).flatMap((key): Contradiction[] => {
      const met = part[key];
      if (met === undefined)
        return row ? [] : [{ code: 'missing', key, met, allowed: 'a number in mm, or a designation' }];
      return row && Math.abs(met - row[key]) > 1e-6
        ? [{ code: 'bearing-contradicts', key, met, allowed: `${row[key]} (as ${row.designation} in the table)` }]
        : [];
    });
    if (row && part.ball_rows !== undefined && part.ball_rows !== row.ballRows) {
      const allowed = `${row.ballRows} (as ${row.designation} in the table)`;
      found.push({ code: 'bearing-contradicts', key: 'ball_rows', met: part.ball_rows, allowed });
    }
    const bore = part.bore_mm ?? row?.bore_mm;
    const outside = part.outside_mm ?? row?.outside_mm;
    if (bore === undefined || outside === undefined) return found;
    const [inner, outer] = [part.inner_shoulder_mm, part.outer_shoulder_mm];
    found.push(...within([`bore_mm + ${LEAST_SECTION_mm}`, bore + LEAST_SECTION_mm], ['outside_mm', outside]));
    if (inner !== undefined) found.push(...within(['bore_mm', bore], ['inner_shoulder_mm', inner]));
    if (outer !== undefined) found.push(...noMore(['outer_shoulder_mm', outer], outside, 'outside_mm'));
    if (found.length > 0) return found;
    // A shoulder may be given beside one from the table or the estimate: the two must still leave room for a seal.
    const { innerShoulder_mm, outerShoulder_mm } = resolveBearing(part);
    if (innerShoulder_mm < outerShoulder_mm) return [];
    return outer === undefined
      ? [impossible(['inner_shoulder_mm', innerShoulder_mm], `less than outer_shoulder_mm (${outerShoulder_mm})`)]
      : within(['inner_shoulder_mm', innerShoulder_mm], ['outer_shoulder_mm', outerShoulder_mm]);
  },
};
