/**
 * The section of a row being measured; a tap on a part of it takes that part in hand.
 */
import { useEffect, useMemo, useRef, type ReactNode } from 'react';
import type { Analysis } from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { svg as svgOf } from '../drawings/svg.ts';
import { useTheme } from '../page/useScreen.ts';
import { useSize } from '../widgets/useSize.ts';

/** Most and least height of the section, px, and its share of the width. */
const TALL_px = 330;
const LOW_px = 200;
const SHARE = 0.42;

export function DraftSection({
  analysis,
  stackId,
  lit,
  onPick,
}: {
  readonly analysis: Analysis;
  readonly stackId: string;
  /** Items that stand out. */
  readonly lit: readonly string[];
  readonly onPick: (item: string | undefined) => void;
}): ReactNode {
  const theme = useTheme();
  const frame = useRef<HTMLDivElement>(null);
  const { width_px, typeScale } = useSize(frame);
  const stack = analysis.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId);
  const html = useMemo(() => {
    if (!stack || width_px === 0) return { __html: '' };
    const width = width_px / typeScale;
    const height_px = Math.min(TALL_px, Math.max(LOW_px, width * SHARE));
    return { __html: svgOf(drawSection(stack, analysis, { theme, width_px: width, height_px })) };
  }, [stack, analysis, theme, width_px, typeScale]);
  useEffect(() => {
    for (const part of frame.current?.querySelectorAll<SVGElement>('[data-item]') ?? [])
      part.classList.toggle(
        'is-selected',
        lit.some((item) => part.dataset.item === `${stackId}/${item}`),
      );
  }, [html, stackId, lit]);
  return (
    <div
      ref={frame}
      className="drawing draft-section"
      role="group"
      aria-label="Section of the row"
      onClick={({ target }) => {
        const id = target instanceof Element ? target.closest<SVGElement>('[data-item]')?.dataset.item : undefined;
        if (id?.startsWith(`${stackId}/`) === true) onPick(id.slice(stackId.length + 1));
      }}
      dangerouslySetInnerHTML={html}
    />
  );
}
