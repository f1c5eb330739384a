/**
 * The tools of a step on the ends where they work, with a bow for the way to turn and two heads for what is held.
 */
import { memo, useMemo, type ReactNode } from 'react';
import type { Analysis, Frame, ToolPose } from '../../shared/index.ts';
import { useScene } from './context.ts';
import { toPaintedGeometry, useGeometry } from './geometry.ts';
import { PICTURE } from '../look.ts';
import { PaintedMesh } from './PaintedMesh.tsx';
import { radiusOf } from './placement.ts';
import { measuresOf, paintHold, paintTool, paintTurn, toolKey } from './tools.ts';

interface Props {
  readonly frame: Frame;
  readonly analysis: Analysis;
  /** The part in the hand is seen through the tool that is on it. */
  readonly heldId: string | undefined;
}

/** All tools of a moment. */
export default function BuildTools({ frame, analysis, heldId }: Props): ReactNode {
  const radii = useMemo(
    () =>
      new Map(
        analysis.pivots.flatMap(({ stacks }) =>
          stacks.flatMap(({ items }) => items.map((item) => [item.id, radiusOf(item)] as const)),
        ),
      ),
    [analysis],
  );
  return frame.tools.map((pose) => (
    <Tool
      key={`${pose.item} ${pose.role}`}
      pose={pose}
      over_mm={radii.get(pose.item) ?? 0}
      isClear={pose.item === heldId}
    />
  ));
}

/**
 * How far from the axle the arrows stand, near enough to be in the picture of the pivot, and off the tool's outer side,
 * mm.
 */
const ARROW_AT = { turn: 46, hold: 74, off_mm: 3 } as const;
/** A bow is at least so long that its way is plain, rad. */
const LEAST_BOW_rad = 1.9;

function Tool({
  pose,
  over_mm,
  isClear,
}: {
  readonly pose: ToolPose;
  readonly over_mm: number;
  readonly isClear: boolean;
}): ReactNode {
  const { x_mm, y_mm, face_mm, off_mm, side, handle_rad, pull_rad } = pose;
  const sign = side === 'drive' ? 1 : -1;
  // On the non-drive side the tool is turned over about x: what was anticlockwise runs clockwise then.
  const over = side === 'drive' ? 0 : Math.PI;
  const sizes = measuresOf(pose);
  const isOn = off_mm < 1;
  return (
    <group position={[x_mm, y_mm, face_mm + sign * off_mm]}>
      <group rotation={[0, 0, handle_rad]}>
        <group rotation={[over, 0, 0]}>
          <ToolBody pose={pose} poseKey={`${toolKey(pose)} ${over_mm}`} over_mm={over_mm} isClear={isClear} />
          {pose.role === 'holds' && isOn && (
            <Hold
              radius_mm={Math.min(ARROW_AT.hold, sizes.length_mm * 0.72)}
              width_mm={sizes.width_mm}
              z_mm={sizes.handleTo_mm + ARROW_AT.off_mm}
            />
          )}
        </group>
      </group>
      {pull_rad && isOn && (
        <group rotation={[0, 0, pull_rad[0]]}>
          <group rotation={[over, 0, 0]}>
            <Turn
              radius_mm={ARROW_AT.turn}
              by_rad={sign * bow(pull_rad[1] - pull_rad[0])}
              z_mm={sizes.handleTo_mm + ARROW_AT.off_mm}
            />
          </group>
        </group>
      )}
    </group>
  );
}

/** The pull as a bow: the same way round, and long enough. */
function bow(by_rad: number): number {
  return Math.sign(by_rad) * Math.max(Math.abs(by_rad), LEAST_BOW_rad);
}

const ToolBody = memo(
  function ToolBody({
    pose,
    poseKey,
    over_mm,
    isClear,
  }: {
    readonly pose: ToolPose;
    readonly poseKey: string;
    readonly over_mm: number;
    readonly isClear: boolean;
  }): ReactNode {
    const geometry = useGeometry(poseKey, () => toPaintedGeometry(paintTool(pose, over_mm)));
    return <PaintedMesh geometry={geometry} state={isClear ? 'away' : 'plain'} />;
  },
  (before, now) => before.poseKey === now.poseKey && before.isClear === now.isClear,
);

const Turn = memo(function Turn({
  radius_mm,
  by_rad,
  z_mm,
}: {
  readonly radius_mm: number;
  readonly by_rad: number;
  readonly z_mm: number;
}): ReactNode {
  const colour = PICTURE[useScene().theme].pick;
  const geometry = useGeometry(`turn ${radius_mm} ${by_rad.toFixed(4)} ${z_mm} ${colour}`, () =>
    toPaintedGeometry(paintTurn(radius_mm, by_rad, z_mm, colour)),
  );
  return <PaintedMesh geometry={geometry} state="plain" />;
});

const Hold = memo(function Hold({
  radius_mm,
  width_mm,
  z_mm,
}: {
  readonly radius_mm: number;
  readonly width_mm: number;
  readonly z_mm: number;
}): ReactNode {
  const colour = PICTURE[useScene().theme].pick;
  const geometry = useGeometry(`hold ${radius_mm} ${width_mm} ${z_mm} ${colour}`, () =>
    toPaintedGeometry(paintHold(radius_mm, width_mm, z_mm, colour)),
  );
  return <PaintedMesh geometry={geometry} state="plain" />;
});
