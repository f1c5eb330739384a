/**
 * How many sets clamp, pinch and play, as one bar and in words with their marks.
 */
import type { ReactNode } from 'react';
import { SET_CLASSES, wordSetClass, type SetClass } from '../../shared/index.ts';

export function CountBar({ counts }: { readonly counts: Readonly<Record<SetClass, number>> }): ReactNode {
  const total = SET_CLASSES.reduce((sum, name) => sum + counts[name], 0);
  return (
    <div className="counts">
      <div className="counts-bar flex hair clip" aria-hidden="true">
        {SET_CLASSES.filter((name) => counts[name] > 0).map((name) => (
          <span key={name} className={`build-${name}`} style={{ flexGrow: counts[name] / total }} />
        ))}
      </div>
      <ul className="counts-key flow small">
        {SET_CLASSES.map((name) => (
          <li key={name}>
            <span className={`window-swatch build-${name}`} aria-hidden="true" />{' '}
            <strong>{counts[name].toLocaleString('en-GB')}</strong> {wordSetClass(name)}
          </li>
        ))}
      </ul>
    </div>
  );
}
