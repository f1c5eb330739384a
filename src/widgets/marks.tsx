/**
 * The marks that stand beside words: verdicts, severities, sides, facings and bands. Shape first, colour second.
 *
 * All are drawn for a 20 by 20 field unless said otherwise and hidden from screen readers, since words stand beside
 * them.
 */
import type { ReactNode } from 'react';
import type { Severity, Side, Verdict } from '../../shared/index.ts';

/** Tick in a disc: sound. Exclamation mark in an octagon: faulty. Question mark in a lozenge: unsure. */
export function VerdictMark({ verdict }: { readonly verdict: Verdict }): ReactNode {
  return (
    <svg className={`mark rigid mark-${verdict}`} viewBox="0 0 20 20" aria-hidden="true">
      {verdict === 'sound' && (
        <>
          <circle cx="10" cy="10" r="9" className="mark-field" />
          <path d="M5.5 10.4 8.8 13.6 14.6 7" className="mark-stroke" />
        </>
      )}
      {verdict === 'faulty' && (
        <>
          <path d="M6.3 1h7.4L19 6.3v7.4L13.7 19H6.3L1 13.7V6.3Z" className="mark-field" />
          <path d="M10 4.8v6.4M10 14.2v1.4" className="mark-stroke" />
        </>
      )}
      {verdict === 'unsure' && (
        <>
          <path d="M10 .6 19.4 10 10 19.4.6 10Z" className="mark-field" />
          <path d="M7.7 8.2c0-3.2 4.7-3.2 4.7-.2 0 1.8-2.3 1.9-2.3 3.7M10 14.2v1" className="mark-stroke" />
        </>
      )}
    </svg>
  );
}

/** Octagon: stop. Triangle: warn. Bar in a disc: note. */
export function SeverityMark({ severity }: { readonly severity: Severity }): ReactNode {
  if (severity === 'stop') return <VerdictMark verdict="faulty" />;
  return (
    <svg className={`mark rigid mark-${severity}`} viewBox="0 0 20 20" aria-hidden="true">
      {severity === 'warn' ? (
        <>
          <path d="M10 1.2 19.4 18.4H.6Z" className="mark-field" />
          <path d="M10 7v5.4M10 14.8v1.3" className="mark-stroke" />
        </>
      ) : (
        <>
          <circle cx="10" cy="10" r="8.6" className="mark-field" />
          <path d="M10 9v5.6M10 5.2v1.4" className="mark-stroke" />
        </>
      )}
    </svg>
  );
}

/** The letter plate of a side: N on an open plate, D on a filled one. */
export function SidePlate({ side }: { readonly side: Side }): ReactNode {
  return (
    <span className={`plate rigid plate-${side}`} aria-hidden="true">
      {side === 'drive' ? 'D' : 'N'}
    </span>
  );
}

/** The way a wrench goes round, as seen by who holds it. */
export function TurnMark({ turn }: { readonly turn: 'clockwise' | 'anticlockwise' }): ReactNode {
  return (
    <svg className="mark turn-mark icon rigid" viewBox="0 0 24 24" aria-hidden="true">
      <path
        d="M5 15.5A7.8 7.8 0 1 1 18.6 16.4M21.5 12.2l-2.9 4.4-4.6-2.6"
        transform={turn === 'clockwise' ? undefined : 'matrix(-1 0 0 1 24 0)'}
      />
    </svg>
  );
}

/** A spacer seen from the side with its facing marks; 44 by 28. */
export function FacingGlyph({ toward }: { readonly toward: Side | 'same' }): ReactNode {
  const isDrive = toward === 'drive';
  return (
    <svg className={`glyph rigid facing-${toward}`} viewBox="0 0 44 28" aria-hidden="true">
      {toward === 'same' ? (
        <>
          <rect x="10" y="2" width="24" height="24" className="glyph-body" />
          <path d="M20 6v16M24 6v16" className="glyph-mark" />
        </>
      ) : (
        <g transform={isDrive ? undefined : 'matrix(-1 0 0 1 44 0)'}>
          <path d="M8 1h6l22 6v14l-22 6H8Z" className="glyph-body" />
          <path d="m15 8 6 6-6 6M23 9.4l4.6 4.6-4.6 4.6" className="glyph-mark" />
        </g>
      )}
    </svg>
  );
}

/** What a face band looks like for each thing a face can bear on. */
const BANDS = ['inner-ring', 'outer-ring', 'seal', 'arm', 'ring', 'nothing'] as const;
export type Band = (typeof BANDS)[number];

/** A face band; 44 by 20. */
export function BandGlyph({ band }: { readonly band: Band }): ReactNode {
  return (
    <svg className={`glyph rigid band-${band}`} viewBox="0 0 44 20" aria-hidden="true">
      <rect x="2" y="3" width="40" height="14" className={band === 'inner-ring' ? 'band-full' : 'band-edge'} />
      {band === 'outer-ring' && <path d="M6 17 18 3M14 17 26 3M22 17 34 3M30 17 40 5.2" className="band-line" />}
      {band === 'seal' && (
        <path d="M6 17 18 3M18 17 30 3M30 17 40 5.2M6 3l12 14M18 3l12 14M30 3l10 11.8" className="band-line" />
      )}
      {band === 'arm' && <path d="M8 17 36 3" className="band-line" />}
      {band === 'ring' && <path d="M3 8h38M3 12h38" className="band-line" />}
    </svg>
  );
}
