/**
 * The row: the picked stack as a section drawing from the non-drive to the drive side.
 *
 * The drawing is that of `drawings/section.ts`; pointing at a part in it and on the picture light up the same item, a
 * double tap turns it round. A step moves both. The row editor serves the keyboard.
 */
import { useEffect, useMemo, useRef, type ReactNode } from 'react';
import type { StackAnalysis } from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { svg as svgOf } from '../drawings/svg.ts';
import { pivotOf, seenIn, shownOf, stackOf, stepOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { usePicture } from '../bike/usePicture.ts';
import { useLent } from '../picture/lent.ts';
import { useLine } from '../picture/useLine.ts';
import { useTheme } from '../page/useScreen.ts';
import { useSize } from '../widgets/useSize.ts';
import { useStanding } from './useStanding.ts';
import { BuildOrder } from '../build/BuildOrder.tsx';
import { useTaps } from '../mistakes/useTaps.ts';

const NONE: readonly string[] = [];

export function TheRow(): ReactNode {
  const pivot = useApp((state) => pivotOf(seenIn(state)));
  const stack = useApp((state) => stackOf(seenIn(state)));
  return (
    <section className="the-row flex fit anchor" aria-label="The row">
      {pivot && stack ? (
        <>
          {pivot.stacks.length > 1 && <StackTabs stacks={pivot.stacks} picked={stack.id} />}
          <Drawing stack={stack} />
        </>
      ) : (
        <BuildOrder />
      )}
    </section>
  );
}

function StackTabs({
  stacks,
  picked,
}: {
  readonly stacks: readonly StackAnalysis[];
  readonly picked: string;
}): ReactNode {
  return (
    <div className="segments tinted" role="group" aria-label="Axles of this pivot">
      {stacks.map((stack) => (
        <button
          key={stack.id}
          type="button"
          className="segment medium no-wrap"
          aria-pressed={stack.id === picked}
          onClick={() => act.pickStack(stack.id)}
        >
          {stack.name}
        </button>
      ))}
    </div>
  );
}

/** The section; one that takes the picture's place `moves` with apart and steps, the other shows the tight joint. */
export function Drawing({
  stack,
  moves = false,
}: {
  readonly stack: StackAnalysis;
  readonly moves?: boolean;
}): ReactNode {
  const theme = useTheme();
  const ownAnalysis = useApp((state) => shownOf(seenIn(state)));
  const ownTap = useTaps();
  const litId = useApp((state) => state.litId);
  const selectedId = useApp((state) => state.selectedId);
  const marked = useApp((state) => state.marked);
  const ownActive = useApp((state) => stepOf(state)?.step.items ?? NONE);
  const lent = useLent((state) => (moves ? state.picture : undefined));
  const active = lent ? (lent.activeIds ?? NONE) : ownActive;
  const frame = useRef<HTMLDivElement>(null);
  const { width_px, height_px, typeScale } = useSize(frame);
  const hasPicture = useApp((state) => state.webgl === 'ok');
  const ownPlaces = usePicture().places;
  const stepping = lent ? lent.places : ownPlaces;
  const analysis = lent?.analysis ?? ownAnalysis;
  const tap = lent?.onSelect ?? ownTap;
  const places = moves || hasPicture ? stepping : undefined;
  const standing = useStanding(stack, width_px, moves);
  const seen = useLine(({ line }) => (line?.pivotId === stack.pivotId ? line : undefined));

  const svg = useMemo(() => {
    if (!analysis || width_px === 0 || height_px === 0) return '';
    // The drawing knows one size of type; drawn for a smaller place and shown larger, it follows the page's.
    const scale = typeScale;
    const place = { width_px: width_px / scale, height_px: height_px / scale };
    // The picture tells the page's px, the drawing counts its own.
    const line = seen && {
      zero_px: (seen.zero_px - (frame.current?.getBoundingClientRect().left ?? 0)) / scale,
      px_per_mm: seen.px_per_mm / scale,
    };
    const offsets_mm = standing?.offsets_mm ?? seen?.offsets_mm;
    return svgOf(
      drawSection(stack, analysis, {
        theme,
        ...place,
        line,
        offsets_mm,
        seat: standing?.seat,
        // What is not on the bike yet is not in the picture either.
        ghosts: seen && places ? false : undefined,
        places,
        column: !moves,
        activeIds: active,
      }),
    );
  }, [stack, analysis, theme, width_px, height_px, typeScale, seen, standing, moves, places, active]);
  const html = useMemo(() => ({ __html: svg }), [svg]);

  useEffect(() => {
    for (const part of frame.current?.querySelectorAll<SVGElement>('[data-item]') ?? []) {
      const id = part.dataset.item ?? '';
      part.classList.toggle('is-lit', id === litId);
      part.classList.toggle('is-selected', id === selectedId);
      part.classList.toggle('is-marked', marked.includes(id));
    }
  }, [svg, litId, selectedId, marked]);

  return (
    <div
      ref={frame}
      className="drawing fit"
      role="group"
      aria-label={moves ? 'The row, apart or in its step' : 'Section of the row'}
      tabIndex={0}
      onPointerOver={(event) => act.light(itemAt(event.target))}
      onPointerLeave={() => act.light(undefined)}
      onClick={(event) => tap(itemAt(event.target))}
      dangerouslySetInnerHTML={html}
    />
  );
}

function itemAt(target: EventTarget): string | undefined {
  return target instanceof Element ? (target.closest<SVGElement>('[data-item]')?.dataset.item ?? undefined) : undefined;
}
