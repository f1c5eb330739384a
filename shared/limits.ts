/**
 * Where the fit check draws its lines: each limit with the words that say where it comes from.
 *
 * Limits from a standard or table stand in `standards/`; these are the workshop's own, kept in one place so that they
 * can be argued with. mm, N, MPa; shares are dimensionless.
 */
export interface Limit {
  readonly value: number;
  readonly source: string;
}

const HOUSE = 'our own rule, no source';
const PRACTICE = 'common practice, no source';

/** Limits of the fit check, each with its source; lengths mm, shares of 1. Held value by value in the tests. */
export const LIMITS = {
  /** A clamped inner ring carries at least this share of the preload on both faces. */
  leastRingShare: { value: 0.05, source: `${PRACTICE}: an inner ring is clamped and stands still` },
  /** Free parts nearer than this to the column rub once the bearing uses its axial play. */
  rubClearance_mm: { value: 0.1, source: `${HOUSE}: the axial play of a pivot bearing` },
  /** Free parts nearer than this deserve a look. */
  tightClearance_mm: { value: 0.25, source: HOUSE },
  /** A spacer nearer than this to a seal's face drags on its lip. */
  sealClearance_mm: { value: 0.2, source: `${HOUSE}: the seal stands about 0.1 mm below the ring faces` },
  /** Width of seal a spacer may cover before the pivot does not fit. */
  sealCover_mm: { value: 0.25, source: HOUSE },
  /** Share of an O-ring's cord, and of a seal's lip, by which each should be squeezed. */
  cordSqueezeLeast: { value: 0.05, source: 'from memory, no source: a turning O-ring wants 5 to 10 %' },
  cordSqueezeMost: { value: 0.3, source: 'from memory, no source: a still O-ring wants 15 to 30 %' },
  lipSqueezeLeast: { value: 0.1, source: HOUSE },
  lipSqueezeMost: { value: 0.8, source: `${HOUSE}: a lip pressed flat is torn` },
  /** Share of a seal's face that must find a face to lie on. */
  sealOnFace: { value: 0.5, source: HOUSE },
  /** Share of the way from free to flat in which a spring works. */
  springLeast: { value: 0.15, source: 'DIN EN 16984: a disc spring works from 0.15 of its cone height on' },
  springMost: { value: 0.75, source: 'DIN EN 16984: a disc spring works up to 0.75 of its cone height' },
  /** How far the groove that a circlip is made for may be off the one it is in, and the room it leaves a bearing. */
  circlipSize_mm: { value: 0.3, source: `${HOUSE}: half the depth of a small groove` },
  circlipPlay_mm: { value: 0.3, source: 'DIN 472: a groove is 0.1 to 0.3 mm wider than its ring' },
  /** Thread that a lock nut needs on the tip, as a share of its diameter, and how far a bolt closes a slot, of its width. */
  lockThread: { value: 0.4, source: `${PRACTICE}: a thin nut is about half as high as its thread is thick` },
  slotShare: { value: 0.5, source: `${HOUSE}: a slot closed further clamps on its edges` },
  /** Faces nearer than this in the column count as touching. */
  touching_mm: { value: 0.02, source: HOUSE },
  /** How far an arm may be bent sideways, by family. */
  armDrawn_mm: { value: 0.5, source: `${HOUSE}: aluminium and steel arms` },
  armDrawnCarbon_mm: { value: 0.25, source: `${HOUSE}: carbon arms take little of this` },
  /** Share of the limit from which a warning is given. */
  warnShare: { value: 0.5, source: HOUSE },
  /** How far a member may be pushed off its line between its neighbours. */
  offLine_mm: { value: 0.6, source: HOUSE },
  /** A bearing further than this off its shoulder is not home. */
  home_mm: { value: 0.05, source: PRACTICE },
  /** Share of the preload that may be lost to a thread or tip that bottoms. */
  bottomShare: { value: 0.05, source: HOUSE },
  /** Share of the needed thread below which the joint is refused. */
  leastThreadShare: { value: 0.75, source: HOUSE },
  /** Share of the preload that must reach the weakest inner ring. */
  leastClampShare: { value: 0.6, source: HOUSE },
  /** Clearance of a bearing on its axle, diametral. */
  bearingFit_mm: { value: 0.15, source: PRACTICE },
  /** Clearance of a loose spacer on its axle, diametral. */
  spacerFit_mm: { value: 1.2, source: `${HOUSE}: a looser spacer hangs off centre` },
  /** Difference of a bearing's outside and its seat, diametral. */
  seatFit_mm: { value: 0.08, source: PRACTICE },
  /** Play of a bearing on its axle from which the shank is worn or the wrong one, diametral. */
  looseFit_mm: { value: 0.06, source: `${PRACTICE}: a new shank leaves 0.01 to 0.03 mm` },
  /** Play of an axle in a member's bore that holds it, diametral. */
  bossFit_mm: { value: 0.2, source: `${PRACTICE}: an axle is held by its bores, not by the clamp alone` },
  /** Play of a plain bush on its axle that is made so, and the widest that is made at all; diametral, of all sizes. */
  bushFit_mm: {
    value: 0.145,
    source: 'plain-bush catalogue: an E10 bore on an h9 shaft of 10 to 18 mm runs with 0.032 to 0.145 mm',
  },
  bushFitMost_mm: {
    value: 0.203,
    source: 'plain-bush catalogue: a D11 bore on an h9 shaft of 10 to 18 mm leaves 0.203 mm at the most',
  },
  /** The least play of a plain bush that still turns freely, and the press it takes into its bore; diametral. */
  bushFitLeast_mm: { value: 0.003, source: 'plain-bush catalogue: the tightest of its pairs run with 0.003 mm' },
  bushPress_mm: { value: 0.15, source: 'from memory, no source: a plain bush is 0.03 to 0.15 mm over its bore' },
  /** Interference that a laminate's seat takes, diametral. */
  pressCarbon_mm: { value: 0.02, source: `${PRACTICE}: a laminate does not stretch, its layers part` },
  /** A bearing this far below the face of its seat is worth a word. */
  recessed_mm: { value: 0.2, source: `${HOUSE}: more than the tolerance of a ring's width` },
  /** Push along the axle up to which a row that is too long for its place is spread open by hand, N. */
  handPush_N: { value: 150, source: 'from memory, no source: a hand pushes 150 to 300 N, a thumb 60 to 150' },
  /** The same with a lever, a clamp or a mallet: what asks for more does not go together in a workshop. */
  leverPush_N: { value: 1000, source: `${HOUSE}: two hands on a lever give 300 to 500 N, a clamp or a mallet more` },
  /** Free length in a run of spacers from which a spacer is missed. */
  missingSpacer_mm: { value: 0.4, source: HOUSE },
  /** How far the hole of a threaded bore may be off between its thread's core and its size. */
  threadBore_mm: { value: 0.35, source: `${HOUSE}: more than any cut or rolled thread is off` },
  /** Share of the face pressure limit from which a warning is given. */
  pressureWarnShare: { value: 0.9, source: HOUSE },
  /** Share of the axle's yield that tightening may use. */
  axleShare: { value: 0.9, source: 'VDI 2230: 90 % of the 0.2 % yield while tightening' },
} as const satisfies Record<string, Limit>;
