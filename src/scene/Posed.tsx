/**
 * A group that stands where the travel has brought a member: a turn and a shift, nothing rebuilt.
 */
import type { ReactNode } from 'react';
import type { Motion } from '../../shared/index.ts';

interface Props {
  /** From the drawn place to where it stands; as drawn when absent. */
  readonly motion?: (Motion & { readonly z_mm?: number }) | undefined;
  readonly children: ReactNode;
}

/** The children, moved. */
export function Posed({ motion, children }: Props): ReactNode {
  return (
    <group
      position={[motion?.x_mm ?? 0, motion?.y_mm ?? 0, motion?.z_mm ?? 0]}
      rotation={[0, 0, motion?.angle_rad ?? 0]}
    >
      {children}
    </group>
  );
}

/** Where a motion takes a place of the side plane; mm. */
export function movedBy(motion: Motion | undefined, x_mm: number, y_mm: number): readonly [number, number] {
  if (!motion) return [x_mm, y_mm];
  const [cos, sin] = [Math.cos(motion.angle_rad), Math.sin(motion.angle_rad)];
  return [motion.x_mm + cos * x_mm - sin * y_mm, motion.y_mm + sin * x_mm + cos * y_mm];
}
