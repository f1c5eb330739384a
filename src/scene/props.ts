/**
 * What the stage is told and what it tells back.
 */
import type { Analysis, PivotAnalysis, StepPlace } from '../../shared/index.ts';
import type { View } from './fit.ts';
import type { Theme } from './palette.ts';

/** Props of the stage. The picture is a pure function of everything but the callbacks. */
export interface StageProps {
  readonly analysis: Analysis;
  /** The opened pivot; without one the whole bike is shown. */
  readonly pivotId?: string;
  /** Another pivot, drawn pale beside the opened one and as far apart: what it is to be compared with. */
  readonly beside?: PivotAnalysis;
  /** 0 tight to 1 fully apart. */
  readonly apart: number;
  /** Where a step puts the items; overrides `apart` for those named. */
  readonly places?: Readonly<Record<string, StepPlace>>;
  /** Items the current step moves. */
  readonly activeIds?: readonly string[];
  readonly litId?: string;
  readonly selectedId?: string;
  readonly cut: boolean;
  readonly view: View;
  /** Another number sends the camera back to the view although `view` is the same. */
  readonly glide?: number;
  readonly theme: Theme;
  readonly reducedMotion: boolean;
  readonly onLight: (id?: string) => void;
  readonly onSelect: (id?: string) => void;
  readonly onPivot: (pivotId: string) => void;
  readonly onApart: (apart: number) => void;
  readonly onStand: (side: 'drive' | 'non-drive') => void;
  /** After the first drawn frame. */
  readonly onReady: () => void;
  /** The graphics context is gone, or never was. */
  readonly onLost: () => void;
}
