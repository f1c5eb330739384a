/**
 * The step slider of the whole bike: back, play, slider, on. The two ends lie under two thumbs.
 */
import type { ReactNode } from 'react';
import { goTo, setPlaying, useClock } from './orderClock.ts';
import { useApp } from '../page/store.ts';

interface Props {
  readonly total: number;
  /** Title of the step shown; none before the first. */
  readonly title: string | undefined;
  /** Steps at which another task begins, counted from 1. */
  readonly begins: readonly number[];
}

export function Player({ total, title, begins }: Props): ReactNode {
  const at = useApp((state) => Math.min(state.order.at, total));
  const isPlaying = useClock((clock) => clock.isPlaying);
  const go = (to: number): void => {
    setPlaying(false);
    goTo(to, total);
  };
  const play = (): void => {
    if (!isPlaying && at >= total) goTo(0, total);
    setPlaying(!isPlaying);
  };
  return (
    <div className="plan-bar line gap-3 slim on-sheet" role="group" aria-label="Steps">
      <button
        type="button"
        className="button step-button plan-end usual medium no-wrap"
        aria-disabled={at === 0}
        onClick={() => go(at - 1)}
      >
        <Icon name="back" /> <span className="away-tall away-short">Back</span>
      </button>
      <button type="button" className="button plan-play medium no-wrap" aria-disabled={total === 0} onClick={play}>
        <Icon name={isPlaying ? 'pause' : 'play'} />
        <span className="away-tall away-short">{isPlaying ? 'Pause' : 'Play'}</span>
      </button>
      <span className="plan-slider slim anchor as-block">
        <span className="plan-count small numbers no-wrap as-block">
          {at === 0 ? `${total} steps` : `Step ${at} of ${total}`}
        </span>
        <span className="plan-ticks" aria-hidden="true">
          {begins.map((step) => (
            <span key={step} data-passed={step <= at} style={{ left: `${(step / Math.max(1, total)) * 100}%` }} />
          ))}
        </span>
        <input
          type="range"
          className="range full"
          aria-label="Step"
          min={0}
          max={total}
          step={1}
          value={at}
          disabled={total === 0}
          aria-valuetext={
            at === 0 || title === undefined ? `Before the first of ${total}` : `Step ${at} of ${total}: ${title}`
          }
          onChange={(event) => go(event.target.valueAsNumber)}
        />
      </span>
      <button
        type="button"
        className="button button-main step-button plan-end usual medium no-wrap"
        aria-disabled={at >= total}
        onClick={() => go(at + 1)}
      >
        <span className="away-tall away-short">Next</span> <Icon name="on" />
      </button>
    </div>
  );
}

function Icon({ name }: { readonly name: 'back' | 'on' | 'play' | 'pause' }): ReactNode {
  return (
    <svg className="arrow icon" viewBox="0 0 20 20" aria-hidden="true">
      {name === 'back' && <path d="M12.5 4 6.5 10l6 6" />}
      {name === 'on' && <path d="m7.5 4 6 6-6 6" />}
      {name === 'play' && <path className="plan-solid" d="M6 4v12l10-6Z" />}
      {name === 'pause' && <path className="plan-solid" d="M5 4h3v12H5Zm7 0h3v12h-3Z" />}
    </svg>
  );
}
