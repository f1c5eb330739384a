/**
 * What is wrong with a spring of the column when the axle is tight: it is hardly pressed, or nearly flat and so no
 * spring any more. Neither stops a pivot. Limits are shares of the way from free to flat; told in mm. N.
 */
import { pressed_mm, type JointStack } from '../joint/joint.ts';
import { LIMITS, type Limit } from '../limits.ts';
import { kindOf } from '../parts/kinds.ts';
import { misfits, mm, type Misfit } from './misfit.ts';

type SpringFault = Misfit<'spring-misfitted', 'slack' | 'flat'>;
const fault = misfits<'spring-misfitted', 'slack' | 'flat'>('spring-misfitted');

/** Faults of a stack's springs at the shifts of a tight joint; nested ones are told together. O(items). */
export function springFaults({ items }: JointStack, shift_mm: Float64Array): SpringFault[] {
  return items.flatMap((item, at): SpringFault[] => {
    const by_mm = pressed_mm(item, shift_mm);
    if (by_mm === undefined || items[at - 1]?.body === item.body) return [];
    const { curve, travel_mm } = kindOf(item.made!).spring!(item.made!);
    const packet = items.filter(({ body }) => body === item.body);
    const force_N = packet.length * curve.force_N(by_mm);
    const numbers = { pressed_mm: mm(by_mm), flat_mm: mm(travel_mm), force_N: { value: force_N, unit: 'N' } as const };
    const told = (how: 'slack' | 'flat', { value, source }: Limit): SpringFault =>
      fault(how, packet, numbers, { value: value * travel_mm, source });
    if (by_mm < LIMITS.springLeast.value * travel_mm) return [told('slack', LIMITS.springLeast)];
    return by_mm > LIMITS.springMost.value * travel_mm ? [told('flat', LIMITS.springMost)] : [];
  });
}
