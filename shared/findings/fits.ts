/**
 * How a bearing sits in its seat and on its axle, and an axle in a member's bore: judged both ways, by what is left.
 *
 * Each size is a range: the ring's by ISO 492 Normal, seat and shank by the class or the tolerance of the drawing, or
 * as written. Too tight is a press that takes, at the middle of the ranges, more clearance than the bearing's group
 * (ISO 5753) has, by the material and the wall of what it is pressed into: a `warn` from the middle of the group, a
 * `stop` from its upper end, where no bearing of the group has any left; a laminate tears before that. Too loose is a
 * seat beyond the classes that bearings are seated by, a shank thinner than those that carry them, an axle with room in
 * a member's bore. What is off by a whole size is a `bore-mismatch`, not a fit. Interference, play and clearance are
 * diametral, mm.
 */
import { boreRadius_mm, type Joint, type JointItem, type JointStack } from '../joint/joint.ts';
import { matesOf, middle, pressesOf, shankAt, type Mates } from '../joint/mounting.ts';
import { PRESSED_mm } from '../joint/press.ts';
import { LIMITS } from '../limits.ts';
import { nearestDeviation, sizeLimits, type Bounded } from '../standards/fits.ts';
import { material } from '../standards/materials.ts';
import type { Measure } from '../types.ts';
import type { FitFault } from './fit-fault.ts';
import { liningFaults } from './linings.ts';
import { HAIR_mm, mm } from './misfit.ts';

/** The fits of one stack that a person must know of. */
export function fitFaults(joint: Joint, own: JointStack): FitFault[] {
  return own.items.flatMap((item) => {
    if (item.role === 'boss') return looseInBore(joint, own, item);
    if (item.kind === 'bush') return looseBush(joint, own, item);
    if (item.role === 'lining') return liningFaults(own, item);
    if (!item.bearing || !item.seat) return [];
    const mates = matesOf(own, item);
    return [...tight(own, item, mates), ...looseSeat(item, mates), ...looseShank(own, item, mates), ...recessed(item)];
  });
}

const N = (value: number): Measure => ({ value, unit: 'N' });

/** The tolerance class that a drawing gives, for the words. */
function classOf({ fit }: Bounded): Record<string, string> {
  return fit === undefined ? {} : { class: fit };
}

function tight(own: JointStack, item: JointItem, mates: Mates): FitFault[] {
  const bearing = item.bearing!;
  const { bore, diameter_mm } = item.seat!;
  const boss = material(bore.member.material);
  const { outside, seat, bore: hole, shank = hole } = mates;
  const pressed_mm = middle(outside) - middle(seat);
  const { seat: seatMiddle, shank: shankMiddle } = pressesOf(own, item, mates);
  const byShank = shankMiddle.lost_mm > seatMiddle.lost_mm;
  const sizes: Record<string, Measure> = byShank
    ? { axle_mm: mm(mates.shank!.written_mm), bore_mm: mm(bearing.bore_mm), push_N: N(shankMiddle.push_N) }
    : { seat_mm: mm(diameter_mm), outside_mm: mm(bearing.outside_mm), push_N: N(seatMiddle.push_N) };
  const { low_mm, high_mm } = bearing.clearance_mm;
  const lost_mm = seatMiddle.lost_mm + shankMiddle.lost_mm;
  const isGone = lost_mm > high_mm + HAIR_mm;
  const has_mm = isGone ? high_mm : (low_mm + high_mm) / 2;
  const found: FitFault[] = [];
  if (lost_mm > has_mm + HAIR_mm) {
    found.push({
      code: 'fit-too-tight',
      severity: isGone ? 'stop' : 'warn',
      items: byShank ? [item, own.axle] : [item],
      numbers: { lost_mm: mm(lost_mm), ...sizes },
      limit: { value: has_mm, unit: 'mm', source: `ISO 5753-1, group ${bearing.group}; loss by Lamé` },
      about: {
        what: byShank ? 'axle' : 'seat',
        rule: 'clearance',
        group: bearing.group,
        ...classOf(byShank ? mates.shank! : item.seat!.bounds),
      },
    });
  } else if (shank.lower_mm > bearing.bore_mm + PRESSED_mm && !mates.isOtherShank) {
    found.push({
      code: 'fit-too-tight',
      severity: 'warn',
      items: [item, own.axle],
      numbers: {
        axle_mm: mm(mates.shank!.written_mm),
        bore_mm: mm(bearing.bore_mm),
        push_N: N(shankMiddle.push_N),
      },
      about: { what: 'axle', rule: 'press', ...classOf(mates.shank!) },
    });
  }
  const carbon = LIMITS.pressCarbon_mm;
  if (boss.family !== 'carbon' || mates.isOtherSeat || pressed_mm <= carbon.value * LIMITS.warnShare.value)
    return found;
  const isStop = pressed_mm > carbon.value;
  // One press is one finding: what the laminate takes is told, unless the bearing gives out sooner.
  if (found.some(({ severity, about }) => about['what'] === 'seat' && severity === 'stop' && !isStop)) return found;
  return [
    ...found.filter(({ about }) => about['what'] !== 'seat'),
    {
      code: 'fit-too-tight',
      severity: isStop ? 'stop' : 'warn',
      items: [item],
      numbers: {
        press_mm: mm(pressed_mm),
        seat_mm: mm(diameter_mm),
        outside_mm: mm(bearing.outside_mm),
        push_N: N(seatMiddle.push_N),
      },
      limit: { ...carbon, unit: 'mm' },
      about: { what: 'seat', rule: 'carbon', ...classOf(item.seat!.bounds) },
    },
  ];
}

/** The widest class that holds a ring which turns with its seat, and the widest that is made for a bearing at all. */
const [HELD, WIDEST] = ['K7', 'H7'] as const;
const CLASSES = 'ISO 286-2 (bearing catalogue, 2018)';

function looseSeat(item: JointItem, { seat, isOtherSeat }: Mates): FitFault[] {
  const { outside_mm } = item.bearing!;
  if (isOtherSeat) return [];
  const wide_mm = middle(seat) - outside_mm;
  const limits = [WIDEST, HELD].map((symbol) => ({ symbol, value: nearestDeviation(symbol, outside_mm).upper_mm }));
  const passed = limits.find(({ value }) => wide_mm > value + HAIR_mm);
  if (!passed) return [];
  const { symbol, value } = passed;
  return [
    {
      code: 'fit-too-loose',
      severity: symbol === WIDEST ? 'stop' : 'warn',
      items: [item],
      numbers: { wide_mm: mm(wide_mm), seat_mm: mm(item.seat!.diameter_mm), outside_mm: mm(outside_mm) },
      limit: { value, unit: 'mm', source: `${symbol} of ${CLASSES}` },
      about: { what: 'seat', ...classOf(item.seat!.bounds) },
    },
  ];
}

/** The thinnest class that carries a bearing whose outer ring turns. */
const CARRIES = 'f6';

function looseShank(own: JointStack, item: JointItem, { shank, isOtherShank }: Mates): FitFault[] {
  if (!shank || isOtherShank) return [];
  const { bore_mm } = item.bearing!;
  const play_mm = bore_mm - middle(shank);
  const isStop = play_mm > LIMITS.looseFit_mm.value + HAIR_mm;
  const least_mm = -nearestDeviation(CARRIES, bore_mm).lower_mm;
  if (!isStop && play_mm <= least_mm + HAIR_mm) return [];
  return [
    {
      code: 'fit-too-loose',
      severity: isStop ? 'stop' : 'warn',
      items: [item, own.axle],
      numbers: { play_mm: mm(play_mm), axle_mm: mm(shank.written_mm), bore_mm: mm(bore_mm) },
      limit: isStop
        ? { ...LIMITS.looseFit_mm, unit: 'mm' }
        : { value: least_mm, unit: 'mm', source: `${CARRIES} of ${CLASSES}` },
      about: { what: 'axle', ...classOf(shank) },
    },
  ];
}

/** A bore that stands still on the axle guides it; one that turns on bearings gives it way. */
function looseInBore(joint: Joint, own: JointStack, item: JointItem): FitFault[] {
  const shank = item !== own.receiver && item.inColumn ? shankAt(own, item) : undefined;
  if (!shank) return [];
  const bore_mm = 2 * boreRadius_mm(joint.pieces, item);
  const play_mm = bore_mm - middle(sizeLimits(shank.diameter_mm, shank));
  const limit = LIMITS.bossFit_mm;
  // A pinch bolt closes what is open, or its own finding says that it cannot.
  if (item.boss!.slot_mm !== undefined) return [];
  if (play_mm <= limit.value * LIMITS.warnShare.value + HAIR_mm) return [];
  return [
    {
      code: 'fit-too-loose',
      severity: play_mm > limit.value + HAIR_mm ? 'stop' : 'warn',
      items: [item, own.axle],
      numbers: { play_mm: mm(play_mm), axle_mm: mm(shank.diameter_mm), bore_mm: mm(bore_mm) },
      limit: { ...limit, unit: 'mm' },
      about: { what: 'bore', ...classOf(shank) },
    },
  ];
}

/** A bush carries what turns on it: its room on the axle is play of the joint, as that of a bearing is. */
function looseBush(joint: Joint, own: JointStack, item: JointItem): FitFault[] {
  const shank = shankAt(own, item);
  if (!shank) return [];
  const bore_mm = 2 * boreRadius_mm(joint.pieces, item);
  const play_mm = bore_mm - middle(sizeLimits(shank.diameter_mm, shank));
  const isStop = play_mm > LIMITS.bushFitMost_mm.value + HAIR_mm;
  const limit = isStop ? LIMITS.bushFitMost_mm : LIMITS.bushFit_mm;
  if (play_mm <= limit.value + HAIR_mm) return [];
  return [
    {
      code: 'fit-too-loose',
      severity: isStop ? 'stop' : 'warn',
      items: [item, own.axle],
      numbers: { play_mm: mm(play_mm), axle_mm: mm(shank.diameter_mm), bore_mm: mm(bore_mm) },
      limit: { ...limit, unit: 'mm' },
      about: { what: 'bush', ...classOf(shank) },
    },
  ];
}

function recessed(item: JointItem): FitFault[] {
  const { width_mm } = item.bearing!;
  const { depth_mm, rest_mm, isCovered, groove } = item.seat!;
  const below_mm = rest_mm - width_mm - item.proud_mm;
  if (isCovered || groove || below_mm <= LIMITS.recessed_mm.value) return [];
  return [
    {
      code: 'bearing-recessed',
      severity: 'note',
      items: [item],
      numbers: { below_mm: mm(below_mm), width_mm: mm(width_mm), depth_mm: mm(depth_mm) },
      about: {},
    },
  ];
}
