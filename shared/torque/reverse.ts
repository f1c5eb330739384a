/**
 * The torque for a wanted clamp: from the force that shall clamp the weakest inner ring back to the wrench.
 *
 * What arms and gaps take of the preload is found by solving the joint, not by a share. Friction makes the answer a
 * band. N, N·m.
 */
import { requireAbove } from '../standards/guard.ts';
import { clampAt, leastPreload_N, torqueAt, type TorqueStack } from './setup.ts';
import { torqueWindow, type TorqueWindow } from './window.ts';

/** Torque for a clamp force. */
export interface TorqueForClamp {
  readonly clamp_N: number;
  /** Preload of the axle that leaves the wanted clamp at the weakest ring. */
  readonly preload_N: number;
  /** At the nominal friction. */
  readonly torque_Nm: number;
  /** Reaches the clamp at the kindest friction, and at the harshest. */
  readonly least_Nm: number;
  readonly sure_Nm: number;
  /** First limit of the window that the sure torque may pass. */
  readonly passes?: TorqueWindow['most'][number];
}

/** Most preload tried, as a multiple of the lowest upper limit of the window. */
const REACH = 2;

/**
 * Torque that clamps the weakest inner ring with `clamp_N` (> 0 N): N·m at the nominal, the kindest and the harshest
 * friction; undefined where the column cannot be brought to it. About 90 ms.
 */
export function torqueForClamp(bench: TorqueStack, clamp_N: number): TorqueForClamp | undefined {
  requireAbove('torque', 'clamp_N', clamp_N, 0);
  const window = torqueWindow(bench);
  const most_N =
    REACH *
    Math.max(clamp_N, ...window.most.slice(0, 1).map((limit) => limit.preload_N), bench.tightening.preload_N.high);
  const preload_N = leastPreload_N((force) => clampAt(bench, force) / clamp_N, most_N);
  if (preload_N === undefined) return undefined;
  const sure_Nm = torqueAt(bench, preload_N, 'low');
  const passes = window.most.find((limit) => sure_Nm > limit.sure_Nm);
  return {
    clamp_N,
    preload_N,
    torque_Nm: torqueAt(bench, preload_N, 'spec'),
    least_Nm: torqueAt(bench, preload_N, 'high'),
    sure_Nm,
    ...(passes ? { passes } : {}),
  };
}
