/**
 * What the picture is told and what it tells back.
 */
import type { Analysis, ApartOf, Frame, Motion, Place, StepPlace } from '../../shared/index.ts';
import type { View } from './fit.ts';
import type { InHand } from './hold.ts';
import type { Theme } from '../look.ts';

/** The axle of the opened pivot, seen square to it. */
export interface SeenLine {
  readonly pivotId: string;
  /** Where its z = 0 stands across the page, and how large a millimetre of it is, px. */
  readonly zero_px: number;
  readonly px_per_mm: number;
  /** Where its parts stand now, mm from their tight places, by scene id. */
  readonly offsets_mm: Readonly<Record<string, number>>;
}

/** Props of the picture. The picture is a pure function of everything but the callbacks. */
export interface PictureProps {
  readonly analysis: Analysis;
  /** The opened pivot; without one the whole bike is shown. */
  readonly pivotId?: string | undefined;
  /** 0 tight to 1 fully apart. */
  readonly apart: number;
  /** What comes apart: the whole row, or what lies on one side of its middle; both when absent. */
  readonly apartOf?: ApartOf | undefined;
  /** Where a step puts the items; overrides `apart` for those named. */
  readonly places?: Readonly<Record<string, StepPlace>> | undefined;
  /**
   * A moment of a step: what it names stands where it says, nothing else is there. Goes before `pose`, `places` and
   * `hidden`.
   */
  readonly frame?: Frame | undefined;
  /** The part that the step places or turns: it stands off its seat, and what hides it makes way. */
  readonly inHand?: InHand | undefined;
  /** Items the current step moves. */
  readonly activeIds?: readonly string[] | undefined;
  /** Where the travel has brought every member; without it the bike stands as drawn. */
  readonly pose?: Readonly<Record<string, Motion>> | undefined;
  /** Where every pivot stands then, and what it has turned, in words. */
  readonly pivotPlaces?: Readonly<Record<string, Place>> | undefined;
  readonly pivotWords?: Readonly<Record<string, string>> | undefined;
  /** Members and pivots that are not on the bike: the shock, when it is out. */
  readonly hidden?: ReadonlySet<string> | undefined;
  /** Places that the picture of the whole bike must hold beside its pivots, mm. */
  readonly sweep?: readonly (readonly [x: number, y: number, z: number])[] | undefined;
  /** Pivots whose names say that they do not fit; those of the analysis unless said. */
  readonly faulty?: ReadonlySet<string> | undefined;
  readonly litId?: string | undefined;
  readonly selectedId?: string | undefined;
  readonly cut: boolean;
  readonly view: View;
  /** Another number sends the camera back to the view although `view` is the same. */
  readonly glide?: number | undefined;
  readonly theme: Theme;
  readonly reducedMotion: boolean;
  readonly onLight: (id?: string) => void;
  readonly onSelect: (id?: string) => void;
  readonly onPivot: (pivotId: string) => void;
  readonly onApart: (apart: number) => void;
  readonly onStand: (side: 'drive' | 'non-drive') => void;
  /** How the axle is seen, while one looks square to it. */
  readonly onLine?: ((line: SeenLine | undefined) => void) | undefined;
  /** After the first drawn frame. */
  readonly onReady: () => void;
  /** The graphics context is gone, or never was. */
  readonly onLost: () => void;
}

/**
 * What makes items of the opened pivot stand out, by scene id; `rubs` holds pairs that touch although they must not, as
 * `a b`.
 */
export interface Emphasis {
  readonly litId?: string | undefined;
  readonly selectedId?: string | undefined;
  /** The part in the hand. */
  readonly heldId?: string | undefined;
  readonly active: ReadonlySet<string>;
  readonly troubled: ReadonlySet<string>;
  readonly rubs: ReadonlySet<string>;
}
