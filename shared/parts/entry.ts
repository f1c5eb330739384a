/**
 * What the rest of the program may ask about a kind of part: one entry a kind, and nothing about a kind elsewhere.
 *
 * Local frame of a part: z = 0 at its datum. Loose parts and bearings: the non-drive face at 0, the drive face at their
 * length. Axles, bolts, screws and sleeves: the bearing face under the head (or its land) at 0, the head at z < 0, the
 * shank at z > 0, as put in from the non-drive side. Nuts: their bearing face at 0, the body at z > 0, as at the drive
 * end. An external thread is drawn at its nominal size and so is an internal one: the two meet without overlapping, and
 * the limits of the thread itself are kept by `joint/thread.ts`. Sockets, flats and balls never enter a contact.
 */
import type { Limit } from '../limits.ts';
import type { Contradiction } from './contradictions.ts';
import type { PartSize, PartSizeName, SizeName } from './sizes.ts';
import type { SpringCurve } from '../standards/index.ts';
import type { PartProfile } from '../profile/solid.ts';

/**
 * Where a part may stand: loose in a row, in a seat of a row or the groove of one, in a bore as its lining, as the axle,
 * as its receiver, or on the axle's tip beyond that.
 */
export type Standing = 'loose' | 'seat' | 'groove' | 'bore' | 'axle' | 'receiver' | 'tip';

/** What a hand takes for one another at all. */
export type Family = 'ring' | 'lining' | 'bearing' | 'shank' | 'sleeve' | 'nut' | 'seal' | 'clip' | 'collar' | 'cone';

/** How a seal is squeezed: what of its length gives way, and which share of that should. */
export interface Sealing {
  readonly gives_mm: number;
  readonly least: Limit;
  readonly most: Limit;
}

/** A part that yields along the axle: its law from free on, and how far it goes until it is flat. */
export interface Springing {
  readonly curve: SpringCurve;
  readonly travel_mm: number;
}

/** A ring that snaps into a groove: the groove it is made for, its thickness, and how wide it is while free. */
export interface Snapping {
  readonly groove_mm: number;
  readonly thickness_mm: number;
  readonly free_mm: number;
}

/** A bush that lines a bore: its sizes, and what it carries where it turns. */
export interface Lining {
  readonly outside_mm: number;
  readonly bore_mm: number;
  readonly length_mm: number;
  readonly pressure: Limit;
}

/** A face of a part that may lie off its place: `z_mm` is measured from the datum. */
export interface Plane {
  /** Unique in the part. */
  readonly id: string;
  readonly kind: 'length' | 'land-height' | 'step' | 'thread-start' | 'thread-depth';
  readonly z_mm: number;
  /** ± tolerance the model gives, mm. */
  readonly tol_mm?: number | undefined;
}

/**
 * Everything about one kind of part. Its form in the model file stands beside it, since the types of parts come from
 * there.
 */
export interface PartEntry<P> {
  readonly noun: { readonly one: string; readonly many: string };
  /** What it looks like, in few words. */
  readonly hint: string;
  /** A part of no bike, to draw the kind from; mm. */
  readonly sample: P;
  readonly family: Family;
  readonly stands: readonly Standing[];
  /** Which half of a thread it carries. */
  readonly thread?: 'inner' | 'outer';
  /** For what seals and carries no force; all its solids are of the role `seal`. */
  readonly seals?: (part: P) => Sealing;
  /** For a spring of the column, whose `length_mm` is its free height. Its profile at a lesser height is that part’s. */
  readonly spring?: (part: P) => Springing;
  /** For what is tightened on the axle's tip, beyond what receives it: by its thread, by a bolt of its own, by a cone. */
  readonly secures?: 'thread' | 'clamp' | 'cone';
  /** For a bush that lines a bore, whatever turns in it. */
  readonly lines?: (part: P) => Lining;
  /** For a ring that stands in a groove. */
  readonly snapsIn?: (part: P) => Snapping;
  /** True where it fills a gap of the column, so that one more or another length could mend it. */
  readonly fillsGap?: boolean;
  /** True where the cut of a section runs along it without cutting it, after ISO 128-3. */
  readonly isUncut?: boolean;
  /** True where its head is started by fingers, and so is knurled. */
  readonly isKnurled?: boolean;
  /** Sizes, those that are asked for in the order in which a hand takes them. */
  readonly sizes: Readonly<Partial<Record<PartSizeName, PartSize<P>>>>;
  /** The sizes that name it on a list. */
  readonly told: readonly SizeName[];
  /** The size by which it goes onto, or into, its neighbour, mm: a bore, or the size of a thread. */
  readonly fitting_mm: (part: P) => number;
  /** Which of its faces is the small one, where a mark points to it; the first face looks to the non-drive side. */
  readonly smallFace?: (part: P) => 'first' | 'second' | undefined;
  /** What that face is called, where it is no small face. */
  readonly faceName?: string;
  readonly profile: (part: P, assumed?: AssumedSizes) => PartProfile;
  /** Sizes that contradict one another. */
  readonly check: (part: P) => Contradiction[];
  /**
   * Faces that have a tolerance, in the order of their dimensions; left out for a bearing, which rests on its shoulder.
   */
  readonly planes?: (part: P) => Plane[];
}

/** Sizes that no file and no catalogue gives, mm: each is an estimate with a name, and is varied before a verdict. */
export interface AssumedSizes {
  /** Broken edge of a turned part where the file gives none. */
  readonly edge_mm: number;
  /** How far a seal's face stands below the ring faces. */
  readonly sealRecess_mm: number;
}

/** What is assumed as drawn. Edge: common practice, no source; recess: an estimate of ours. */
export const ASSUMED: AssumedSizes = { edge_mm: 0.2, sealRecess_mm: 0.1 };
