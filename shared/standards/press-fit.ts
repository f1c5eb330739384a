/**
 * What pressing a bearing into its seat or onto its axle does: the pressure between the two, the clearance that the
 * ring gives up, and the push it takes.
 *
 * Method: Lamé's thick rings. The two rings share the interference; the bearing's ring ends at the mean diameter of its
 * groove, (4d + D)/5 inside and (d + 4D)/5 outside (from memory), and what its groove moves is clearance lost. The push
 * is friction on the pressed face. Linear in the interference, 0 where there is play. Convention: interference,
 * clearance and diameters are diametral. Lengths mm, forces N, E and pressure in MPa.
 */
import { requireAbove, requireAtLeast } from './guard.ts';
import { MATERIALS, type Material } from './materials.ts';

/** What a material does in a press fit. */
export type Elastic = Pick<Material, 'E_MPa' | 'poisson'>;

/** Boundary dimensions of a bearing that is pressed, mm. */
export interface PressedBearing {
  readonly bore_mm: number;
  readonly outside_mm: number;
  readonly width_mm: number;
}

/** What a press fit does. */
export interface PressFit {
  readonly pressure_MPa: number;
  /** Radial internal clearance that the bearing gives up, mm. */
  readonly lost_mm: number;
  /** Push along the axis to press it in, N. */
  readonly push_N: number;
}

/** Pressing dry clean steel into aluminium; oiled it is 0.08, at the most 0.15; from memory. */
const FRICTION = 0.12;

/** Pressure between two rings forced together at `diameter_mm`, MPa. Source: Lamé, from memory. */
export function pressure_MPa(
  diameter_mm: number,
  interference_mm: number,
  inner: Elastic & { readonly bore_mm: number },
  outer: Elastic & { readonly outside_mm: number },
): number {
  requireAtLeast('press-fit', 'inner bore_mm', inner.bore_mm, 0);
  requireAbove('press-fit', 'diameter_mm', diameter_mm, inner.bore_mm);
  requireAbove('press-fit', 'outer outside_mm', outer.outside_mm, diameter_mm);
  const [d, a, b] = [diameter_mm ** 2, inner.bore_mm ** 2, outer.outside_mm ** 2];
  const give = ((b + d) / (b - d) + outer.poisson) / outer.E_MPa + ((d + a) / (d - a) - inner.poisson) / inner.E_MPa;
  return Math.max(0, interference_mm) / (diameter_mm * give);
}

const RING = MATERIALS['bearing-steel'];
/** What has no wall is not pressed: the thinner a wall, the less pressure it holds. */
const NO_PRESS: PressFit = { pressure_MPa: 0, lost_mm: 0, push_N: 0 };

/** A bearing pressed into a boss of outside diameter `boss_mm`. */
export function seatPress(
  { bore_mm, outside_mm, width_mm }: PressedBearing,
  boss: Elastic & { readonly boss_mm: number },
  interference_mm: number,
): PressFit {
  if (boss.boss_mm <= outside_mm) return NO_PRESS;
  const groove_mm = (bore_mm + 4 * outside_mm) / 5;
  const p = pressure_MPa(
    outside_mm,
    interference_mm,
    { ...RING, bore_mm: groove_mm },
    { ...boss, outside_mm: boss.boss_mm },
  );
  const lost_mm = (2 * p * outside_mm ** 2 * groove_mm) / (RING.E_MPa * (outside_mm ** 2 - groove_mm ** 2));
  return { pressure_MPa: p, lost_mm, push_N: FRICTION * p * Math.PI * outside_mm * width_mm };
}

/** A bearing pressed onto a shank, hollow by `hole_mm`. */
export function shankPress(
  { bore_mm, outside_mm, width_mm }: PressedBearing,
  shank: Elastic & { readonly hole_mm: number },
  interference_mm: number,
): PressFit {
  if (shank.hole_mm >= bore_mm) return NO_PRESS;
  const groove_mm = (4 * bore_mm + outside_mm) / 5;
  const p = pressure_MPa(
    bore_mm,
    interference_mm,
    { ...shank, bore_mm: shank.hole_mm },
    { ...RING, outside_mm: groove_mm },
  );
  const lost_mm = (2 * p * bore_mm ** 2 * groove_mm) / (RING.E_MPa * (groove_mm ** 2 - bore_mm ** 2));
  return { pressure_MPa: p, lost_mm, push_N: FRICTION * p * Math.PI * bore_mm * width_mm };
}
