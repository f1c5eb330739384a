/**
 * What a calliper meets on a metric thread: the crest of an outer thread (tolerance class 6g) and the hole of an inner
 * one (6H), both as limits.
 *
 * Two short tables by pitch, as ISO 965-1 gives them; the limits of a size follow by addition. Nobody measures the
 * nominal size of a thread: the crest of a good screw stands up to a quarter of a millimetre below it. Lengths mm.
 */
import { refuse } from './guard.ts';
import { metricThread } from './threads.ts';

interface CrestRow {
  /** Fundamental deviation es of position g, mm; negative. */
  readonly deviation_mm: number;
  /** Crest tolerance T_d of grade 6, mm. */
  readonly crest_mm: number;
  /** Tolerance T_D1 of the inner thread's hole, grade 6, mm. */
  readonly hole_mm: number;
}

/**
 * By pitch in mm. Crest: AMES (ASME B1.13M, M5 and M6), P711 (ISO 965, M5 and M6), ICAD (ISO 965-1,
 * M10); the tolerances from 1.5 to 2.5 also by the difference of the limits ISO 965-4 gives for class 6az; the rest of
 * the column from memory. Hole: ENGE (ASME B1.13M-1995 inner threads M9 to M14); 0.8 and
 * 2.5 from memory.
 */
const ROWS: Readonly<Record<string, CrestRow>> = {
  '0.5': { deviation_mm: -0.02, crest_mm: 0.106, hole_mm: 0.14 },
  '0.75': { deviation_mm: -0.022, crest_mm: 0.14, hole_mm: 0.19 },
  '0.8': { deviation_mm: -0.024, crest_mm: 0.15, hole_mm: 0.2 },
  '1': { deviation_mm: -0.026, crest_mm: 0.18, hole_mm: 0.236 },
  '1.25': { deviation_mm: -0.028, crest_mm: 0.212, hole_mm: 0.265 },
  '1.5': { deviation_mm: -0.032, crest_mm: 0.236, hole_mm: 0.3 },
  '1.75': { deviation_mm: -0.034, crest_mm: 0.265, hole_mm: 0.335 },
  '2': { deviation_mm: -0.038, crest_mm: 0.28, hole_mm: 0.375 },
  '2.5': { deviation_mm: -0.042, crest_mm: 0.335, hole_mm: 0.45 },
};

/** A smallest and a largest allowed size, mm. */
export interface SizeLimits {
  readonly low_mm: number;
  readonly high_mm: number;
}

function rowOf(pitch_mm: number): CrestRow {
  const row = ROWS[String(pitch_mm)];
  return row ?? refuse('thread-limits', 'pitch_mm', pitch_mm, Object.keys(ROWS).join(', '));
}

/** True when the tables hold a pitch, mm. */
export function hasThreadLimits(pitch_mm: number): boolean {
  return Object.hasOwn(ROWS, String(pitch_mm));
}

/** Limits of the outside diameter of an outer thread, class 6g, mm. Source: ISO 965-1, see the table. */
export function crestLimits({ size_mm, pitch_mm }: { size_mm: number; pitch_mm: number }): SizeLimits {
  const { deviation_mm, crest_mm } = rowOf(pitch_mm);
  const high_mm = size_mm + deviation_mm;
  return { low_mm: high_mm - crest_mm, high_mm };
}

/**
 * Limits of the hole of an inner thread, class 6H, mm. Source: ISO 724 for its basic size, ISO 965-1 above it, see the
 * table.
 */
export function holeLimits({ size_mm, pitch_mm }: { size_mm: number; pitch_mm: number }): SizeLimits {
  const { hole_mm } = rowOf(pitch_mm);
  const low_mm = metricThread({ size_mm, pitch_mm }).minorDiameter_mm;
  return { low_mm, high_mm: low_mm + hole_mm };
}
