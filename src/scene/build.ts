/**
 * A moment of a step applied to the picture: what its frame names stands where it says, and nothing else is there.
 */
import type { Frame, ItemPose, PlacedItem } from '../../shared/index.ts';
import type { LabelSpec } from './labels.ts';
import type { PictureProps } from './props.ts';

const NO_PLACES: NonNullable<PictureProps['places']> = {};

/**
 * The picture's props with a frame's members for the pose, and what it does not name hidden; unchanged without a frame.
 */
export function framed(picture: PictureProps): PictureProps {
  const { frame, analysis } = picture;
  if (!frame) return picture;
  const { members, obstacles = [] } = analysis.model;
  const hidden = new Set([
    ...Object.keys(members).filter((id) => !frame.members[id]),
    ...obstacles.flatMap(({ id }) => (frame.obstacles[id] ? [] : [id])),
    ...analysis.pivots.flatMap(({ id, stacks }) =>
      stacks.some(({ items }) => items.some((item) => frame.items[item.id])) ? [] : [id],
    ),
  ]);
  // The camera holds the row fully apart: what is brought in along it stays in the picture, and the picture stands
  // still.
  return { ...picture, pose: frame.members, hidden, apart: 1, places: NO_PLACES };
}

/** Whether an item is on the picture. */
export function isThere(frame: Frame | undefined, id: string): boolean {
  return frame === undefined || frame.items[id] !== undefined;
}

/** Whether an item stands elsewhere than at its tight place, or is about to: it is drawn by itself then. */
export function isLoose(frame: Frame | undefined, { id }: PlacedItem): boolean {
  const at = frame?.items[id];
  return at !== undefined && (frame?.moving.includes(id) === true || at.x_mm !== 0 || at.y_mm !== 0 || at.z_mm !== 0);
}

/** Where an item stands aside of its axle, and its turn; its way along the axle is the slider's. */
export function asideOf(
  frame: Frame | undefined,
  id: string,
): Pick<ItemPose, 'x_mm' | 'y_mm' | 'turn_rad'> | undefined {
  const at = frame?.items[id];
  return at && (at.x_mm !== 0 || at.y_mm !== 0 || at.turn_rad !== 0) ? at : undefined;
}

/** The labels of what is there. */
export function labelled(frame: Frame | undefined, specs: readonly LabelSpec[]): readonly LabelSpec[] {
  return frame ? specs.filter(({ item }) => item === undefined || isThere(frame, item)) : specs;
}
