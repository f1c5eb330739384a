/**
 * The kinds of part there are. A new one is its entry and its line here.
 */
import * as z from 'zod';
import { bearing, bearingForm } from './bearing.ts';
import { bush, bushForm, eyeBush, eyeBushForm, reducer, reducerForm } from './bush.ts';
import { endCap, endCapForm } from './end-cap.ts';
import { circlip, circlipForm, shaftCirclip, shaftCirclipForm } from './circlip.ts';
import type { AssumedSizes, PartEntry, Standing } from './entry.ts';
import { nut, nutForm } from './nut.ts';
import { dustSeal, dustSealForm, oRing, oRingForm } from './seal.ts';
import { axle, axleForm, bolt, boltForm, screw, screwForm, sleeve, sleeveForm } from './shanked.ts';
import type { PartProfile } from '../profile/solid.ts';
import { expander, expanderForm, splitClamp, splitClampForm } from './secured.ts';
import { spacer, spacerForm, washer, washerForm } from './spacer.ts';
import { discSpring, discSpringForm, waveWasher, waveWasherForm } from './spring.ts';
import { taperedSpacer, taperedSpacerForm } from './tapered-spacer.ts';

/** Every kind: its form in the file and its entry, in the order in which lists show them. */
const KINDS = [
  [spacerForm, spacer],
  [washerForm, washer],
  [taperedSpacerForm, taperedSpacer],
  [endCapForm, endCap],
  [bearingForm, bearing],
  [bushForm, bush],
  [reducerForm, reducer],
  [eyeBushForm, eyeBush],
  [discSpringForm, discSpring],
  [waveWasherForm, waveWasher],
  [circlipForm, circlip],
  [shaftCirclipForm, shaftCirclip],
  [splitClampForm, splitClamp],
  [expanderForm, expander],
  [oRingForm, oRing],
  [dustSealForm, dustSeal],
  [axleForm, axle],
  [boltForm, bolt],
  [screwForm, screw],
  [sleeveForm, sleeve],
  [nutForm, nut],
] as const;

type FormsOf<T> = { [I in keyof T]: T[I] extends readonly [infer Form, unknown] ? Form : never };

/** One entry of the parts list, of any kind. */
export const partForm = z.discriminatedUnion('kind', KINDS.map(([form]) => form) as unknown as FormsOf<typeof KINDS>);

/** One entry of the parts list. */
export type Part = z.output<typeof partForm>;
export type PartKind = Part['kind'];
/** An entry of the parts list of one kind. */
export type PartOf<K extends PartKind> = Extract<Part, { kind: K }>;

const ENTRIES: ReadonlyMap<string, PartEntry<Part>> = new Map(
  // An entry is only ever asked about parts of its own kind.
  KINDS.map(([form, entry]) => [form.shape.kind.value, entry as unknown as PartEntry<Part>]),
);

/** Every kind there is. */
export const PART_KINDS = KINDS.map(([form]) => form.shape.kind.value) as readonly PartKind[];

/** Everything about a kind of part; every kind has its entry. */
export function kindOf({ kind }: { readonly kind: PartKind }): PartEntry<Part> {
  return ENTRIES.get(kind)!;
}

/** Everything about a kind where it is one of parts, else undefined: `kind` may as well be that of a member. */
export function kindNamed(kind: string): PartEntry<Part> | undefined {
  return ENTRIES.get(kind);
}

/** Kinds that may stand in one of some places. */
export function kindsFor(...places: readonly Standing[]): readonly PartKind[] {
  return PART_KINDS.filter((kind) => stands({ kind }, ...places));
}

/** True when a part of this kind may stand in one of some places. */
export function stands(part: { readonly kind: PartKind }, ...places: readonly Standing[]): boolean {
  return kindOf(part).stands.some((place) => places.includes(place));
}

/**
 * The solids of a part in its local frame, mm: z = 0 is the datum its entry names; `assumed` for a check of what the
 * file leaves out. The part must have been checked: a bearing without sizes throws an Error. O(corners).
 */
export function partProfile(part: Part, assumed?: AssumedSizes): PartProfile {
  return kindOf(part).profile(part, assumed);
}
