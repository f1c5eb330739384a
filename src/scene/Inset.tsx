/**
 * The magnified inset: the touched faces of the picked part, drawn large beside the picture, with what they bear on in
 * words.
 */
import { useId, type ReactNode } from 'react';
import {
  capital,
  sideWord,
  wordFace,
  wordMeasure,
  type Analysis,
  type PivotAnalysis,
  type PlacedItem,
  type Side,
} from '../../shared/index.ts';
import type { Board } from './board.ts';
import { insetFaces, insetView, type InsetSolid } from './inset.ts';
import type { BandPattern, FaceBand } from './marks.ts';
import { MARK, METALS } from '../look.ts';
import { facingColour } from './palette.ts';

interface Props {
  readonly board: Board;
  readonly analysis: Analysis;
  readonly pivot: PivotAnalysis;
  readonly item: PlacedItem;
  /** On which side of the picture it stands: the other one from the part. */
  readonly side: 'left' | 'right';
  /** Little room: the part alone, and its faces without what they bear on. */
  readonly isSmall: boolean;
  /** It is in the hand: as large as may be. */
  readonly isHeld: boolean;
}

/** Depth of a band drawn into the part, mm. */
const BAND_mm = 0.75;

/** The inset. */
export function Inset({ board, analysis, pivot, item, side, isSmall, isHeld }: Props): ReactNode {
  const id = useId();
  const { window, solids, balls, bands } = insetView(pivot, item, isSmall, isHeld);
  const [nonDrive, drive] = insetFaces(item);
  const [wide, tall] = [window.z1_mm - window.z0_mm, window.r1_mm - window.r0_mm];
  return (
    <figure
      ref={board.keep('inset')}
      className={`scene-inset flex clip is-${side} ${isSmall ? 'is-small' : ''}`}
      aria-label={`${item.name}, magnified: its faces in the tight joint`}
    >
      <svg viewBox={`${window.z0_mm} ${-window.r1_mm} ${wide} ${tall}`} aria-hidden="true">
        <Patterns id={id} />
        <clipPath id={`${id}-clip`}>
          <rect x={window.z0_mm} y={-window.r1_mm} width={wide} height={tall} />
        </clipPath>
        <g clipPath={`url(#${id}-clip)`}>
          {solids.map((solid, k) => (
            <Face
              key={k}
              solid={solid}
              colour={item.role === 'spacer' ? facingColour(item) : METALS['bearing-steel']!.colour}
              id={id}
            />
          ))}
          {balls.map((ball, k) => (
            <circle
              key={k}
              className="scene-inset-ball"
              cx={ball.z_mm}
              cy={-ball.circle_mm / 2}
              r={ball.diameter_mm / 2}
            />
          ))}
          {bands.map((band, k) => (
            <Band key={k} band={band} id={id} />
          ))}
        </g>
      </svg>
      <figcaption>
        <FaceLine side="non-drive" face={nonDrive} bears={isSmall ? undefined : wordFace(item.nonDrive, analysis)} />
        <FaceLine side="drive" face={drive} bears={isSmall ? undefined : wordFace(item.drive, analysis)} />
      </figcaption>
    </figure>
  );
}

/** One face: its name and how far it is across, its side, what it bears on. */
function FaceLine({
  side,
  face,
  bears,
}: {
  readonly side: Side;
  readonly face: ReturnType<typeof insetFaces>[number] | undefined;
  readonly bears: string | undefined;
}): ReactNode {
  const name =
    face && `${face.name} ${wordMeasure({ value: face.across_mm, unit: 'mm' })}${bears === undefined ? '' : ' across'}`;
  if (!name && bears === undefined) return null;
  return (
    <span>
      <span className="scene-letter bold">{side === 'drive' ? 'D' : 'N'}</span> <b>{name ?? capital(sideWord(side))}</b>
      {bears !== undefined && `: ${bears}`}
    </span>
  );
}

function Face({
  solid,
  colour,
  id,
}: {
  readonly solid: InsetSolid;
  readonly colour: string;
  readonly id: string;
}): ReactNode {
  const d = `M${solid.polygon.map(([r, z]) => `${z} ${-r}`).join('L')}Z`;
  return (
    <>
      <path
        className={`scene-inset-solid is-${solid.role} ${solid.isTouched ? 'is-touched' : ''}`}
        d={d}
        data-own={solid.isOwn || undefined}
        {...(solid.isOwn && solid.role !== 'seal' ? { style: { fill: colour } } : {})}
      />
      {solid.rise !== undefined && <path d={d} fill={`url(#${id}-${solid.rise > 0 ? 'rising' : 'falling'})`} />}
    </>
  );
}

const FILLED: Readonly<Partial<Record<BandPattern, string>>> = {
  hatched: 'bold',
  dotted: 'dots',
  diagonal: 'diagonal',
};

/** A band within the part, along its face: filled, hatched, dotted, double or open, as on the part itself. */
function Band({ band, id }: { readonly band: FaceBand; readonly id: string }): ReactNode {
  const x = band.sign > 0 ? band.z_mm - BAND_mm : band.z_mm;
  const y = -band.r1_mm;
  const height = band.r1_mm - band.r0_mm;
  const tile = FILLED[band.pattern];
  const fill = band.pattern === 'filled' ? MARK.ink : tile === undefined ? MARK.plate : `url(#${id}-${tile})`;
  return (
    <>
      <rect className="scene-inset-band" x={x} y={y} width={BAND_mm} height={height} style={{ fill: MARK.plate }} />
      <rect className="scene-inset-band" x={x} y={y} width={BAND_mm} height={height} style={{ fill }} />
      {band.pattern === 'double' && <path className="scene-inset-band" d={`M${x + BAND_mm / 2} ${y}v${height}`} />}
    </>
  );
}

function Patterns({ id }: { readonly id: string }): ReactNode {
  const tile = (name: string, size: number, d: string, stroke: number): ReactNode => (
    <pattern id={`${id}-${name}`} width={size} height={size} patternUnits="userSpaceOnUse">
      <path d={d} stroke={MARK.ink} strokeWidth={stroke} fill="none" strokeLinecap="square" />
    </pattern>
  );
  return (
    <defs>
      {tile('rising', 1.1, 'M0 1.1 1.1 0M-.3.3.3-.3M.8 1.4l.6-.6', 0.07)}
      {tile('falling', 0.9, 'M0 0 .9.9M-.3.6.3 1.2M.6-.3l.6.6', 0.07)}
      {tile('bold', 0.5, 'M0 .5.5 0M-.2.2.2-.2M.3.7.7.3', 0.16)}
      {tile('diagonal', 1, 'M0 1 1 0', 0.16)}
      {tile('dots', 0.5, 'M.25.25h.001', 0.2)}
    </defs>
  );
}
