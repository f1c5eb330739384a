/**
 * A drawing of `drawings/` put on the page. Its text is ours and escaped where it is made.
 */
import { memo, type ReactNode } from 'react';

export const Drawing = memo(function Drawing({
  svg,
  className,
}: {
  readonly svg: string;
  readonly className?: string;
}): ReactNode {
  return (
    <span
      className={className === undefined ? 'drawing-box' : `drawing-box ${className}`}
      dangerouslySetInnerHTML={{ __html: svg }}
    />
  );
});
