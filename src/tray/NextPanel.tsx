/**
 * The next measurement: the one reading that settles most, with the callipers drawn where they belong.
 */
import { useMemo, type ReactNode } from 'react';
import { calliperPlace, nextReading, wordNext } from '../../shared/index.ts';
import type { SortedDrafts } from './tray.ts';
import { useTray } from './trayStore.ts';
import { fieldOfNext } from './trayWords.ts';
import { drawPart } from '../drawings/part.ts';
import { Drawing } from '../widgets/Drawing.tsx';

export function NextPanel({ sorted }: { readonly sorted: SortedDrafts }): ReactNode {
  const takeInHand = useTray((state) => state.takeInHand);
  const { tray, keyOf } = sorted;
  const next = useMemo(() => nextReading(tray), [tray]);
  if (!next) return null;
  const { title, text } = wordNext(next, tray);
  const part = tray.candidates.get(next.between[0]!)?.part;
  const place = part && calliperPlace(part, next.name);
  const picture = part && place ? drawPart({ part, scale: 3, callipers: place, title }) : undefined;
  return (
    <section className="tray-next callout line wrap" aria-label="Next measurement">
      {picture !== undefined && <Drawing drawing={picture} className="tray-next-picture rigid" />}
      <div className="tray-next-words stack gap-2 from-start">
        <h3>{title}</h3>
        <p>{text}</p>
        <button
          type="button"
          className="button button-main medium no-wrap"
          onClick={() => takeInHand(keyOf[next.row], fieldOfNext(next.name))}
        >
          Enter it
        </button>
      </div>
    </section>
  );
}
