/**
 * ISO metric threads: diameters and stress area from size and pitch, the pitches linkage parts use, the strength of
 * property classes, and how much thread must engage.
 *
 * Method: the basic profile of ISO 68-1 (a 60° triangle of height H = P·√3/2, cut H/8 at the crest), so every diameter
 * is d minus a multiple of H; stress area of ISO 898-1, (π/4)·((d2 + d3)/2)². Pitches: ISO 262 (FSW, `iso262def.csv`),
 * with the 1 mm pitches and M15, M17 of ISO 261 (from memory), which linkages use and ISO 262 leaves out. All lengths
 * are mm. Convention: 'minor diameter' D1 belongs to the inner thread (d − 1.0825 P), 'root diameter' d3 to the outer
 * one (d − 1.2269 P); tables in circulation confuse the two.
 */
import { refuse, requireAbove } from './guard.ts';
import type { MaterialFamily } from './materials.ts';

/** An ISO metric thread with everything that follows from its size and pitch. */
export interface MetricThread {
  /** 'M12' for the coarse pitch, 'M12×1' for any other. */
  readonly designation: string;
  /** Nominal size d, mm. */
  readonly size_mm: number;
  /** Advance a turn P, mm. */
  readonly pitch_mm: number;
  /** Height H of the sharp triangle, mm. */
  readonly triangleHeight_mm: number;
  /** Pitch diameter d2 = D2, mm. */
  readonly pitchDiameter_mm: number;
  /** Minor diameter D1 of the inner thread, mm. */
  readonly minorDiameter_mm: number;
  /** Root diameter d3 of the outer thread, mm. */
  readonly rootDiameter_mm: number;
  /** Diameter (d2 + d3)/2 of the stress section, mm. */
  readonly stressDiameter_mm: number;
  /** Stress area A_s, mm². */
  readonly stressArea_mm2: number;
  /** Lead angle on the pitch diameter, deg. */
  readonly leadAngle_deg: number;
}

/** One pitch the table knows. */
export interface ThreadRow {
  readonly size_mm: number;
  readonly pitch_mm: number;
  readonly isCoarse: boolean;
  readonly source: string;
}

const ISO_262 = 'ISO 262, as FSW lists it';
const ISO_262_SMALL = 'ISO 262 coarse series, as OPT and YAM list it';
const ISO_261 = 'ISO 261, from memory (not in ISO 262)';

/** Pitches of ISO 261 / ISO 262 that linkage hardware uses, by size, the coarse one first. */
export const THREADS: readonly ThreadRow[] = [
  { size_mm: 5, pitch_mm: 0.8, isCoarse: true, source: ISO_262_SMALL },
  { size_mm: 6, pitch_mm: 1, isCoarse: true, source: ISO_262_SMALL },
  { size_mm: 7, pitch_mm: 1, isCoarse: true, source: ISO_262_SMALL },
  { size_mm: 8, pitch_mm: 1.25, isCoarse: true, source: ISO_262 },
  { size_mm: 8, pitch_mm: 1, isCoarse: false, source: ISO_262 },
  { size_mm: 10, pitch_mm: 1.5, isCoarse: true, source: ISO_262 },
  { size_mm: 10, pitch_mm: 1.25, isCoarse: false, source: ISO_262 },
  { size_mm: 10, pitch_mm: 1, isCoarse: false, source: ISO_262 },
  { size_mm: 12, pitch_mm: 1.75, isCoarse: true, source: ISO_262 },
  { size_mm: 12, pitch_mm: 1.5, isCoarse: false, source: ISO_262 },
  { size_mm: 12, pitch_mm: 1.25, isCoarse: false, source: ISO_262 },
  { size_mm: 12, pitch_mm: 1, isCoarse: false, source: ISO_261 },
  { size_mm: 14, pitch_mm: 2, isCoarse: true, source: ISO_262 },
  { size_mm: 14, pitch_mm: 1.5, isCoarse: false, source: ISO_262 },
  { size_mm: 14, pitch_mm: 1, isCoarse: false, source: ISO_261 },
  { size_mm: 15, pitch_mm: 1.5, isCoarse: false, source: ISO_261 },
  { size_mm: 15, pitch_mm: 1, isCoarse: false, source: ISO_261 },
  { size_mm: 16, pitch_mm: 2, isCoarse: true, source: ISO_262 },
  { size_mm: 16, pitch_mm: 1.5, isCoarse: false, source: ISO_262 },
  { size_mm: 16, pitch_mm: 1, isCoarse: false, source: ISO_261 },
  { size_mm: 17, pitch_mm: 1, isCoarse: false, source: ISO_261 },
  { size_mm: 18, pitch_mm: 2.5, isCoarse: true, source: ISO_262 },
  { size_mm: 18, pitch_mm: 2, isCoarse: false, source: ISO_262 },
  { size_mm: 18, pitch_mm: 1.5, isCoarse: false, source: ISO_262 },
  { size_mm: 20, pitch_mm: 2.5, isCoarse: true, source: ISO_262 },
  { size_mm: 20, pitch_mm: 2, isCoarse: false, source: ISO_262 },
  { size_mm: 20, pitch_mm: 1.5, isCoarse: false, source: ISO_262 },
];

/** Every pitch of the metric series up to 40 mm, mm. Source: ISO 261, from memory. */
const PITCHES_mm = [0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4] as const;
/** Every size of the series from 3 to 40 mm. Source: ISO 261, from memory. */
const SIZES_mm = [
  ...[3, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10, 11, 12, 14, 15, 16, 17, 18, 20, 22, 24],
  ...[25, 26, 27, 28, 30, 32, 33, 35, 36, 38, 39, 40],
] as const;

function nearest(value: number, known: readonly number[]): number {
  return known.reduce((a, b) => (Math.abs(b - value) < Math.abs(a - value) ? b : a));
}

/**
 * Nearest size and pitch of the series, mm: those of the thread itself where it is of the series. A pitch above the
 * coarse one of its size is none of it.
 */
export function nearestThread({ size_mm, pitch_mm }: { size_mm: number; pitch_mm: number }): {
  readonly size_mm: number;
  readonly pitch_mm: number;
} {
  const size = nearest(size_mm, SIZES_mm);
  const coarse = coarsePitch_mm(size) ?? Infinity;
  return {
    size_mm: size,
    pitch_mm: nearest(
      pitch_mm,
      PITCHES_mm.filter((pitch) => pitch <= coarse),
    ),
  };
}

/**
 * Coarse pitch of a size, mm; undefined where the table holds none (M15, M17 have no coarse thread). Source: ISO 262.
 */
export function coarsePitch_mm(size_mm: number): number | undefined {
  return THREADS.find((row) => row.isCoarse && row.size_mm === size_mm)?.pitch_mm;
}

/**
 * The thread of a size and pitch, both mm; source ISO 68-1, ISO 724, ISO 898-1. Throws a RangeError for a pitch that
 * leaves no core.
 */
export function metricThread({ size_mm, pitch_mm }: { size_mm: number; pitch_mm: number }): MetricThread {
  requireAbove('threads', 'size_mm', size_mm, 0);
  requireAbove('threads', 'pitch_mm', pitch_mm, 0);
  const H_mm = (pitch_mm * Math.sqrt(3)) / 2;
  const d2_mm = size_mm - (3 / 4) * H_mm;
  const d3_mm = size_mm - (17 / 12) * H_mm;
  if (d3_mm <= 0) {
    refuse('threads', 'pitch_mm', pitch_mm, `below ${(size_mm / 1.226869).toFixed(3)} for a size of ${size_mm} mm`);
  }
  const stressDiameter_mm = (d2_mm + d3_mm) / 2;
  return {
    designation: coarsePitch_mm(size_mm) === pitch_mm ? `M${size_mm}` : `M${size_mm}×${pitch_mm}`,
    size_mm,
    pitch_mm,
    triangleHeight_mm: H_mm,
    pitchDiameter_mm: d2_mm,
    minorDiameter_mm: size_mm - (5 / 4) * H_mm,
    rootDiameter_mm: d3_mm,
    stressDiameter_mm,
    stressArea_mm2: (Math.PI / 4) * stressDiameter_mm ** 2,
    leadAngle_deg: (Math.atan(pitch_mm / (Math.PI * d2_mm)) * 180) / Math.PI,
  };
}

/**
 * The thread a designation names ('M12', 'm12 x 1', 'M12×1'); a bare size means the coarse pitch (ISO 965-1).
 * Undefined when the words are no metric designation or the table lacks that pitch.
 */
export function findThread(designation: string): MetricThread | undefined {
  const match = /^m(\d+(?:[.,]\d+)?)(?:[x×*](\d+(?:[.,]\d+)?))?$/i.exec(designation.replace(/\s+/g, ''));
  if (!match?.[1]) return undefined;
  const decimal = (digits: string) => Number(digits.replace(',', '.'));
  const size_mm = decimal(match[1]);
  const pitch_mm = match[2] === undefined ? coarsePitch_mm(size_mm) : decimal(match[2]);
  const row = THREADS.find((entry) => entry.size_mm === size_mm && entry.pitch_mm === pitch_mm);
  return row && metricThread(row);
}

/** Strength classes of ISO 898-1 (steel) and ISO 3506-1 (stainless) that linkage bolts come in. */
export const PROPERTY_CLASS_KEYS = ['4.8', '5.8', '8.8', '10.9', '12.9', 'A2-50', 'A2-70', 'A2-80'] as const;
/** One of `PROPERTY_CLASS_KEYS`. */
export type PropertyClassKey = (typeof PROPERTY_CLASS_KEYS)[number];

/** Strength of a bolt material, all MPa. */
export interface PropertyClass {
  /** Proof stress S_p: the load on A_s that leaves no lasting stretch. */
  readonly proof_MPa: number;
  /** 0.2 % yield. */
  readonly yield_MPa: number;
  readonly tensile_MPa: number;
  readonly source: string;
}

const PROOF = 'proof stress back-calculated from EN ISO 898-1 proof loads (OPT); strengths TMF';
const STAINLESS = 'ISO 3506-1 as TMF and an unsourced sheet list it; proof taken as the yield';

/**
 * Strength of a property class at a thread size, MPa; 8.8 is stronger above 16 mm. Source: EN ISO 898-1 via OPT, TMF.
 */
export function propertyClass(key: PropertyClassKey, size_mm: number): PropertyClass {
  requireAbove('threads', 'size_mm', size_mm, 0);
  const isLarge = size_mm > 16;
  switch (key) {
    case '4.8':
      return {
        proof_MPa: 310,
        yield_MPa: 340,
        tensile_MPa: 420,
        source: `${PROOF} (4.8 yield and tensile from memory)`,
      };
    case '5.8':
      return {
        proof_MPa: 380,
        yield_MPa: 420,
        tensile_MPa: 520,
        source: `${PROOF} (5.8 yield and tensile from memory)`,
      };
    case '8.8':
      return isLarge
        ? { proof_MPa: 600, yield_MPa: 660, tensile_MPa: 830, source: PROOF }
        : { proof_MPa: 580, yield_MPa: 640, tensile_MPa: 800, source: PROOF };
    case '10.9':
      return { proof_MPa: 830, yield_MPa: 940, tensile_MPa: 1040, source: PROOF };
    case '12.9':
      return { proof_MPa: 970, yield_MPa: 1100, tensile_MPa: 1220, source: PROOF };
    case 'A2-50':
      return { proof_MPa: 210, yield_MPa: 210, tensile_MPa: 500, source: STAINLESS };
    case 'A2-70':
      return { proof_MPa: 450, yield_MPa: 450, tensile_MPa: 700, source: STAINLESS };
    case 'A2-80':
      return { proof_MPa: 600, yield_MPa: 600, tensile_MPa: 800, source: STAINLESS };
    default:
      return refuse('threads', 'property class', key, PROPERTY_CLASS_KEYS.join(', '));
  }
}

/** How much thread must engage, in multiples of the nominal size. */
export interface EngagementRule {
  /** Below this the joint is not trusted. */
  readonly least: number;
  /** What a workshop looks for. */
  readonly usual: number;
  readonly source: string;
}

const PRACTICE = 'common practice, no source';

/** Engaged thread as a multiple of d, by the family of the softer thread; undefined where no thread should be cut. */
export function engagementRule(family: MaterialFamily): EngagementRule | undefined {
  switch (family) {
    case 'steel':
      return { least: 0.8, usual: 1, source: PRACTICE };
    case 'titanium':
      return { least: 1, usual: 1, source: PRACTICE };
    case 'aluminium':
      return { least: 1, usual: 1.5, source: PRACTICE };
    default:
      return undefined;
  }
}

/** Least engaged thread length for a size in a softer material of that family, mm; undefined as in `engagementRule`. */
export function leastEngagement_mm(size_mm: number, family: MaterialFamily): number | undefined {
  requireAbove('threads', 'size_mm', size_mm, 0);
  const rule = engagementRule(family);
  return rule && rule.least * size_mm;
}
