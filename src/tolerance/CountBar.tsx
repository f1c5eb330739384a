/**
 * How many builds clamp, pinch and play, as one bar and in words with their marks.
 */
import type { ReactNode } from 'react';
import { BUILD_CLASSES, wordBuildClass, type BuildClass } from '../../shared/index.ts';

export function CountBar({ counts }: { readonly counts: Readonly<Record<BuildClass, number>> }): ReactNode {
  const total = BUILD_CLASSES.reduce((sum, name) => sum + counts[name], 0);
  return (
    <div className="counts">
      <div className="counts-bar" aria-hidden="true">
        {BUILD_CLASSES.filter((name) => counts[name] > 0).map((name) => (
          <span key={name} className={`build-${name}`} style={{ flexGrow: counts[name] / total }} />
        ))}
      </div>
      <ul className="counts-key">
        {BUILD_CLASSES.map((name) => (
          <li key={name}>
            <span className={`window-swatch build-${name}`} aria-hidden="true" />{' '}
            <strong>{counts[name].toLocaleString('en-GB')}</strong> {wordBuildClass(name)}
          </li>
        ))}
      </ul>
    </div>
  );
}
