/**
 * The mark of a row: found, not certain, worn out, one too many, fits nothing. The sign differs as well as the colour.
 */
import type { ReactNode } from 'react';
import type { Standing } from './trayWords.ts';

const SIGNS: Readonly<Record<Standing, { readonly look: string; readonly path: string }>> = {
  sure: { look: 'sound', path: 'M6 12.5l4 4 8-9' },
  open: { look: 'unsure', path: 'M8.5 9.5a3.5 3.5 0 1 1 5 3.2c-1 .5-1.5 1-1.5 2.3M12 18v.2' },
  worn: { look: 'faulty', path: 'M12 6v7M12 17.2v.2' },
  over: { look: 'warn', path: 'M12 7v10M7 12h10' },
  nothing: { look: 'faulty', path: 'M7.5 7.5l9 9M16.5 7.5l-9 9' },
};

export function StandingMark({ standing }: { readonly standing: Standing }): ReactNode {
  const { look, path } = SIGNS[standing];
  return (
    <svg className={`mark rigid mark-${look}`} viewBox="0 0 24 24" aria-hidden="true">
      <circle className="mark-field" cx="12" cy="12" r="11" />
      <path className="mark-stroke" d={path} />
    </svg>
  );
}
