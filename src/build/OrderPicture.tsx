/**
 * The picture of the build order: the whole bike as far as it has come, or the pivot of the step close up.
 */
import { useEffect, useMemo, useState, type ReactNode } from 'react';
import { nameOf, sideWord, type Analysis } from '../../shared/index.ts';
import { useClock } from './orderClock.ts';
import { useMomentAt } from './orderFrames.ts';
import { pictureOf, standOf, type Run } from './orderRun.ts';
import { useApp } from '../page/store.ts';
import { pickTab } from './orderTab.ts';
import { Views } from '../picture/Views.tsx';
import { PictureFrame } from '../picture/PictureFrame.tsx';
import { StandMark, standWord } from './marks.tsx';

interface Props {
  readonly analysis: Analysis;
  readonly run: Run;
  readonly isClose: boolean;
  readonly setClose: (isClose: boolean) => void;
}

export function OrderPicture({ analysis, run, isClose, setClose }: Props): ReactNode {
  const webgl = useApp((state) => state.webgl);
  const at = useApp((state) => Math.min(state.order.at, run.steps.length));
  const act = useApp((state) => state.act);
  const shown = run.steps[at - 1];
  const stand = shown && standOf(shown);
  return (
    <section
      className="plan-picture picture fit anchor clip"
      aria-label="Picture"
      data-step={at}
      data-on={[...(shown?.on ?? run.on)].join(' ')}
    >
      {webgl === 'ok' ? (
        <Drawn analysis={analysis} run={run} isClose={isClose} />
      ) : (
        <p className="picture-note over stack soft">No 3D picture here. Steps, order and access work without it.</p>
      )}
      <div className="stand line gap-5">
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
      {webgl === 'ok' && <Views />}
      {webgl === 'ok' && <Chosen analysis={analysis} />}
      {webgl === 'ok' && (
        <div className="picture-foot line gap-5">
          <LookLine side={shown?.step.side} />
          <span className="picture-foot-end flex hair end">
            <button
              type="button"
              className="button medium no-wrap"
              aria-pressed={isClose}
              onClick={() => setClose(!isClose)}
            >
              <svg className="view-icon icon rigid" viewBox="0 0 24 24" aria-hidden="true">
                <path d="M10.5 4a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13ZM15.5 15.5 20 20M10.5 7.5v6M7.5 10.5h6" />
              </svg>
              <span className="view-long">Close up</span>
            </button>
            {shown?.step.pivotId !== undefined && (
              <button
                type="button"
                className="button medium no-wrap"
                onClick={() => {
                  act.goToPlace(undefined);
                  act.pickPivot(shown.step.pivotId);
                }}
              >
                <svg className="view-icon icon rigid" viewBox="0 0 24 24" aria-hidden="true">
                  <path d="M3 9h18M6 9v10M18 9v10M6 14h12" />
                </svg>
                <span className="view-long">On the workbench</span>
              </button>
            )}
          </span>
        </div>
      )}
    </section>
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

/** From where one looks, when that is not where the step is worked from, and the way there. */
function LookLine({ side }: { readonly side: 'drive' | 'non-drive' | undefined }): ReactNode {
  const look = useApp((state) => state.stand);
  const act = useApp((state) => state.act);
  if (side === undefined || side === look) return null;
  return (
    <button type="button" className="button plan-look medium no-wrap" onClick={() => act.lookFrom(side)}>
      Look from the {sideWord(side)}
    </button>
  );
}

function Drawn({ analysis, run, isClose }: Omit<Props, 'setClose'>): ReactNode {
  const position = useClock((clock) => Math.min(clock.position, run.steps.length));
  const access = useApp((state) => state.order.access);
  const picture = useMemo(() => pictureOf(analysis, run, position, isClose), [analysis, run, position, isClose]);
  const { places, hidden, activeIds } = picture;
  const frame = useMomentAt(analysis, run, position);
  // Before anything is opened a pivot can be looked into, so that a part of it can be pressed.
  const [look, setLook] = useState<string | undefined>(undefined);
  useEffect(() => setLook(undefined), [access]);
  const isLooking = position === 0 && run.isBuilt && isClose;
  const wanted =
    look ?? analysis.pivots.find(({ stacks }) => stacks.some(({ items }) => items.some(({ id }) => id === access)))?.id;
  const pivotId = isLooking ? wanted : picture.pivotId;
  return (
    <div className="picture-canvas over" data-motion={frame !== undefined}>
      <PictureFrame
        analysis={analysis}
        apart={isLooking && pivotId !== undefined ? 1 : 0}
        cut={false}
        activeIds={activeIds}
        hidden={hidden}
        pivotId={pivotId}
        places={places}
        frame={isLooking ? undefined : frame}
        selectedId={access}
        onSelect={pickAccess}
        onPivot={(id) => (isLooking ? setLook(id) : pickPivot(run, id))}
        onApart={() => undefined}
      />
    </div>
  );
}

/** A part pressed on the picture is the part to be reached. */
function pickAccess(id: string | undefined): void {
  const { act, order } = useApp.getState();
  if (id === undefined || id === order.access) return;
  act.setOrder({ ...order, access: id, ...(order.tab === 'access' ? { at: 0 } : {}) });
}

/** A pivot pressed on the picture: the first step at it that is still to come, or the last one. */
function pickPivot(run: Run, pivotId: string): void {
  const { act, order } = useApp.getState();
  const here = run.steps.flatMap(({ step }, k) => (step.pivotId === pivotId ? [k + 1] : []));
  const at = here.find((step) => step > order.at) ?? here.at(-1);
  if (at !== undefined) act.setOrder({ ...order, at });
}
