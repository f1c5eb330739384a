/**
 * The steps of the whole bike in the page's bar: back, track and on where the page has them, and playing on.
 */
import type { ReactNode } from 'react';
import { goTo, setPlaying, useClock } from './orderClock.ts';
import type { Run } from './orderRun.ts';
import { Track } from './Track.tsx';
import { useApp } from '../page/store.ts';

interface Props {
  readonly run: Run;
  /** Title of the step shown; none before the first. */
  readonly title: string | undefined;
  /** Playing has no room in the bar: it lies on the picture. */
  readonly isUpright: boolean;
}

export function Player({ run, title, isUpright }: Props): ReactNode {
  const total = run.steps.length;
  const at = useApp((state) => Math.min(state.order.at, total));
  const go = (to: number): void => {
    setPlaying(false);
    goTo(to, total);
  };
  return (
    <div className="hand-bar line gap-5 slim" role="group" aria-label="Steps">
      {!isUpright && <PlayButton total={total} />}
      <button
        type="button"
        className="button step-button usual medium no-wrap"
        aria-disabled={at === 0}
        onClick={() => go(at - 1)}
      >
        <Icon name="back" /> <span className="away-short">Back</span>
      </button>
      <Track
        run={run}
        at={at}
        said={at === 0 || title === undefined ? `Before the first of ${total}` : `Step ${at} of ${total}: ${title}`}
        onTo={go}
      />
      <button
        type="button"
        className="button button-main step-button usual medium no-wrap"
        aria-disabled={at >= total}
        onClick={() => go(at + 1)}
      >
        Next <Icon name="on" />
      </button>
    </div>
  );
}

/** Plays on by itself, from the beginning where the end is reached; nothing where there is nothing to play. */
export function PlayButton({ total }: { readonly total: number }): ReactNode {
  const isPlaying = useClock((clock) => clock.isPlaying);
  if (total === 0) return null;
  const word = isPlaying ? 'Pause' : 'Play';
  const play = (): void => {
    if (!isPlaying && useApp.getState().order.at >= total) goTo(0, total);
    setPlaying(!isPlaying);
  };
  return (
    <button type="button" className="button leave medium no-wrap" title={word} onClick={play}>
      <svg className="view-icon icon rigid" viewBox="0 0 24 24" aria-hidden="true">
        <path className="plan-solid" d={isPlaying ? 'M6 5h4v14H6Zm8 0h4v14h-4Z' : 'M7 5v14l12-7Z'} />
      </svg>
      <span className="view-long">{word}</span>
    </button>
  );
}

function Icon({ name }: { readonly name: 'back' | 'on' }): ReactNode {
  return (
    <svg className="arrow icon" viewBox="0 0 20 20" aria-hidden="true">
      <path d={name === 'back' ? 'M12.5 4 6.5 10l6 6' : 'm7.5 4 6 6-6 6'} />
    </svg>
  );
}
