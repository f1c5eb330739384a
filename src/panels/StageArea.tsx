/**
 * The stage with what belongs to looking at it: where one stands, views, apart, cut, legend.
 *
 * The 3D scene is loaded when it is first needed; where there is no WebGL, or it is lost or fails, a calm word stands
 * in its place and bench row and steps carry on alone.
 */
import { Suspense, lazy, useEffect, useMemo, type ReactNode } from 'react';
import { sideWord, type PivotAnalysis } from '../../shared/index.ts';
import { usePicture } from '../app/usePicture.ts';
import type { View } from '../app/route.ts';
import { besideOf } from '../app/slips.ts';
import { stepOf } from '../app/state.ts';
import { useApp } from '../app/store.ts';
import { useStillness } from '../app/useGlide.ts';
import { useMoment } from '../app/useTravel.ts';
import { SidePlate } from './marks.tsx';
import { StageBoundary } from './StageBoundary.tsx';
import { TravelBar, TravelButton } from './travel/TravelBar.tsx';

const Stage = lazy(() => import('../scene/Stage.tsx'));

const VIEW_WORDS: Readonly<Record<View, string>> = {
  'non-drive': 'Non-drive side',
  'three-quarter': 'Three-quarter',
  above: 'Above',
  drive: 'Drive side',
};
const VIEW_ORDER: readonly View[] = ['non-drive', 'three-quarter', 'above', 'drive'];

export function StageArea({ theme }: { readonly theme: 'dark' | 'light' }): ReactNode {
  const webgl = useApp((state) => state.webgl);
  return (
    <section className={webgl === 'ok' ? 'stage' : 'stage stage-off'} aria-label="Stage">
      {webgl === 'ok' ? (
        <div className="stage-picture">
          <Picture theme={theme} />
        </div>
      ) : (
        <NoPicture isLost={webgl === 'lost'} />
      )}
      <StandLine />
      {webgl === 'ok' && (
        <>
          <Views />
          <Apart />
        </>
      )}
      <TravelBar />
    </section>
  );
}

function Picture({ theme }: { readonly theme: 'dark' | 'light' }): ReactNode {
  const { analysis, apart, places } = usePicture();
  const pivotId = useApp((state) => state.pivotId);
  const litId = useApp((state) => state.litId);
  const selectedId = useApp((state) => state.selectedId);
  const step = useApp(stepOf);
  const marked = useApp((state) => state.marked);
  const cut = useApp((state) => state.cut);
  const view = useApp((state) => state.view);
  const looks = useApp((state) => state.looks);
  const act = useApp((state) => state.act);
  const isStill = useStillness();
  const beside = useBeside();
  const moment = useMoment();
  useRedraw();
  if (!analysis) return <p className="stage-note">Opening…</p>;
  const activeIds = step ? step.items : marked;
  return (
    <StageBoundary onFailed={act.stageLost}>
      <Suspense fallback={<p className="stage-note">Setting up the stage…</p>}>
        <Stage
          analysis={analysis}
          apart={apart}
          cut={cut}
          view={view}
          glide={looks}
          theme={theme}
          reducedMotion={isStill}
          activeIds={activeIds}
          {...(moment?.picture ?? {
            ...(pivotId === undefined ? {} : { pivotId }),
            ...(beside === undefined ? {} : { beside }),
            ...(places === undefined ? {} : { places }),
          })}
          {...(litId === undefined ? {} : { litId })}
          {...(selectedId === undefined ? {} : { selectedId })}
          onLight={act.light}
          onSelect={act.select}
          onPivot={act.pickPivot}
          onApart={act.setApart}
          onStand={act.stand}
          onReady={act.stageDrew}
          onLost={act.stageLost}
        />
      </Suspense>
    </StageBoundary>
  );
}

/** The right build, while a slip is looked at: the stage draws it pale beside the slipped one. */
function useBeside(): PivotAnalysis | undefined {
  const written = useApp((state) => state.whatIf?.written);
  const pivotId = useApp((state) => state.pivotId);
  const view = useApp((state) => state.view);
  return useMemo(() => {
    const pivot = written?.pivots.find((candidate) => candidate.id === pivotId);
    return pivot && besideOf(pivot, view);
  }, [written, pivotId, view]);
}

/**
 * The stage reports its first frame alone. A model opened later on the same stage is drawn in the frame after the page
 * has handed it over; one more frame and it has been seen.
 */
function useRedraw(): void {
  const count = useApp((state) => state.opened?.count);
  const act = useApp((state) => state.act);
  useEffect(() => {
    if (useApp.getState().drawn === 0) return;
    let frame = requestAnimationFrame(() => {
      frame = requestAnimationFrame(act.stageDrew);
    });
    return () => cancelAnimationFrame(frame);
  }, [count, act]);
}

function NoPicture({ isLost }: { readonly isLost: boolean }): ReactNode {
  const act = useApp((state) => state.act);
  return (
    <div className="stage-notice" role="status">
      <p>
        <strong>{isLost ? 'The 3D picture has stopped.' : 'No 3D picture here.'}</strong>{' '}
        {isLost ? 'The graphics of this machine gave up.' : 'This browser gives no WebGL.'} Bench row, steps and fit check work without it.
      </p>
      {isLost && (
        <button type="button" className="button" onClick={act.stageAgain}>
          Try it again
        </button>
      )}
    </div>
  );
}

/** Where the person stands, in words, at all times. */
function StandLine(): ReactNode {
  const stand = useApp((state) => state.stand);
  const act = useApp((state) => state.act);
  const isPicture = useApp((state) => state.webgl === 'ok');
  const other = stand === 'drive' ? 'non-drive' : 'drive';
  return (
    <div className="stand">
      <p className="stand-line" aria-live="polite">
        <SidePlate side={stand} /> <span>You are standing on the {sideWord(stand)}</span>
      </p>
      {!isPicture && (
        <button type="button" className="button" onClick={() => act.lookFrom(other)}>
          Go round
        </button>
      )}
    </div>
  );
}

function Views(): ReactNode {
  const view = useApp((state) => state.view);
  const act = useApp((state) => state.act);
  return (
    <div className="views" role="group" aria-label="Look from">
      {VIEW_ORDER.map((name) => (
        <button key={name} type="button" className="button view-button" aria-pressed={view === name} onClick={() => act.lookFrom(name)}>
          <ViewIcon name={name} />
          <span className="view-long">{VIEW_WORDS[name]}</span>
        </button>
      ))}
      <button type="button" className="button view-button bench-button" onClick={act.backToBench}>
        <ViewIcon name="bench" />
        <span className="view-long">Back to the bench</span>
      </button>
    </div>
  );
}

function ViewIcon({ name }: { readonly name: View | 'bench' | 'cut' | 'legend' }): ReactNode {
  return (
    <svg className="view-icon" viewBox="0 0 24 24" aria-hidden="true">
      {(name === 'drive' || name === 'non-drive') && (
        <text x="12" y="17.5">
          {name === 'drive' ? 'D' : 'N'}
        </text>
      )}
      {name === 'three-quarter' && <path d="m12 3 8 4.5v9L12 21l-8-4.5v-9ZM4 7.5l8 4.5 8-4.5M12 12v9" />}
      {name === 'above' && <path d="M12 3v10m-4-4 4 4 4-4M4 18h16" />}
      {name === 'bench' && <path d="M3 9h18M6 9v10M18 9v10M6 14h12" />}
      {name === 'cut' && <path d="M4 5h16v14H4ZM4 12h16M7 15l2 4M12 12l4 7M18 12l2 3.5" />}
      {name === 'legend' && <path d="M4 6h5v4H4ZM4 14h5v4H4ZM13 8h7M13 16h7" />}
    </svg>
  );
}

function Apart(): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined);
  const apart = useApp((state) => state.apart);
  const isStepping = useApp((state) => state.step !== undefined);
  const cut = useApp((state) => state.cut);
  const act = useApp((state) => state.act);
  const isTravelling = useApp((state) => state.travel !== undefined);
  if (isTravelling) return null;
  return (
    <div className="stage-foot">
      {hasPivot && !isStepping && (
        <label className="apart">
          <span className="apart-word">Apart</span>
          <input
            type="range"
            className="range"
            min={0}
            max={1}
            step={0.01}
            value={apart}
            aria-valuetext={apart === 0 ? 'tight' : apart === 1 ? 'fully apart' : `${Math.round(apart * 100)} %`}
            onChange={(event) => act.setApart(event.target.valueAsNumber)}
          />
        </label>
      )}
      {hasPivot && isStepping && (
        <button type="button" className="button leave" onClick={() => act.stepTo(undefined)}>
          Leave the steps
        </button>
      )}
      <span className="stage-foot-end">
        <TravelButton />
        {hasPivot && (
          <button type="button" className="button" aria-pressed={cut} onClick={() => act.setCut(!cut)}>
            <ViewIcon name="cut" />
            <span className="view-long">Cut open</span>
          </button>
        )}
        <button type="button" className="button" onClick={() => act.openDialog('legend')}>
          <ViewIcon name="legend" />
          <span className="view-long">Legend</span>
        </button>
      </span>
    </div>
  );
}
