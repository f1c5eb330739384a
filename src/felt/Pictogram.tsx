/**
 * A small picture of what is felt: the joint as a ring with its arm, and what happens to it.
 */
import type { ReactNode } from 'react';
import type { SymptomCode } from '../../shared/index.ts';

const RING = 'M24 14a10 10 0 1 0 0 20a10 10 0 1 0 0-20M24 20a4 4 0 1 0 0 8a4 4 0 1 0 0-8';
const ARM = 'M34 24h12';
const ROW = 'M4 18h12v12H4zM18 16h12v16H18zM32 18h12v12H32z';
const BOLT = 'M6 16h6v16H6zM12 20h22v8H12z';
const WRENCH = 'M8 40l20-20M26 12a8 8 0 1 0 10 10l-6 1-5-5z';

/** What is drawn of each, as lines on a field of 48. */
const LINES: Readonly<Record<SymptomCode, string>> = {
  tight: `${RING}${ARM}M14 8l6 5M28 5v7M10 38l6-4M30 43l-3-7`,
  notchy: `${RING}${ARM}M16 8l3 3 3-3 3 3 3-3 3 3`,
  rough: `${RING}${ARM}M30 10l2 3 2-4 1 5 3-3`,
  'side-play': 'M18 14h12v20H18zM4 24h11M4 24l4-4M4 24l4 4M44 24H33M44 24l-4-4M44 24l-4 4',
  'up-down-play': `${RING}M40 8v32M40 8l-4 4M40 8l4 4M40 40l-4-4M40 40l4-4`,
  'falls-not': 'M12 16a8 8 0 1 0 0 16a8 8 0 1 0 0-16M20 24h24M34 32v8M34 40l-4-4M34 40l4-4M28 44l12-14',
  'stops-short': 'M14 26a8 8 0 1 0 0 16a8 8 0 1 0 0-16M20 29L36 18M40 6v20M22 10a20 20 0 0 1 14 6',
  rubs: 'M6 14h16v20H6zM26 14h16v20H26zM22 18l4 3-4 3 4 3-4 3',
  clicks: `${RING}${ARM}M38 10l4-5M41 15l6-2M34 7l1-6`,
  'will-not-go': 'M4 16h14v16H4zM30 16h14v16H30zM20 24h8M25 20l-5 8M28 20l-5 8',
  'thread-proud': `${BOLT}M26 14h4v20h-4zM34 20h10v8H34M37 20v8M40 20v8`,
  'thread-short': 'M6 16h6v16H6zM12 20h18v8H12zM26 12h14v24H26zM32 20v8M36 20v8',
  gap: 'M4 14h14v20H4zM30 14h14v20H30zM24 8v32M20 11h8M20 37h8',
  'left-over': 'M6 34h36M10 34v6M38 34v6M18 20h12v12H18zM24 20v12',
  missing: 'M4 18h12v12H4zM32 18h12v12H32zM20 16h2M26 16h2M20 32h2M26 32h2M18 20v2M18 26v2M30 20v2M30 26v2',
  early: `${WRENCH}M40 30v6l4 2M32 36a7 7 0 1 0 14 0M6 8h10M6 8l4-4M6 8l4 4`,
  late: `${WRENCH}M40 30v6l4 2M32 36a7 7 0 1 0 14 0M6 8h10M16 8l-4-4M16 8l-4 4`,
  never: `${WRENCH}M34 34l10 10M44 34L34 44`,
  'head-side': `${BOLT}M40 8v32M40 8l-5 5M40 8l5 5`,
  'turns-on': `${WRENCH}M36 40a8 8 0 0 0 8-8M44 32l-4 1M44 32l2 4`,
  'slackens-hard': `${WRENCH}M44 40a8 8 0 0 1-8-8M36 32l4 1M36 32l-2 4`,
  elsewhere: 'M12 16a8 8 0 1 0 0 16a8 8 0 1 0 0-16M20 24h14M34 18l8 6-8 6',
  facing: `M14 14v20l8 4V10zM34 10v28M34 10l-4 4M34 10l4 4M34 38l-4-4M34 38l4-4`,
  'other-size': `${ROW}M18 38h12M18 36v4M30 36v4`,
  proud: 'M6 12h14v24H6zM20 18h14v12H20zM38 12v24',
  'rough-alone': `${RING}M16 8l3 3 3-3 3 3 3-3`,
  seat: `${RING}M24 8a16 16 0 1 0 0 32M38 14l4 4 4-4`,
  bent: 'M4 28q20-14 40 0M4 34q20-14 40 0M4 28v6M44 28v6M2 40h44',
  thread: 'M4 20h40M4 30h40M10 20l4 10M18 20l4 10M26 20l2 5M36 20l4 10',
  dirt: 'M6 14h14v20H6zM28 14h14v20H28zM24 18v1M23 23v1M25 28v1M24 32v1',
};

export function Pictogram({ code, size }: { readonly code: SymptomCode; readonly size: string }): ReactNode {
  return (
    <svg className="felt-sign rigid" viewBox="0 0 48 48" style={{ width: size, height: size }} aria-hidden="true">
      <path d={LINES[code]} />
    </svg>
  );
}
