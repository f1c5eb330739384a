/**
 * Materials of linkage parts: stiffness, weight, strength and the pressure a clamped face may carry.
 *
 * A table, one row a material, attributed row by row; nothing is computed but the pressure rule. Sources are named by
 * the codes of `sources.ts`; where none was opened, the source says 'from memory'. Strengths are the low ones where
 * sources differ. E, yield, tensile and pressure are in MPa (N/mm²), density in kg/m³.
 *
 * Pressure under a face: the VDI 2230 limiting value where P678 lists the material, else the 0.2 % yield strength,
 * which is the lower of the two for every listed material but 7075. A laminate takes one third of the low end of its
 * bearing band.
 */
import { refuse } from './guard.ts';

/** Every material a model may name, in the order a list shows them. */
export const MATERIAL_KEYS = [
  'steel',
  'steel-quenched',
  'bearing-steel',
  'stainless-304',
  'aluminium-7075',
  'aluminium-6061',
  'titanium-6al4v',
  'carbon-laminate',
  'acetal',
  'nitrile-rubber',
] as const;
/** One of `MATERIAL_KEYS`. */
export type MaterialKey = (typeof MATERIAL_KEYS)[number];
/** What a material is in the workshop: rules of thumb (thread engagement, caution for carbon) go by family. */
export type MaterialFamily = 'steel' | 'aluminium' | 'titanium' | 'carbon' | 'polymer';

/** One row of the materials table. */
export interface Material {
  readonly key: MaterialKey;
  /** Words for a screen. */
  readonly name: string;
  readonly family: MaterialFamily;
  /** Young's modulus along the part, MPa; for a laminate in its plane. */
  readonly E_MPa: number;
  /** Ends of the modulus band, MPa; equal to `E_MPa` within 5 % for a metal. */
  readonly E_low_MPa: number;
  readonly E_high_MPa: number;
  readonly poisson: number;
  readonly density_kg_m3: number;
  /** 0.2 % yield (or, for a polymer or laminate, the stress it may not pass), MPa. */
  readonly yield_MPa: number;
  readonly tensile_MPa: number;
  /** Permissible mean pressure under a clamped face, MPa. */
  readonly bearingPressure_MPa: number;
  /** True where a verdict that rests on this row must say it is an estimate. */
  readonly isEstimate: boolean;
  readonly source: string;
}

const memory = 'density and Poisson ratio from memory';

/** The materials table. */
export const MATERIALS: Readonly<Record<MaterialKey, Material>> = {
  steel: {
    key: 'steel',
    name: 'steel, plain (C45)',
    family: 'steel',
    E_MPa: 210_000,
    E_low_MPa: 205_000,
    E_high_MPa: 210_000,
    poisson: 0.3,
    density_kg_m3: 7850,
    yield_MPa: 340,
    tensile_MPa: 580,
    // P678 gives C45 700 MPa at a tensile strength of 800; a steel nobody named may be the softer St 50 of the same
    // list.
    bearingPressure_MPa: 420,
    isEstimate: false,
    source: `FCM card C45; pressure P678 (St 50, the softest steel a part is likely to be); ${memory}`,
  },
  'steel-quenched': {
    key: 'steel-quenched',
    name: 'steel, quenched and tempered (34CrNiMo6)',
    family: 'steel',
    E_MPa: 210_000,
    E_low_MPa: 205_000,
    E_high_MPa: 210_000,
    poisson: 0.3,
    density_kg_m3: 7850,
    yield_MPa: 1000,
    tensile_MPa: 1200,
    bearingPressure_MPa: 1080,
    isEstimate: false,
    source: `FCM card 34CrNiMo6 QT; pressure P678; ${memory}`,
  },
  'bearing-steel': {
    key: 'bearing-steel',
    name: 'bearing steel, hardened (100Cr6 / 52100)',
    family: 'steel',
    E_MPa: 208_000,
    E_low_MPa: 203_000,
    E_high_MPa: 210_000,
    poisson: 0.3,
    density_kg_m3: 7810,
    yield_MPa: 2030,
    tensile_MPa: 2240,
    bearingPressure_MPa: 2030,
    isEstimate: false,
    source:
      'E 206-210 GPa and tensile 2000+ from memory; yield 295 ksi, tensile 325 ksi, density from a data sheet for hardened 52100; pressure by the yield rule',
  },
  'stainless-304': {
    key: 'stainless-304',
    name: 'stainless steel, annealed (304)',
    family: 'steel',
    E_MPa: 200_000,
    E_low_MPa: 193_000,
    E_high_MPa: 200_000,
    poisson: 0.3,
    density_kg_m3: 8000,
    yield_MPa: 179,
    tensile_MPa: 503,
    bearingPressure_MPa: 210,
    isEstimate: false,
    source: `FMAT library (304 annealed); pressure P678, 1986 list, X5CrNiMo18-10; ${memory}`,
  },
  'aluminium-7075': {
    key: 'aluminium-7075',
    name: 'aluminium 7075-T6',
    family: 'aluminium',
    E_MPa: 71_000,
    E_low_MPa: 70_000,
    E_high_MPa: 72_000,
    poisson: 0.33,
    density_kg_m3: 2810,
    yield_MPa: 462,
    tensile_MPa: 524,
    bearingPressure_MPa: 410,
    isEstimate: false,
    source: `FMAT library 7075-T651 (lower than btimetals' typical 503 / 572); pressure P678 AW-7075; ${memory}`,
  },
  'aluminium-6061': {
    key: 'aluminium-6061',
    name: 'aluminium 6061-T6',
    family: 'aluminium',
    E_MPa: 69_000,
    E_low_MPa: 68_000,
    E_high_MPa: 70_000,
    poisson: 0.33,
    density_kg_m3: 2700,
    yield_MPa: 241,
    tensile_MPa: 290,
    bearingPressure_MPa: 241,
    isEstimate: false,
    source: 'FCM card 6061-T6, strengths FMAT library; pressure by the yield rule (P678 has 260 for AlMgSi1 F31)',
  },
  'titanium-6al4v': {
    key: 'titanium-6al4v',
    name: 'titanium Ti-6Al-4V',
    family: 'titanium',
    E_MPa: 110_000,
    E_low_MPa: 110_000,
    E_high_MPa: 114_000,
    poisson: 0.34,
    density_kg_m3: 4430,
    yield_MPa: 827,
    tensile_MPa: 896,
    bearingPressure_MPa: 827,
    isEstimate: false,
    source: `FMAT library; pressure by the yield rule (P678 has 890); ${memory}`,
  },
  'carbon-laminate': {
    key: 'carbon-laminate',
    name: 'carbon laminate, quasi-isotropic',
    family: 'carbon',
    E_MPa: 52_000,
    E_low_MPa: 45_000,
    E_high_MPa: 60_000,
    poisson: 0.3,
    density_kg_m3: 1550,
    yield_MPa: 300,
    tensile_MPa: 450,
    bearingPressure_MPa: 100,
    isEstimate: true,
    source:
      'from memory (in plane 45-60 GPa, bearing 300-500 MPa, a wide band); pressure one third of the low end; the frame maker knows the lay-up',
  },
  acetal: {
    key: 'acetal',
    name: 'acetal (POM)',
    family: 'polymer',
    E_MPa: 2800,
    E_low_MPa: 2400,
    E_high_MPa: 3100,
    poisson: 0.37,
    density_kg_m3: 1410,
    yield_MPa: 62,
    tensile_MPa: 65,
    bearingPressure_MPa: 62,
    isEstimate: true,
    source: 'from memory; pressure by the yield rule',
  },
  'nitrile-rubber': {
    key: 'nitrile-rubber',
    name: 'nitrile rubber (seal)',
    family: 'polymer',
    E_MPa: 8,
    E_low_MPa: 3,
    E_high_MPa: 15,
    poisson: 0.49,
    density_kg_m3: 1200,
    yield_MPa: 2,
    tensile_MPa: 15,
    bearingPressure_MPa: 2,
    isEstimate: true,
    source: 'from memory; a seal must carry no clamp force, its pressure limit only has to be small',
  },
};

/** The table row of a material, SI units as named; throws a RangeError for a key the table lacks. */
export function material(key: MaterialKey): Material {
  return Object.hasOwn(MATERIALS, key) ? MATERIALS[key] : refuse('materials', 'key', key, MATERIAL_KEYS.join(', '));
}
