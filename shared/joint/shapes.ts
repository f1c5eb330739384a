/**
 * Profiles and envelopes made once for all joints of a resolved model and of what is changed of it: a mistake moves the
 * parts of a pivot, it does not make them anew.
 *
 * What is kept hangs on the members of the resolved model, which a change takes over and nothing else shares, so that
 * it goes when the model goes; a file that is edited and resolved again begins with nothing. Parts and bores are known
 * by themselves, never by their names.
 */
import { envelope, gapBetween, pressedArea_mm2, type Gap, type Span } from './contact.ts';
import type { ResolvedModel } from '../model/resolve.ts';
import { placeSolid, revolvedVolume_mm3, zRange } from '../profile/polygon.ts';
import { material } from '../standards/materials.ts';
import type { Solid } from '../types.ts';

/** A solid in its item's own frame, with its envelopes. */
export interface LocalSolid {
  readonly solid: Solid;
  readonly upper: readonly Span[];
  readonly lower: readonly Span[];
  readonly length_mm: number;
  /** Of its own cross-section, as a tube as long and as heavy would have it. */
  readonly area_mm2: number;
}

/** What is kept of one part or bore, by what else it depends on. */
type Kept = Map<string, unknown>;
const KEPT = new WeakMap<ResolvedModel['members'], WeakMap<object, Kept>>();

/** The same thing made once: `of` is the part or bore it is made from, `key` what else decides it. */
export function keptFor<T>({ members }: Pick<ResolvedModel, 'members'>, of: object, key: string, make: () => T): T {
  let book = KEPT.get(members);
  if (!book) KEPT.set(members, (book = new WeakMap()));
  let own = book.get(of);
  if (!own) book.set(of, (own = new Map()));
  const known = own.get(key);
  if (known !== undefined) return known as T;
  const made = make();
  own.set(key, made);
  return made;
}

/** Solids turned and moved within their item's frame. */
export function localSolids(solids: readonly Solid[], turned: boolean, by_mm: number): readonly LocalSolid[] {
  return solids.map((raw) => {
    const solid = placeSolid(raw, turned, by_mm);
    const { polygon } = solid;
    const [from, to] = zRange([polygon]);
    return {
      solid,
      upper: envelope(polygon, 'drive'),
      lower: envelope(polygon, 'non-drive'),
      length_mm: to - from,
      area_mm2: revolvedVolume_mm3(polygon) / (to - from),
    };
  });
}

/** Half-thickness beyond which the rest of a bulky part no longer yields under one face, mm: an estimate of ours. */
const LOCAL_DEPTH_mm = 8;

/** A gap between two solids that stand in one frame, and how stiffly they meet there. */
export interface LocalGap extends Gap {
  readonly stiffness_N_per_mm: number;
}

const GAPS = new WeakMap<LocalSolid, WeakMap<LocalSolid, LocalGap | 'none'>>();

/** Gap between two solids that stand in one frame, `a` on the non-drive side: how far their items stand is added. */
export function localGap(a: LocalSolid, b: LocalSolid): LocalGap | undefined {
  let beside = GAPS.get(a);
  if (!beside) GAPS.set(a, (beside = new WeakMap()));
  let known = beside.get(b);
  if (known === undefined) {
    const gap = gapBetween(a.upper, b.lower);
    known = gap ? { ...gap, stiffness_N_per_mm: contactStiffness(a, b, gap) } : 'none';
    beside.set(b, known);
  }
  return known === 'none' ? undefined : known;
}

/**
 * Two sleeves in series, E·A/L of half of each; the area is the part's own, but no more than three times what touches.
 */
function contactStiffness(a: LocalSolid, b: LocalSolid, gap: Gap): number {
  const touching = pressedArea_mm2(gap.bands_mm);
  return 1 / (halfCompliance(a, touching) + halfCompliance(b, touching));
}

function halfCompliance({ solid, length_mm, area_mm2 }: LocalSolid, touching_mm2: number): number {
  const area = Math.min(area_mm2, 3 * touching_mm2);
  return Math.min(length_mm / 2, LOCAL_DEPTH_mm) / (material(solid.material).E_MPa * area);
}
