/**
 * The fields that forms of parts share, as the model file writes them, and the bounds they keep to.
 *
 * Units stand in the key; mm.
 */
import * as z from 'zod';
import { harmless, harmlessText } from '../numbers/harmless.ts';
import { MATERIAL_KEYS } from '../standards/materials.ts';

/** Largest length a part of a linkage may have, mm: a bound against a misplaced decimal point. */
const LARGEST_PART_mm = 400;
/** Smallest length, mm: a thinner sleeve is a typing mistake, and so stiff that the clamp solve loses its digits. */
const SMALLEST_PART_mm = 0.01;

/** A length or a diameter of a part, mm. */
export const size_mm = z.number().min(SMALLEST_PART_mm).max(LARGEST_PART_mm);
/** A sentence of a note. */
export const words = z.string().overwrite(harmlessText).min(1).max(400);
/** A name as a list shows it. */
export const shortName = z.string().overwrite(harmless).min(1).max(80);
/** A key of `standards/materials.ts`. */
export const material = z.enum(MATERIAL_KEYS);
/** Half of a tolerance that is the same both ways, mm. */
export const tol_mm = z.number().min(0).max(2).optional();

/** What every part says. */
export const common = {
  name: shortName,
  count: z.number().int().min(1).max(99).describe('how many of this part the maker’s parts list calls for').optional(),
  notes: z.array(words).max(20).optional(),
};

/** The tolerance of a part that is one length. */
export const lengthTol = { length_tol_mm: tol_mm.describe('± tolerance of the length') };

/** The groove of a circlip. */
export const groove = z.strictObject({
  margin_mm: size_mm.describe('metal between the groove and the end it lies near: the face a seat opens to, or a tip'),
  width_mm: size_mm,
  diameter_mm: size_mm,
});

/** A broken edge. */
export const chamfer_mm = z.number().min(0).max(5).optional();

/** An ISO metric thread. */
export const thread = z
  .strictObject({
    size_mm: z.number().min(3).max(40),
    pitch_mm: z.number().min(0.35).max(4),
    hand: z.enum(['right', 'left']).default('right'),
    length_mm: size_mm.describe('threaded length along the axis'),
  })
  .describe('ISO metric thread');

/** A thread as read. */
export type Thread = z.output<typeof thread>;
