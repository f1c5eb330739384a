/**
 * The stage with what belongs to looking at it: where one stands, views, apart, cut, legend.
 *
 * The 3D scene is loaded when it is first needed; where there is no WebGL, or it is lost or fails, a calm word stands
 * in its place and bench row and steps carry on alone.
 */
import { Suspense, lazy, useEffect, useMemo, type ReactNode } from 'react';
import { sideWord, type PivotAnalysis } from '../../shared/index.ts';
import { usePicture } from '../app/usePicture.ts';
import type { Room } from '../app/room.ts';
import type { View } from '../app/route.ts';
import { besideOf } from '../app/slips.ts';
import { stepOf } from '../app/state.ts';
import { useApp } from '../app/store.ts';
import { useStillness } from '../app/useGlide.ts';
import { useReturn } from '../app/useReturn.ts';
import { useMoment } from '../app/useTravel.ts';
import { ApartControl, CutButton } from './ApartControl.tsx';
import { SidePlate } from './marks.tsx';
import { useStageHand } from './stageHand.ts';
import { StageBoundary } from './StageBoundary.tsx';
import { TravelBar, TravelButton } from './travel/TravelBar.tsx';
import { ViewIcon } from './ViewIcon.tsx';

const Stage = lazy(() => import('../scene/Stage.tsx'));

const VIEW_WORDS: Readonly<Record<View, string>> = {
  'non-drive': 'Non-drive side',
  'three-quarter': 'Three-quarter',
  above: 'Above',
  drive: 'Drive side',
};
const VIEW_ORDER: readonly View[] = ['non-drive', 'three-quarter', 'above', 'drive'];

interface Props {
  readonly theme: 'dark' | 'light';
  readonly room: Room;
}

export function StageArea({ theme, room }: Props): ReactNode {
  const webgl = useApp((state) => state.webgl);
  const { tries, again, picture } = useReturn();
  return (
    <section className={webgl === 'ok' ? 'stage' : 'stage stage-off'} aria-label="Stage">
      {/* A lost picture stays in the page, unseen: only then may the browser give its context back, and the hand's view with it. */}
      {webgl !== 'missing' && (
        <div className="stage-picture" ref={picture} hidden={webgl === 'lost'}>
          <Picture key={tries} theme={theme} />
        </div>
      )}
      {webgl !== 'ok' && <NoPicture isLost={webgl === 'lost'} onAgain={again} />}
      <StandLine />
      {webgl === 'ok' && <Views />}
      <StageFoot room={room} />
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
  const apartOf = useStageHand((state) => state.apartOf);
  const isStill = useStillness();
  const beside = useBeside();
  const moment = useMoment();
  useRedraw();
  if (!analysis) return <p className="stage-note">Opening…</p>;
  const activeIds = step ? step.step.items : marked;
  return (
    <StageBoundary onFailed={act.stageLost}>
      <Suspense fallback={<p className="stage-note">Setting up the stage…</p>}>
        <Stage
          analysis={analysis}
          apart={apart}
          apartOf={apartOf}
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
 * has handed it over; one more frame and it has been seen. The same holds for a picture that has come back.
 */
function useRedraw(): void {
  const count = useApp((state) => state.opened?.count);
  const isShown = useApp((state) => state.webgl === 'ok');
  const act = useApp((state) => state.act);
  useEffect(() => {
    if (!isShown || useApp.getState().drawn === 0) return;
    let frame = requestAnimationFrame(() => {
      frame = requestAnimationFrame(act.stageDrew);
    });
    return () => cancelAnimationFrame(frame);
  }, [count, isShown, act]);
}

function NoPicture({ isLost, onAgain }: { readonly isLost: boolean; readonly onAgain: () => void }): ReactNode {
  return (
    <div className="stage-notice" role="status">
      <p>
        <strong>{isLost ? 'The 3D picture has stopped.' : 'No 3D picture here.'}</strong>{' '}
        {isLost
          ? 'The graphics of this machine gave up; it comes back here when they do.'
          : 'This browser gives no WebGL.'}{' '}
        Bench row, steps and fit check work without it.
      </p>
      {isLost && (
        <button type="button" className="button" onClick={onAgain}>
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

export function Views(): ReactNode {
  const view = useApp((state) => state.view);
  const act = useApp((state) => state.act);
  return (
    <div className="views" role="group" aria-label="Look from">
      {VIEW_ORDER.map((name) => (
        <button
          key={name}
          type="button"
          className="button view-button"
          aria-pressed={view === name}
          onClick={() => act.lookFrom(name)}
        >
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

function StageFoot({ room }: { readonly room: Room }): ReactNode {
  const act = useApp((state) => state.act);
  const isTravelling = useApp((state) => state.travel !== undefined);
  if (isTravelling) return null;
  return (
    <div className="stage-foot">
      {room !== 'tall' && <ApartControl />}
      <span className="stage-foot-end">
        <TravelButton />
        {room !== 'tall' && <CutButton />}
        <button type="button" className="button" onClick={() => act.openDialog('legend')}>
          <ViewIcon name="legend" />
          <span className="view-long">Legend</span>
        </button>
      </span>
    </div>
  );
}
