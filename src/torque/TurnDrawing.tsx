/**
 * The end of the axle as the mechanic sees it: what the wrench fits, which way it goes round, and what is held.
 *
 * Drawn from the tightening alone; the words stand beside it, so that a screen reader is spared the picture.
 */
import type { ReactNode } from 'react';
import type { DriveTool, Tightening } from '../../shared/index.ts';

/** Middle of the axle and radius of the arrow, in the drawing's own units. */
const [X, Y, R] = [104, 88, 62];
/** The arrow runs from here to here over the top, degrees clockwise from the right. */
const [START_deg, END_deg] = [-158, -28];

export function TurnDrawing({ tightening }: { readonly tightening: Tightening }): ReactNode {
  const { turn, tool, held, stand, turned } = tightening;
  const isBack = turn === 'anticlockwise';
  const isFar = held !== undefined && held.side !== stand;
  return (
    <svg className="turn-drawing full as-block" viewBox="0 0 208 156" aria-hidden="true">
      <circle cx={X} cy={Y} r="47" className="turn-boss" />
      {held && (
        <g className={isFar ? 'turn-hold turn-hold-far' : 'turn-hold'}>
          <path d={`M${X} ${Y} L22 132`} className="turn-hold-bar" />
          <rect x="8" y="120" width="26" height="26" rx="3" className="turn-hold-stop" />
          <path d="M15 133h12" className="turn-hold-mark" />
        </g>
      )}
      {held && !isFar && turned === 'tip' && <path d={hexagon(40)} className="turn-nut" />}
      {isOuter(tool) ? (
        <path d={hexagon(33)} className="turn-head" />
      ) : (
        <circle cx={X} cy={Y} r="33" className="turn-head" />
      )}
      <Recess tool={tool} />
      <path d={`M${X} ${Y} L190 104`} className="turn-wrench" />
      <path d="M164 100.7 L190 104" className="turn-grip" />
      <circle cx={X} cy={Y} r="9" className="turn-drive" />
      <path d={arrow(isBack)} className={isBack ? 'turn-arrow turn-arrow-back' : 'turn-arrow'} />
    </svg>
  );
}

/** The drive fits over the outside. */
function isOuter(tool: DriveTool | undefined): boolean {
  return tool?.tool === 'spanner';
}

function Recess({ tool }: { readonly tool: DriveTool | undefined }): ReactNode {
  switch (tool?.tool) {
    case 'hex-key':
      return <path d={hexagon(17)} className="turn-recess" />;
    case 'star-key':
    case 'cassette-socket':
      return <path d={lobes(tool.tool === 'star-key' ? 6 : 12, 13, 19)} className="turn-recess" />;
    case 'pin-spanner':
      return (
        <>
          <circle cx={X - 22} cy={Y} r="4.5" className="turn-recess" />
          <circle cx={X + 22} cy={Y} r="4.5" className="turn-recess" />
        </>
      );
    default:
      return <circle cx={X} cy={Y} r="16" className="turn-recess" />;
  }
}

function point(radius: number, degrees: number): string {
  const angle = (degrees * Math.PI) / 180;
  return `${(X + radius * Math.cos(angle)).toFixed(2)} ${(Y + radius * Math.sin(angle)).toFixed(2)}`;
}

function hexagon(radius: number): string {
  return `M${[0, 60, 120, 180, 240, 300].map((degrees) => point(radius, degrees)).join('L')}Z`;
}

function lobes(count: number, inner: number, outer: number): string {
  const corners = Array.from({ length: 2 * count }, (_, k) => point(k % 2 === 0 ? outer : inner, (180 * k) / count));
  return `M${corners.join('L')}Z`;
}

/** A bent arrow over the top, its head where the turn leads. */
function arrow(isBack: boolean): string {
  const [from, to] = isBack ? [END_deg, START_deg] : [START_deg, END_deg];
  const lean = isBack ? 1 : -1;
  return `M${point(R, from)} A${R} ${R} 0 0 ${isBack ? 0 : 1} ${point(R, to)} M${point(R - 13, to + lean * 15)} L${point(R, to)} L${point(R + 15, to + lean * 12)}`;
}
