/**
 * The short form T = K·F·d beside the long one: the nut factor the long form amounts to, one from a published table,
 * and the preload band that a nut factor with its uncertainty gives.
 *
 * Band: NASA-STD-5020B equations 3 to 5 as an open validation set encodes them, for one screw or several:
 * F_max = (1 + Γ)·T_max/(K·d), F_min = (1 − Γ/√n)·T_min/(K·d), less the share that settling takes. Uncertainties by
 * lubrication: NSTS 08307, from memory. It never decides a verdict. N, N·m, mm.
 */
import { requireAbove, requireAtLeast, requireFriction, refuse } from '../standards/guard.ts';
import { NUT_FACTORS, preloadFromNutFactor, wrenchScatter } from '../standards/index.ts';
import type { ThreadTreatment } from '../standards/index.ts';
import type { TorqueStack } from './setup.ts';

/** Preload between the least and the most, N. */
export interface NutFactorBand {
  readonly low_N: number;
  readonly high_N: number;
}

/** Preload band of a nut factor with its uncertainty. Source: NASA-STD-5020B eqs 3-5. */
export function nutFactorBand({
  leastTorque_Nm,
  mostTorque_Nm,
  size_mm,
  nutFactor,
  uncertainty,
  screws = 1,
  settling = 0.05,
}: {
  readonly leastTorque_Nm: number;
  readonly mostTorque_Nm: number;
  readonly size_mm: number;
  readonly nutFactor: number;
  /** Γ, a fraction below 1. */
  readonly uncertainty: number;
  /** Screws of the joint that share the load. */
  readonly screws?: number;
  /** Share of the preload that settling takes. */
  readonly settling?: number;
}): NutFactorBand {
  requireFriction('short form', 'nutFactor', nutFactor);
  if (!(uncertainty >= 0 && uncertainty < 1)) refuse('short form', 'uncertainty', uncertainty, 'from 0 and below 1');
  if (!(settling >= 0 && settling < 1)) refuse('short form', 'settling', settling, 'from 0 and below 1');
  requireAtLeast('short form', 'screws', screws, 1);
  requireAbove('short form', 'leastTorque_Nm', leastTorque_Nm, 0);
  requireAtLeast('short form', 'mostTorque_Nm', mostTorque_Nm, leastTorque_Nm);
  const at = (torque_Nm: number) => preloadFromNutFactor({ torque_Nm, size_mm, nutFactor });
  return {
    low_N: (1 - settling) * (1 - uncertainty / Math.sqrt(screws)) * at(leastTorque_Nm),
    high_N: (1 + uncertainty) * at(mostTorque_Nm),
  };
}

/** Row of the published nut factors nearest to a treatment, and its uncertainty. */
const PUBLISHED: Readonly<Record<ThreadTreatment, { readonly surface: string; readonly uncertainty: number }>> = {
  dry: { surface: 'not known', uncertainty: 0.35 },
  oiled: { surface: 'lubricated', uncertainty: 0.25 },
  greased: { surface: 'lubricated', uncertainty: 0.25 },
  threadlocked: { surface: 'threadlocker on steel', uncertainty: 0.35 },
  'anti-seize': { surface: 'anti-seize paste', uncertainty: 0.25 },
};

/** The short form of a stack. */
export interface ShortForm {
  /** T/(F·d) at the long form's nominal preload. */
  readonly ownFactor: number;
  readonly published: { readonly surface: string; readonly nutFactor: number; readonly source: string };
  readonly preload_N: NutFactorBand & { readonly spec_N: number };
  readonly uncertainty: number;
  readonly source: string;
}

/** The short form beside the long one for a stack's spec torque. */
export function shortForm({ own, tightening }: TorqueStack): ShortForm {
  const { surface, uncertainty } = PUBLISHED[own.stack.thread_treatment];
  const row = NUT_FACTORS.find((candidate) => candidate.surface === surface)!;
  const { size_mm } = own.thread.axle;
  const { torque_Nm } = tightening;
  const scatter = wrenchScatter(torque_Nm);
  const band = nutFactorBand({
    leastTorque_Nm: torque_Nm * (1 - scatter),
    mostTorque_Nm: torque_Nm * (1 + scatter),
    size_mm,
    nutFactor: row.nutFactor,
    uncertainty,
  });
  return {
    ownFactor: (1000 * torque_Nm) / (tightening.preload_N.spec * size_mm),
    published: row,
    preload_N: { ...band, spec_N: preloadFromNutFactor({ torque_Nm, size_mm, nutFactor: row.nutFactor }) },
    uncertainty,
    source: 'NASA-STD-5020B eqs 3-5; uncertainties NSTS 08307, from memory',
  };
}
