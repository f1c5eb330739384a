/**
 * Which balls of a cut bearing are drawn: those in the cutting plane and behind it, whole.
 *
 * Local frame of the section: x is the radius, +y looks at the viewer. mm.
 */
import type { Balls } from '../../shared/index.ts';

/** Centres of the balls in the plane and behind it, mm; one lies in the plane on each side. */
export function ballPlaces(balls: Balls): readonly (readonly [x: number, y: number])[] {
  const radius = balls.circle_mm / 2;
  // An even count puts a ball at both ends of the plane.
  const count = balls.count % 2 === 0 ? balls.count : balls.count - 1;
  return Array.from({ length: count }, (_, k) => {
    const t = (2 * Math.PI * k) / count;
    return [radius * Math.cos(t), radius * Math.sin(t)] as const;
  }).filter(([, y]) => y < 1e-6);
}
