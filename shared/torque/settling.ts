/**
 * What settling takes of a stack's preload.
 *
 * Faces of the column are counted on the joint as it is built; the screw gives by its own sections, the parts by what
 * the clamp solve makes of one preload against another, arms included. Formula and guide values:
 * `standards/settling.ts`. N, mm.
 */
import { cutsOf } from '../joint/reading.ts';
import { material, metricThread } from '../standards/index.ts';
import { screwResilience_mm_per_N, settlingLoss_N, settling_mm } from '../standards/settling.ts';
import { grip_mm, metAtLevel, type TorqueStack } from './setup.ts';

/** Preload that settling takes, N; undefined where no thread takes hold. */
export function settlingLossOf_N(bench: TorqueStack): number | undefined {
  const { own, solved, tightening } = bench;
  if (!((solved.pull_N.get(own.stack.id) ?? 0) > 0)) return undefined;
  const bearingFaces = own.receiver.role === 'boss' ? 1 : 2;
  const faces = cutsOf(own, metAtLevel(bench, 'spec')).length;
  const { low, high } = tightening.preload_N;
  const given_mm = grip_mm(bench, 'low') - grip_mm(bench, 'high');
  return settlingLoss_N({
    settled_mm: settling_mm({ bearingFaces, innerFaces: Math.max(0, faces - bearingFaces) }),
    screw_mm_per_N: ofScrew_mm_per_N(bench),
    parts_mm_per_N: Math.max(0, given_mm) / (high - low),
  });
}

/** The axle between its two faces; of a two-piece axle the sleeve, whose screw is short. */
function ofScrew_mm_per_N(bench: TorqueStack): number {
  const { own } = bench;
  const { shank, bore_mm = 0, material: key } = own.stack.axle.part;
  const grip = grip_mm(bench);
  const ring_mm2 = (outside_mm: number): number => (Math.PI / 4) * (outside_mm ** 2 - bore_mm ** 2);
  const { size_mm, pitch_mm } = own.thread.axle;
  const core_mm2 = ring_mm2(metricThread({ size_mm, pitch_mm }).stressDiameter_mm);
  let start_mm = 0;
  const cylinders = shank.map(({ diameter_mm, length_mm }) => {
    const reaches_mm = Math.max(0, Math.min(grip, start_mm + length_mm) - start_mm);
    start_mm += length_mm;
    return { length_mm: reaches_mm, area_mm2: ring_mm2(diameter_mm) };
  });
  // A sleeve's end holds the screw's thread: there the screw is what stretches.
  const area_mm2 = own.axle.kind === 'sleeve' ? metricThread({ size_mm, pitch_mm }).stressArea_mm2 : core_mm2;
  return screwResilience_mm_per_N({ cylinders, end: { size_mm, area_mm2 }, E_MPa: material(key).E_MPa });
}
