/**
 * Torque and preload of a screw joint, the stress tightening leaves in the screw, and what a wrench must be set to.
 *
 * Method: the long form of VDI 2230, T = F·(P/(2π) + μ_G·d2/(2·cos 30°) + μ_K·D_Km/2), which KLU prints rounded as
 * 0.159 P + 0.577 d2 μ_G; here the constants are exact. The nut factor beside it is the exact helix form of JIND 9-3.
 * Stress: VDI 2230's tension and torsion at a section, torsion with the fully plastic modulus π(D³ − d³)/12 (hence its
 * factor 3/2). Wrench scatter: ISO 6789 as FAC prints it. Adapter: set = T·L/(L + E·cos θ), TM9254 and others.
 * Units: torque N·m, force N, length mm, stress MPa. Signs: all are magnitudes, tightening; nothing here is negative.
 */
import type { FrictionBand } from './friction.ts';
import { refuse, requireAbove, requireAtLeast, requireFriction } from './guard.ts';
import { metricThread } from './threads.ts';

const HALF_FLANK_cos = Math.cos(Math.PI / 6);
const N_mm_PER_N_m = 1000;

/** A screw and its friction: what turns torque into preload. */
export interface ScrewFriction {
  /** Nominal thread size d, mm. */
  readonly size_mm: number;
  readonly pitch_mm: number;
  /** Coefficient on the thread flank, 0 < μ ≤ 1. */
  readonly threadFriction: number;
  /** Coefficient under the face that turns, 0 < μ ≤ 1. */
  readonly faceFriction: number;
  /** Mean diameter of the annulus that turns on its seat, (outside + bore)/2, mm. */
  readonly faceMeanDiameter_mm: number;
}

/** Torque lever T/F, mm: the long form of VDI 2230. */
function lever_mm(screw: ScrewFriction): number {
  requireFriction('torque', 'faceFriction', screw.faceFriction);
  requireAbove('torque', 'faceMeanDiameter_mm', screw.faceMeanDiameter_mm, 0);
  return threadLever_mm(screw) + (screw.faceFriction * screw.faceMeanDiameter_mm) / 2;
}

/** The part of the lever that twists the screw itself, mm. */
function threadLever_mm({
  size_mm,
  pitch_mm,
  threadFriction,
}: Pick<ScrewFriction, 'size_mm' | 'pitch_mm' | 'threadFriction'>): number {
  const thread = metricThread({ size_mm, pitch_mm });
  requireFriction('torque', 'threadFriction', threadFriction);
  return pitch_mm / (2 * Math.PI) + (threadFriction * thread.pitchDiameter_mm) / (2 * HALF_FLANK_cos);
}

/** Preload a torque makes, N. Source: VDI 2230 long form (KLU). */
export function preloadFromTorque({ torque_Nm, ...screw }: ScrewFriction & { readonly torque_Nm: number }): number {
  requireAtLeast('torque', 'torque_Nm', torque_Nm, 0);
  return (torque_Nm * N_mm_PER_N_m) / lever_mm(screw);
}

/** Torque a preload takes, N·m: the inverse of `preloadFromTorque`. Source: VDI 2230 long form (KLU). */
export function torqueFromPreload({ preload_N, ...screw }: ScrewFriction & { readonly preload_N: number }): number {
  requireAtLeast('torque', 'preload_N', preload_N, 0);
  return (preload_N * lever_mm(screw)) / N_mm_PER_N_m;
}

/**
 * Nut factor K of T = K·F·d, dimensionless, by the exact helix form
 * (d2/2d)·(tan λ + μ/cos 30°)/(1 − μ·tan λ/cos 30°) + μ_K·D_Km/(2d). Source: JIND 9-3, whose collar mean is 1.25 d.
 */
export function nutFactor({
  size_mm,
  pitch_mm,
  threadFriction,
  faceFriction,
  faceMeanDiameter_mm = 1.25 * size_mm,
}: Omit<ScrewFriction, 'faceMeanDiameter_mm'> & { readonly faceMeanDiameter_mm?: number }): number {
  const thread = metricThread({ size_mm, pitch_mm });
  requireFriction('torque', 'threadFriction', threadFriction);
  requireFriction('torque', 'faceFriction', faceFriction);
  requireAbove('torque', 'faceMeanDiameter_mm', faceMeanDiameter_mm, 0);
  const tanLead = pitch_mm / (Math.PI * thread.pitchDiameter_mm);
  const flank = threadFriction / HALF_FLANK_cos;
  const helix = (tanLead + flank) / (1 - flank * tanLead);
  return (thread.pitchDiameter_mm / (2 * size_mm)) * helix + (faceFriction * faceMeanDiameter_mm) / (2 * size_mm);
}

/** Torque of the short form T = K·F·d, N·m. Source: WENT, SWK, JIND. */
export function torqueFromNutFactor({
  preload_N,
  size_mm,
  nutFactor: K,
}: {
  preload_N: number;
  size_mm: number;
  nutFactor: number;
}): number {
  requireAtLeast('torque', 'preload_N', preload_N, 0);
  requireAbove('torque', 'size_mm', size_mm, 0);
  requireFriction('torque', 'nutFactor', K);
  return (K * preload_N * size_mm) / N_mm_PER_N_m;
}

/** Preload of the short form F = T/(K·d), N. Source: WENT, SWK, JIND. */
export function preloadFromNutFactor({
  torque_Nm,
  size_mm,
  nutFactor: K,
}: {
  torque_Nm: number;
  size_mm: number;
  nutFactor: number;
}): number {
  requireAtLeast('torque', 'torque_Nm', torque_Nm, 0);
  requireAbove('torque', 'size_mm', size_mm, 0);
  requireFriction('torque', 'nutFactor', K);
  return (torque_Nm * N_mm_PER_N_m) / (K * size_mm);
}

/**
 * Permitted error of an indicating or click wrench, as a fraction: 0.04 above 10 N·m of full scale, else 0.06. Source:
 * ISO 6789 (FAC).
 */
export function wrenchScatter(wrenchMaximum_Nm: number): number {
  requireAbove('torque', 'wrenchMaximum_Nm', wrenchMaximum_Nm, 0);
  return wrenchMaximum_Nm > 10 ? 0.04 : 0.06;
}

/** Preload as a band, N: `low_N` at highest friction and lowest wrench, `high_N` the other way round. */
export interface PreloadBand {
  readonly low_N: number;
  readonly nominal_N: number;
  readonly high_N: number;
  /** Wrench error taken, as a fraction. */
  readonly wrenchScatter: number;
}

/**
 * Preload band of a torque from the friction bands and the wrench's permitted error, worst case on both.
 * `wrenchMaximum_Nm` is the wrench's full scale; without it the torque itself, the smallest wrench that reaches it, so
 * that the wider error is taken up to 10 N·m. Source: VDI 2230 long form, ISO 6789 (FAC).
 */
export function preloadBand({
  torque_Nm,
  size_mm,
  pitch_mm,
  threadFriction,
  faceFriction,
  faceMeanDiameter_mm,
  wrenchMaximum_Nm = torque_Nm,
}: {
  readonly torque_Nm: number;
  readonly size_mm: number;
  readonly pitch_mm: number;
  readonly threadFriction: FrictionBand;
  readonly faceFriction: FrictionBand;
  readonly faceMeanDiameter_mm: number;
  readonly wrenchMaximum_Nm?: number;
}): PreloadBand {
  requireAbove('torque', 'torque_Nm', torque_Nm, 0);
  if (wrenchMaximum_Nm < torque_Nm) {
    refuse('torque', 'wrenchMaximum_Nm', wrenchMaximum_Nm, `at least the torque, ${torque_Nm} N·m`);
  }
  const scatter = wrenchScatter(wrenchMaximum_Nm);
  const at = (end: keyof FrictionBand, factor: number) =>
    preloadFromTorque({
      torque_Nm: torque_Nm * factor,
      size_mm,
      pitch_mm,
      threadFriction: threadFriction[end],
      faceFriction: faceFriction[end],
      faceMeanDiameter_mm,
    });
  return {
    low_N: at('high', 1 - scatter),
    nominal_N: at('nominal', 1),
    high_N: at('low', 1 + scatter),
    wrenchScatter: scatter,
  };
}

/** A section of a screw that carries preload and thread torque. */
export interface ScrewSection {
  readonly size_mm: number;
  readonly pitch_mm: number;
  readonly threadFriction: number;
  /** Outside diameter of the section, mm; without it the stress diameter (d2 + d3)/2 of the thread. */
  readonly outside_mm?: number;
  /** Bore of a hollow section, mm; 0 without it. */
  readonly bore_mm?: number;
}

/** Stress at a section while it is being tightened, MPa. */
export interface TighteningStress {
  readonly tension_MPa: number;
  readonly torsion_MPa: number;
  /** √(tension² + 3·torsion²). */
  readonly vonMises_MPa: number;
}

/** Tension area, mm², and torsion per preload, mm, of a section. */
function sectionOf({ size_mm, pitch_mm, threadFriction, outside_mm, bore_mm = 0 }: ScrewSection) {
  const diameter_mm = outside_mm ?? metricThread({ size_mm, pitch_mm }).stressDiameter_mm;
  requireAbove('torque', 'outside_mm', diameter_mm, 0);
  requireAtLeast('torque', 'bore_mm', bore_mm, 0);
  if (bore_mm >= diameter_mm)
    refuse('torque', 'bore_mm', bore_mm, `below the section's outside diameter, ${diameter_mm} mm`);
  return {
    area_mm2: (Math.PI / 4) * (diameter_mm ** 2 - bore_mm ** 2),
    plasticModulus_mm3: (Math.PI / 12) * (diameter_mm ** 3 - bore_mm ** 3),
    threadLever_mm: threadLever_mm({ size_mm, pitch_mm, threadFriction }),
  };
}

/**
 * Stress a preload leaves at a section while the thread is still turning, MPa. Source: VDI 2230 (formula 5.1d's
 * ground).
 */
export function tighteningStress({
  preload_N,
  ...section
}: ScrewSection & { readonly preload_N: number }): TighteningStress {
  requireAtLeast('torque', 'preload_N', preload_N, 0);
  const { area_mm2, plasticModulus_mm3, threadLever_mm: arm_mm } = sectionOf(section);
  const tension_MPa = preload_N / area_mm2;
  const torsion_MPa = (preload_N * arm_mm) / plasticModulus_mm3;
  return { tension_MPa, torsion_MPa, vonMises_MPa: Math.sqrt(tension_MPa ** 2 + 3 * torsion_MPa ** 2) };
}

/**
 * Preload at which tightening brings a section to a share of its yield, N; `utilisation` 0.9 is VDI 2230's.
 * Source: VDI 2230, F_M = ν·R_p0.2·A_0/√(1 + 3(…)²), here solved from `tighteningStress`.
 */
export function preloadAtYield({
  yield_MPa,
  utilisation = 0.9,
  ...section
}: ScrewSection & { readonly yield_MPa: number; readonly utilisation?: number }): number {
  requireAbove('torque', 'yield_MPa', yield_MPa, 0);
  requireFriction('torque', 'utilisation', utilisation);
  return (utilisation * yield_MPa) / tighteningStress({ preload_N: 1, ...section }).vonMises_MPa;
}

/**
 * What a wrench must be set to when an adapter moves the drive, N·m: T·L/(L + E·cos θ), where L is grip centre to
 * drive, E drive centre to bolt, both mm, and θ the adapter's angle from straight ahead: 0° lengthens the wrench, 90°
 * changes nothing, 180° folds back. Source: TM9254 Fig. 46, PTM, TQW, AGC.
 */
export function wrenchSetting({
  torque_Nm,
  length_mm,
  adapter_mm,
  angle_deg,
}: {
  readonly torque_Nm: number;
  readonly length_mm: number;
  readonly adapter_mm: number;
  readonly angle_deg: number;
}): number {
  requireAtLeast('torque', 'torque_Nm', torque_Nm, 0);
  requireAbove('torque', 'length_mm', length_mm, 0);
  requireAtLeast('torque', 'adapter_mm', adapter_mm, 0);
  if (!Number.isFinite(angle_deg)) refuse('torque', 'angle_deg', angle_deg, 'a finite number');
  const reach_mm = length_mm + adapter_mm * Math.cos((angle_deg * Math.PI) / 180);
  if (reach_mm <= 0)
    refuse(
      'torque',
      'adapter_mm',
      adapter_mm,
      `short enough that the bolt stays ahead of the grip (reach is ${reach_mm} mm)`,
    );
  return (torque_Nm * length_mm) / reach_mm;
}
