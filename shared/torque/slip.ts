/**
 * The preload below which a joint that slips across can work its screw loose.
 *
 * What the parts can slip is the widest play that the shank has in what carries a load across: the bores of still
 * bosses, the inner rings and the bushes, half of it each way. The screw bends along as long as the friction under its head holds; its stretch between
 * the two faces counts, the thread at its root. Formula: `standards/self-loosening.ts`. An estimate: what slips in
 * riding may be less. N, mm.
 */
import { boreRadius_mm } from '../joint/joint.ts';
import { middle, shankAt } from '../joint/mounting.ts';
import { isGreased } from '../joint/rubbing.ts';
import { threadEnd_mm } from '../parts/shanked.ts';
import { FRICTION, material, metricThread, sizeLimits } from '../standards/index.ts';
import { beamGive_mm_per_N, criticalSlip_mm, type BeamCylinder } from '../standards/self-loosening.ts';
import { grip_mm, type TorqueStack } from './setup.ts';

/** How far the parts can slip across the shank, and the preload that keeps the screw from loosening then. */
export interface Slip {
  readonly play_mm: number;
  readonly preload_N: number;
}

/** Undefined where nothing can slip, or the screw has nothing to bend. */
export function slipOf(bench: TorqueStack): Slip | undefined {
  const { own, joint } = bench;
  const play_mm = own.items.reduce((widest, item) => {
    const carries = item.role === 'boss' || item.role === 'bearing' || item.kind === 'bush' || item.kind === 'reducer';
    const shank = carries && item.inColumn && item !== own.receiver ? shankAt(own, item) : undefined;
    if (!shank) return widest;
    return Math.max(widest, 2 * boreRadius_mm(joint.pieces, item) - middle(sizeLimits(shank.diameter_mm, shank)));
  }, 0);
  const { material: key } = own.stack.axle.part;
  const give_mm_per_N = beamGive_mm_per_N(bent(bench), material(key).E_MPa);
  if (play_mm <= 0 || give_mm_per_N === 0) return undefined;
  const friction = (isGreased(own.stack, 'axle') ? FRICTION.greased : FRICTION.dry).face.low;
  return { play_mm, preload_N: play_mm / 2 / criticalSlip_mm({ preload_N: 1, friction, give_mm_per_N }) };
}

/** The screw between its two faces. */
function bent(bench: TorqueStack): BeamCylinder[] {
  const { own } = bench;
  const { shank, bore_mm = 0, thread } = own.stack.axle.part;
  const length_mm = shank.reduce((sum, cylinder) => sum + cylinder.length_mm, 0);
  const grip = Math.min(grip_mm(bench), length_mm);
  // A sleeve's thread is cut inside: its tube is as thick as it was.
  const plain = own.axle.kind === 'sleeve' ? length_mm : threadEnd_mm(own.stack.axle.part) - thread.length_mm;
  const { rootDiameter_mm } = metricThread(own.thread.axle);
  let start_mm = 0;
  return shank.flatMap((cylinder): BeamCylinder[] => {
    const [from, to] = [start_mm, start_mm + cylinder.length_mm];
    start_mm = to;
    const stretches = [
      { from, to: Math.min(to, plain, grip), outside_mm: cylinder.diameter_mm },
      {
        from: Math.max(from, plain),
        to: Math.min(to, grip),
        outside_mm: Math.min(cylinder.diameter_mm, rootDiameter_mm),
      },
    ];
    return stretches.flatMap((one) =>
      one.to > one.from ? [{ length_mm: one.to - one.from, outside_mm: one.outside_mm, bore_mm }] : [],
    );
  });
}
