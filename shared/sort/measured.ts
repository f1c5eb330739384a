/**
 * Readings into the task: the model with measured sizes in place of nominal ones, for the fit check and the tolerances.
 *
 * Only what the tray is sure of is taken over, and only sizes that lie outside the part's tolerance by more than the
 * accuracy: within it the parts list knows better than the calliper. Where several pieces of one part were read, the
 * one furthest off counts, since any of them may end up anywhere. Bearings keep the sizes of their table. The changed
 * model is checked like a file; a size that would contradict the rest of it is left out and told.
 */
import { checkModel } from '../model/check.ts';
import { entryOf } from '../model/resolve.ts';
import type { LinkageModel } from '../model/schema.ts';
import { sizeOf } from '../parts/measuring.ts';
import type { SizeName } from '../parts/sizes.ts';
import type { Tray } from './tray.ts';

/** One size of the parts list replaced by what was read; mm. */
export interface MeasuredSize {
  readonly part: string;
  readonly name: SizeName;
  readonly nominal_mm: number;
  readonly measured_mm: number;
}

export interface MeasuredModel {
  readonly model: LinkageModel;
  readonly taken: readonly MeasuredSize[];
  /** Sizes that could not be taken over because the model would contradict itself. */
  readonly refused: readonly MeasuredSize[];
}

/**
 * What sure readings say about the parts list, by part and size: the reading furthest off its nominal size, mm; what
 * lies within the accuracy says nothing.
 */
export function measuredSizes(tray: Tray): MeasuredSize[] {
  const worst = new Map<string, MeasuredSize & { readonly off: number }>();
  for (const row of tray.rows) {
    if (!row.isSure) continue;
    for (const { candidate, fit } of row.placements) {
      const known = tray.candidates.get(candidate)!;
      if (known.from !== 'list' || known.kind === 'bearing') continue;
      for (const { name, read, nominal, off, accuracies } of fit.sizes) {
        if (Math.abs(accuracies) <= 1) continue;
        const key = `${candidate} ${name}`;
        const before = worst.get(key);
        if (
          before === undefined ||
          Math.abs(off) > Math.abs(before.off) ||
          (Math.abs(off) === Math.abs(before.off) && read < before.measured_mm)
        ) {
          worst.set(key, { part: candidate, name, nominal_mm: nominal, measured_mm: read, off });
        }
      }
    }
  }
  return [...worst.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, { off: _off, ...size }]) => size);
}

/**
 * The model with every size of `sizes` that it can take; one size at a time, so that one refusal does not cost the
 * rest. The model given is not changed. What was refused is told, never thrown. One check of the model a size.
 */
export function withMeasured(model: LinkageModel, sizes: readonly MeasuredSize[]): MeasuredModel {
  let now = model;
  const taken: MeasuredSize[] = [];
  const refused: MeasuredSize[] = [];
  for (const size of sizes) {
    const part = entryOf(now.parts, size.part);
    const changed = part && sizeOf(part.kind, size.name)?.set?.(part, size.measured_mm);
    const next = changed && { ...now, parts: { ...now.parts, [size.part]: changed } };
    if (next && checkModel(next).problems.length === 0) {
      now = next;
      taken.push(size);
    } else refused.push(size);
  }
  return { model: now, taken, refused };
}
