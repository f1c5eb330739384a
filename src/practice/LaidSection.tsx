/**
 * The section of a row as it was laid, tight, in the room it has.
 */
import { useMemo, useRef, type ReactNode } from 'react';
import type { Analysis } from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { svg } from '../drawings/svg.ts';
import { useTheme } from '../page/useScreen.ts';
import { useSize } from '../widgets/useSize.ts';

export function LaidSection({
  analysis,
  stackId,
  label = 'Section of the row as you laid it',
}: {
  readonly analysis: Analysis;
  readonly stackId: string;
  readonly label?: string;
}): ReactNode {
  const theme = useTheme();
  const frame = useRef<HTMLDivElement>(null);
  const { width_px, height_px, typeScale } = useSize(frame);
  const html = useMemo(() => {
    const stack = analysis.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId);
    if (!stack || width_px === 0 || height_px === 0) return { __html: '' };
    const room = { width_px: width_px / typeScale, height_px: height_px / typeScale };
    return { __html: svg(drawSection(stack, analysis, { theme, ...room })) };
  }, [analysis, stackId, theme, width_px, height_px, typeScale]);
  return (
    <div
      ref={frame}
      className="drill-section drawing fit"
      role="group"
      aria-label={label}
      dangerouslySetInnerHTML={html}
    />
  );
}
