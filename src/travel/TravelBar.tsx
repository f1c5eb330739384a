/**
 * The bar that moves the linkage: slider, play and pause, shock in or out, and letting go.
 */
import { useEffect, type ReactNode } from 'react';
import { shownOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import type { TravelView } from './travel.ts';
import { WorkProgress } from '../widgets/WorkProgress.tsx';
import { useMoment, useRunner, useTravelled } from './useTravel.ts';

/** Shares of the travel that an arrow key moves by. */
const KEY_STEP = 0.01;

export function TravelBar(): ReactNode {
  const view = useApp((state) => state.travel);
  const analysis = useApp(shownOf);
  const { work, travelled } = useTravelled();
  const moment = useMoment();
  const { running, fell, play, letGo, stop } = useRunner();
  const isOut = view?.isOut ?? false;
  // What was found of one build, or with the shock in, says nothing of another.
  useEffect(() => stop(), [analysis, isOut, stop]);
  if (!view || !analysis) return null;
  if (!moment)
    return (
      <div className="travel-bar stack" role="group" aria-label="Travel">
        <div className="travel-line line gap-3 slim">
          <WorkProgress work={work} label="Working out the travel" />
          <DoneButton />
        </div>
      </div>
    );
  const hasShock = travelled?.run.drive.kind === 'shock';
  const isRunning = running !== 'no';
  const slide = (share: number): void => {
    stop();
    act.setTravel({ ...view, share });
  };
  return (
    <div className="travel-bar stack" role="group" aria-label="Travel">
      <div className="travel-line line gap-3 slim">
        {isOut ? (
          <button
            type="button"
            className="button button-main medium no-wrap"
            aria-disabled={isRunning}
            onClick={() => (isRunning ? undefined : letGo())}
          >
            <Icon name="drop" /> <span className="away-short">Let go</span>
          </button>
        ) : (
          <button
            type="button"
            className="button button-main medium no-wrap"
            onClick={running === 'playing' ? stop : play}
          >
            <Icon name={running === 'playing' ? 'pause' : 'play'} />
            <span className="away-short">{running === 'playing' ? 'Pause' : 'Play'}</span>
          </button>
        )}
        <input
          type="range"
          className="range full"
          aria-label={isOut ? 'Lift the linkage through its travel' : 'Travel'}
          min={0}
          max={1}
          step={KEY_STEP}
          value={view.share}
          aria-valuetext={[moment.drive, moment.rise].filter((word) => word !== '').join(', ')}
          onChange={(event) => slide(event.target.valueAsNumber)}
        />
        {hasShock && (
          <button
            type="button"
            className="button medium no-wrap"
            aria-pressed={isOut}
            onClick={() => act.setTravel({ ...view, isOut: !isOut })}
          >
            Shock out
          </button>
        )}
        <DoneButton />
      </div>
      <p className="travel-now flow numbers">
        <strong>{moment.drive}</strong>
        {moment.rise !== '' && <span>{moment.rise}</span>}
        <span role="status" className={fell === 'hangs' ? 'bold trouble-words' : 'bold'}>
          {fell === 'through'
            ? 'It falls through under its own weight.'
            : fell === 'hangs'
              ? 'It hangs: a pivot holds it.'
              : ''}
        </span>
      </p>
    </div>
  );
}

function DoneButton(): ReactNode {
  return (
    <button type="button" className="button medium no-wrap" onClick={() => act.setTravel(undefined)}>
      Done
    </button>
  );
}

/** Begin the travel, seen from the side one stands on: there it shows best. */
function begin(view: TravelView): void {
  const { stand } = useApp.getState();
  act.setTravel(view);
  act.lookFrom(stand);
}

/** The button on the picture that begins the travel. */
export function TravelButton(): ReactNode {
  return (
    <button type="button" className="button medium no-wrap" onClick={() => begin({ share: 0, isOut: false })}>
      <svg className="view-icon icon rigid" viewBox="0 0 24 24" aria-hidden="true">
        <path d="M5 20h14M12 3v14M8 7l4-4 4 4M8 13l4 4 4-4" />
      </svg>
      <span className="view-long">Travel</span>
    </button>
  );
}

/** The way to the travel from the card of the whole bike, where there may be no picture. */
export function TravelEntry(): ReactNode {
  return (
    <button
      type="button"
      className="go-button warms press line gap-4 strong"
      onClick={() => begin({ share: 0, isOut: false })}
    >
      <Icon name="play" /> <span>Run it through its travel</span>
    </button>
  );
}

/**
 * From a mistake that is looked at to whether the linkage would still fall; nothing where there is no shock to take
 * out.
 */
export function FallEntry(): ReactNode {
  const hasShock = useApp((state) => shownOf(state)?.model.shock !== undefined);
  if (!hasShock) return null;
  return (
    <button
      type="button"
      className="go-button warms press line gap-4 strong"
      onClick={() => begin({ share: 1, isOut: true })}
    >
      <Icon name="drop" /> <span>Shock out: see whether it still falls</span>
    </button>
  );
}

function Icon({ name }: { readonly name: 'play' | 'pause' | 'drop' }): ReactNode {
  return (
    <svg className="travel-icon" viewBox="0 0 20 20" aria-hidden="true">
      {name === 'play' && <path d="M5 3v14l12-7Z" />}
      {name === 'pause' && <path d="M4 3h4v14H4Zm8 0h4v14h-4Z" />}
      {name === 'drop' && <path d="M8 2h4v8h4l-6 8-6-8h4Z" />}
    </svg>
  );
}
