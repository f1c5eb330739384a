/**
 * The picture with what belongs to looking at it: where one stands, views, apart, cut, legend.
 *
 * Where there is no WebGL, or it is lost or fails, another drawing takes its room, and a calm word says so.
 */
import { useEffect, useMemo, type ReactNode } from 'react';
import { otherSide, sideWord } from '../../shared/index.ts';
import { usePicture } from './usePicture.ts';
import type { Room } from '../page/room.ts';
import { pivotOf, seenIn, stepOf, toldOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { useLine } from '../picture/useLine.ts';
import { useReturn } from '../picture/useReturn.ts';
import { hostPicture, useLent } from '../picture/lent.ts';
import { useCloseUp } from '../build/closeUp.ts';
import { inHandOf } from '../build/inHand.ts';
import { useMoment } from '../travel/useTravel.ts';
import { useTaps } from '../mistakes/useTaps.ts';
import { CutButton, LeaveSteps, usePictureHand } from './ApartControl.tsx';
import { serverName } from '../widgets/PlaceBoundary.tsx';
import { SidePlate } from '../widgets/marks.tsx';
import { PictureFrame, type OwnPicture } from '../picture/PictureFrame.tsx';
import { TravelButton } from '../travel/TravelBar.tsx';
import { ViewIcon } from '../picture/ViewIcon.tsx';
import { Views } from '../picture/Views.tsx';

interface Props {
  readonly room: Room;
  /** What takes the picture's room where there is none. */
  readonly instead: ReactNode;
}

export function PictureArea({ room, instead }: Props): ReactNode {
  const webgl = useApp((state) => state.webgl);
  const place = useApp((state) => state.place);
  const { tries, again, picture } = useReturn();
  return (
    <section
      ref={hostPicture}
      className={webgl === 'ok' ? 'picture fit anchor clip' : 'picture picture-off stack fit anchor clip'}
      aria-label="Picture"
    >
      {/* A lost picture stays in the page, unseen: only then may the browser give its context back, and the hand's view with it. */}
      {webgl !== 'missing' && (
        <div className="picture-canvas over" ref={picture} hidden={webgl === 'lost'}>
          <Drawn key={tries} />
        </div>
      )}
      {place === undefined && <StandLine />}
      {webgl !== 'ok' && <NoPicture isLost={webgl === 'lost'} onAgain={again} />}
      {webgl !== 'ok' && instead}
      {webgl === 'ok' && (
        <Views onBike={place === 'order' ? () => useCloseUp.setState({ isClose: false }) : act.backToBike} />
      )}
      {place === undefined && <PictureFoot isUpright={room === 'tall'} />}
    </section>
  );
}

/** The one picture: what another place has it show, or the bike. */
function Drawn(): ReactNode {
  const lent = useLent((state) => state.picture);
  // Until the order is known the picture would show a bike that it then leaves.
  const isAwaited = useApp(({ place, planned, drawn }) => place === 'order' && planned.is === 'running' && drawn === 0);
  useRedraw();
  const own = useOwnPicture();
  const shown = lent ?? (isAwaited ? undefined : own);
  return shown ? <PictureFrame {...shown} /> : <p className="picture-note over stack soft">Opening…</p>;
}

/** The bike's own picture: the model, a pivot apart, a step or a moment of the travel. */
function useOwnPicture(): OwnPicture | undefined {
  const { analysis, apart, places } = usePicture();
  const pivotId = useApp((state) => state.pivotId);
  const selectedId = useApp((state) => state.selectedId);
  const step = useApp(stepOf);
  const pivot = useApp(pivotOf);
  const inHand = useMemo(() => step && pivot && inHandOf(step, pivot), [step, pivot]);
  const marked = useApp((state) => state.marked);
  const cut = useApp((state) => state.cut);
  const apartOf = usePictureHand((state) => state.apartOf);
  const see = useLine((state) => state.see);
  const moment = useMoment();
  const told = useApp((state) => toldOf(seenIn(state)));
  const faulty = useMemo(
    () => new Set(told?.pivots.filter(({ verdict }) => verdict === 'faulty').map(({ id }) => id)),
    [told],
  );
  const tap = useTaps();
  return (
    analysis && {
      analysis,
      apart,
      apartOf,
      cut,
      activeIds: step ? step.step.items : marked,
      ...(moment?.picture ?? { pivotId, places }),
      faulty,
      inHand,
      selectedId,
      onSelect: tap,
      onPivot: act.pickPivot,
      onApart: act.setApart,
      onLine: see,
    }
  );
}

/**
 * The picture reports its first frame alone. A model opened later on the same picture is drawn in the frame after the
 * page has handed it over; one more frame and it has been seen. The same holds for a picture that has come back.
 */
function useRedraw(): void {
  const count = useApp((state) => state.opened?.count);
  const isShown = useApp((state) => state.webgl === 'ok');
  useEffect(() => {
    if (!isShown || useApp.getState().drawn === 0) return;
    let frame = requestAnimationFrame(() => {
      frame = requestAnimationFrame(act.pictureDrew);
    });
    return () => cancelAnimationFrame(frame);
  }, [count, isShown]);
}

function NoPicture({ isLost, onAgain }: { readonly isLost: boolean; readonly onAgain: () => void }): ReactNode {
  const isNotSent = useApp((state) => state.webgl === 'lost' && state.isNotSent);
  return (
    <div className="picture-notice line gap-5 small" role="status">
      <p>
        <strong>
          {isNotSent
            ? `The server at ${serverName()} did not send the 3D picture.`
            : isLost
              ? 'The 3D picture has stopped.'
              : 'No 3D picture here.'}
        </strong>{' '}
        {isNotSent
          ? 'Look whether it runs, then try again.'
          : isLost
            ? 'It comes back when this machine’s graphics do.'
            : 'This browser gives no WebGL.'}
      </p>
      {isLost && (
        <button type="button" className="button medium no-wrap" onClick={onAgain}>
          Try it again
        </button>
      )}
    </div>
  );
}

/** Where the person stands, in words, at all times. */
function StandLine(): ReactNode {
  const stand = useApp((state) => state.stand);
  return (
    <div className="stand line gap-5">
      <p className="stand-line line large bold" aria-live="polite">
        <SidePlate side={stand} /> <span>You are standing on the {sideWord(stand)}</span>
      </p>
    </div>
  );
}

function PictureFoot({ isUpright }: { readonly isUpright: boolean }): ReactNode {
  const isStepping = useApp((state) => state.step !== undefined);
  const isTravelling = useApp((state) => state.travel !== undefined);
  const isPicture = useApp((state) => state.webgl === 'ok');
  const other = useApp((state) => otherSide(state.stand));
  if (isTravelling) return null;
  return (
    <div className="picture-foot line gap-5">
      {isUpright && <LeaveSteps />}
      {!isPicture && (
        <button type="button" className="button medium no-wrap" onClick={() => act.lookFrom(other)}>
          Go round
        </button>
      )}
      <span className="picture-foot-end flex hair end">
        <TravelButton />
        {/* On an upright phone it lies under the thumb while the bar has room for it. */}
        {(!isUpright || isStepping) && <CutButton />}
        <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('legend')}>
          <ViewIcon name="legend" />
          <span className="view-long">Legend</span>
        </button>
      </span>
    </div>
  );
}
