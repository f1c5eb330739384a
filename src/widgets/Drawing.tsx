/**
 * A drawing of `drawings/` put on the page. Its text is ours and escaped where it is written.
 */
import { memo, type ReactNode } from 'react';
import type { Drawing as Drawn } from '../drawings/shapes.ts';
import { svg } from '../drawings/svg.ts';

export const Drawing = memo(function Drawing({
  drawing,
  className,
}: {
  readonly drawing: Drawn;
  readonly className?: string;
}): ReactNode {
  return (
    <span
      className={className === undefined ? 'drawing-box as-block' : `drawing-box as-block ${className}`}
      dangerouslySetInnerHTML={{ __html: svg(drawing) }}
    />
  );
});
