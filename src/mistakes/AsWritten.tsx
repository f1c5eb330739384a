/**
 * The build as written in the row, grey, under the mistake it is compared with.
 */
import { useMemo, useRef, type ReactNode } from 'react';
import type { Analysis, StackAnalysis } from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { svg } from '../drawings/svg.ts';
import { useApp } from '../page/store.ts';
import { useTheme } from '../page/useScreen.ts';
import { useSize } from '../widgets/useSize.ts';

export function AsWritten({ stackId }: { readonly stackId: string }): ReactNode {
  const written = useApp((state) => state.whatIf && state.opened?.analysis);
  const stack = written?.pivots.flatMap((pivot) => pivot.stacks).find((candidate) => candidate.id === stackId);
  return written && stack ? <Drawing written={written} stack={stack} /> : null;
}

interface Props {
  readonly written: Analysis;
  readonly stack: StackAnalysis;
}

function Drawing({ written, stack }: Props): ReactNode {
  const theme = useTheme();
  const frame = useRef<HTMLDivElement>(null);
  const { width_px, height_px } = useSize(frame);
  const html = useMemo(() => {
    if (width_px === 0 || height_px === 0) return { __html: '' };
    return { __html: svg(drawSection(stack, written, { theme, width_px, height_px, bare: true })) };
  }, [stack, written, theme, width_px, height_px]);
  return (
    <div className="right-build anchor">
      <p className="right-build-word small bold">As written</p>
      <div
        ref={frame}
        className="right-build-drawing clip"
        role="group"
        aria-label="Section of the row as written, for comparison"
        dangerouslySetInnerHTML={html}
      />
    </div>
  );
}
