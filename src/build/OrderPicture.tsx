/**
 * The picture of the build order: the whole bike as far as it has come, or the pivot of the step close up. It is the
 * page's own picture, lent; what works through a run elsewhere has one to itself.
 */
import { useEffect, useLayoutEffect, useMemo, useState, type ReactNode } from 'react';
import { createPortal } from 'react-dom';
import { nameOf, type Analysis } from '../../shared/index.ts';
import { useClock } from './orderClock.ts';
import { useMomentAt } from './orderFrames.ts';
import { inHandOf } from './inHand.ts';
import { pictureOf, placesAt, standOf, type Run } from './orderRun.ts';
import { useApp } from '../page/store.ts';
import { pickTab } from './orderTab.ts';
import { pickStepOf, useCloseUp } from './closeUp.ts';
import { lend, useLent } from '../picture/lent.ts';
import { Views } from '../picture/Views.tsx';
import { ViewIcon } from '../picture/ViewIcon.tsx';
import { PictureFrame, type OwnPicture } from '../picture/PictureFrame.tsx';
import { StandMark, standWord } from './marks.tsx';

interface Props {
  readonly analysis: Analysis;
  readonly run: Run;
}

/** Has the page's picture show the run, with the words of the run on it; nothing of its own. */
export function LentPicture({ analysis, run, foot }: Props & { readonly foot?: ReactNode }): ReactNode {
  const picture = useRunPicture(analysis, run);
  const at = useApp((state) => Math.min(state.order.at, run.steps.length));
  const pivotId = run.steps[at - 1]?.step.pivotId ?? accessPivot(analysis, picture.selectedId);
  const host = useLent((state) => state.host);
  useLayoutEffect(() => lend(picture, pivotId), [picture, pivotId]);
  useLayoutEffect(() => () => lend(undefined), []);
  return (
    host &&
    createPortal(<Marks analysis={analysis} run={run} isMoving={picture.frame !== undefined} foot={foot} />, host)
  );
}

/** The picture with a section to itself, for a place that lies beside the page. */
export function OrderPicture({ analysis, run }: Props): ReactNode {
  const webgl = useApp((state) => state.webgl);
  const picture = useRunPicture(analysis, run);
  return (
    <section className="plan-picture picture fit anchor clip" aria-label="Picture">
      {webgl === 'ok' ? (
        <div className="picture-canvas over">
          <PictureFrame {...picture} />
        </div>
      ) : (
        <p className="picture-note over stack soft">No 3D picture here. Steps, order and access work without it.</p>
      )}
      <Marks analysis={analysis} run={run} isMoving={picture.frame !== undefined} isAlone />
      {webgl === 'ok' && <Views />}
    </section>
  );
}

/** What is put on the picture: where to stand, the part pressed, close up or the whole bike. */
function Marks({
  analysis,
  run,
  isMoving,
  foot,
  isAlone = false,
}: Props & {
  readonly isMoving: boolean;
  readonly foot?: ReactNode;
  /** The strip of pivots, which leads close up and back, is not there. */
  readonly isAlone?: boolean;
}): ReactNode {
  const hasPicture = useApp((state) => state.webgl === 'ok');
  const at = useApp((state) => Math.min(state.order.at, run.steps.length));
  const act = useApp((state) => state.act);
  const isClose = useCloseUp((state) => state.isClose);
  const shown = run.steps[at - 1];
  const stand = shown && standOf(shown);
  const pivotId = shown?.step.pivotId;
  return (
    <>
      <div
        className="stand order-stand line gap-5"
        data-step={at}
        data-on={[...(shown?.on ?? run.on)].join(' ')}
        data-motion={isMoving}
      >
        <p className="stand-line line large bold" aria-live="polite">
          <StandMark stand={stand} />
          <span>
            {stand === undefined
              ? 'Before the first step'
              : stand === 'bench'
                ? 'Work at the workbench'
                : `Stand on the ${standWord(stand)}`}
          </span>
        </p>
      </div>
      {hasPicture && <Chosen analysis={analysis} />}
      <div className="picture-foot line gap-5">
        {foot}
        <span className="picture-foot-end flex hair end">
          {hasPicture && isAlone && (
            <button
              type="button"
              className="button medium no-wrap"
              aria-pressed={isClose}
              onClick={() => useCloseUp.setState({ isClose: !isClose })}
            >
              <svg className="view-icon icon rigid" viewBox="0 0 24 24" aria-hidden="true">
                <path d="M10.5 4a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13ZM15.5 15.5 20 20M10.5 7.5v6M7.5 10.5h6" />
              </svg>
              <span className="view-long">Close up</span>
            </button>
          )}
          {pivotId !== undefined && (
            <button
              type="button"
              className="button medium no-wrap"
              onClick={() => {
                act.goToPlace(undefined);
                act.pickPivot(pivotId);
              }}
            >
              <svg className="view-icon icon rigid" viewBox="0 0 24 24" aria-hidden="true">
                <path d="M3 9h18M6 9v10M18 9v10M6 14h12" />
              </svg>
              <span className="view-long">On the bench</span>
            </button>
          )}
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('legend')}>
            <ViewIcon name="legend" />
            <span className="view-long">Legend</span>
          </button>
        </span>
      </div>
    </>
  );
}

/** The part pressed on the picture, and the way to what has to come off for it. */
function Chosen({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const access = useApp((state) => (state.order.of === 'access' ? undefined : state.order.access));
  if (access === undefined || !access.includes('/')) return null;
  return (
    <button type="button" className="button plan-chosen medium clip no-wrap" onClick={() => pickTab('access')}>
      Access: {nameOf(access, analysis)}
    </button>
  );
}

const ignore = (): void => undefined;

/** The pivot that a part to be reached stands in. */
function accessPivot({ pivots }: Analysis, access: string | undefined): string | undefined {
  return pivots.find(({ stacks }) => stacks.some(({ items }) => items.some(({ id }) => id === access)))?.id;
}

/** What the picture shows of a run now. */
function useRunPicture(analysis: Analysis, run: Run): OwnPicture {
  const position = useClock((clock) => Math.min(clock.position, run.steps.length));
  const access = useApp((state) => state.order.access);
  const isClose = useCloseUp((state) => state.isClose);
  const picture = useMemo(() => pictureOf(analysis, run, position, isClose), [analysis, run, position, isClose]);
  const frame = useMomentAt(analysis, run, position);
  const reached = Math.ceil(position);
  const inHand = useMemo(() => {
    const pivot = analysis.pivots.find(({ id }) => id === picture.pivotId);
    const shown = run.steps[reached - 1];
    const hand = pivot && shown && inHandOf(shown, pivot);
    return hand && { ...hand, among: placesAt(run, pivot, reached) };
  }, [analysis, run, reached, picture.pivotId]);
  // Before anything is opened a pivot can be looked into, so that a part of it can be pressed.
  const [look, setLook] = useState<string | undefined>(undefined);
  useEffect(() => setLook(undefined), [access]);
  const isLooking = position === 0 && run.isBuilt && isClose;
  const pivotId = isLooking ? (look ?? accessPivot(analysis, access)) : picture.pivotId;
  return useMemo(
    () => ({
      analysis,
      apart: isLooking && pivotId !== undefined ? 1 : 0,
      cut: false,
      activeIds: picture.activeIds,
      hidden: picture.hidden,
      pivotId,
      places: picture.places,
      frame: isLooking ? undefined : frame,
      inHand,
      selectedId: access,
      onSelect: pickAccess,
      onPivot: (id) => (isLooking ? setLook(id) : pickStepOf(run, id)),
      onApart: ignore,
    }),
    [analysis, run, isLooking, pivotId, picture, frame, inHand, access],
  );
}

/** A part pressed on the picture is the part to be reached. */
function pickAccess(id: string | undefined): void {
  const { act, order } = useApp.getState();
  if (id === undefined || id === order.access) return;
  act.setOrder({ ...order, access: id, ...(order.tab === 'access' ? { at: 0 } : {}) });
}
