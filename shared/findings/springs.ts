/**
 * What is wrong with a spring of the column when the axle is tight: it is hardly pressed, or nearly flat and so no
 * spring any more. Neither stops a pivot. Limits are shares of the way from free to flat; told in mm. N.
 */
import { pressed_mm, type JointItem, type JointStack } from '../joint/joint.ts';
import { LIMITS, type Limit } from '../limits.ts';
import { kindOf } from '../parts/kinds.ts';
import type { Measure, Severity } from '../types.ts';

interface SpringFault {
  readonly code: 'spring-misfitted';
  readonly severity: Severity;
  readonly items: readonly JointItem[];
  readonly numbers: Record<string, Measure>;
  readonly limit: Measure & { readonly source: string };
  readonly about: { readonly how: 'slack' | 'flat' };
}

/** Faults of a stack's springs at the shifts of a tight joint; nested ones are told together. O(items). */
export function springFaults({ items }: JointStack, shift_mm: Float64Array): SpringFault[] {
  return items.flatMap((item, at): SpringFault[] => {
    const by_mm = pressed_mm(item, shift_mm);
    if (by_mm === undefined || items[at - 1]?.body === item.body) return [];
    const { curve, travel_mm } = kindOf(item.made!).spring!(item.made!);
    const packet = items.filter(({ body }) => body === item.body);
    const told = (how: 'slack' | 'flat', { value, source }: Limit): SpringFault => ({
      code: 'spring-misfitted',
      severity: 'warn',
      items: packet,
      numbers: {
        pressed_mm: { value: by_mm, unit: 'mm' },
        flat_mm: { value: travel_mm, unit: 'mm' },
        force_N: { value: packet.length * curve.force_N(by_mm), unit: 'N' },
      },
      limit: { value: value * travel_mm, unit: 'mm', source },
      about: { how },
    });
    if (by_mm < LIMITS.springLeast.value * travel_mm) return [told('slack', LIMITS.springLeast)];
    return by_mm > LIMITS.springMost.value * travel_mm ? [told('flat', LIMITS.springMost)] : [];
  });
}
