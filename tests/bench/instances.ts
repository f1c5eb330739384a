/**
 * Random clamp problems for the tests and the bench, each from a printed seed.
 *
 * Every instance is a column of bodies between two ends that a pull draws together, with members hung on it. Families:
 * `sprung` (every body tied to its neighbour, so that one body held still leaves a strictly convex problem), `stiff`
 * (contacts up to 1e8 N/mm beside soft arms), `floating` (bearings with play, loose bodies, parts millimetres apart)
 * and `degenerate` (gaps of exactly nothing, the same contact several times, a body in contact with many).
 */
import type { ClampProblem, ContactLaw, PullLaw, SpringLaw } from '../../shared/index.ts';
import { random, type Random } from '../setup/random.ts';

export const FAMILIES = ['sprung', 'stiff', 'floating', 'degenerate'] as const;
export type Family = (typeof FAMILIES)[number];

/** The instance of a family and a seed; 12 to 40 bodies unless `bodies` says otherwise. */
export function clampInstance(family: Family, seed: number, bodies?: number): ClampProblem {
  const draw = random(seed * 4 + FAMILIES.indexOf(family));
  const count = bodies ?? draw.whole(12, 40);
  const column = draw.whole(Math.ceil(count / 2), count - 2);
  const contacts: ContactLaw[] = [];
  const springs: SpringLaw[] = [];
  for (let k = 0; k + 1 < column; k++) contacts.push(contact(draw, family, k, k + 1));
  // Outer rings, arms and members beside the column.
  for (let body = column; body < count; body++) hang(draw, family, body, column, contacts, springs);
  if (family === 'sprung') {
    for (let k = 0; k + 1 < count; k++)
      springs.push({
        a: k,
        b: k + 1,
        stiffness_N_per_mm: draw.decades(100, 2e4),
        play_mm: 0,
        rest_mm: draw.between(-0.2, 0.2),
      });
  }
  if (family === 'degenerate') {
    for (let k = 0; k < 4; k++) {
      const law = draw.pick(contacts);
      contacts.push({ ...law, stiffness_N_per_mm: law.stiffness_N_per_mm * draw.pick([1, 1, 3]) });
    }
  }
  return { bodies: count, contacts, springs, pulls: pulls(draw, column) };
}

function contact(draw: Random, family: Family, a: number, b: number): ContactLaw {
  return { a, b, gap_mm: gapOf(draw, family), stiffness_N_per_mm: stiffnessOf(draw, family) };
}

function gapOf(draw: Random, family: Family): number {
  switch (family) {
    case 'sprung':
      return draw.between(-0.05, 0.3);
    case 'stiff':
      return draw.pick([0, draw.between(-0.02, 0.02), draw.between(0, 5)]);
    case 'floating':
      return draw.pick([draw.between(0, 0.05), draw.between(0, 8)]);
    case 'degenerate':
      return draw.pick([0, 0, 0, draw.between(0, 1)]);
  }
}

function stiffnessOf(draw: Random, family: Family): number {
  return family === 'stiff'
    ? draw.decades(1e4, 1e8)
    : family === 'degenerate'
      ? draw.pick([3e5, 3e5, 1e6])
      : draw.decades(3e4, 3e6);
}

function hang(
  draw: Random,
  family: Family,
  body: number,
  column: number,
  contacts: ContactLaw[],
  springs: SpringLaw[],
): void {
  const at = draw.whole(0, column - 1);
  const other = draw.whole(0, body - 1);
  const isLoose = family === 'floating' && draw.chance(0.3);
  if (!isLoose) {
    springs.push({
      a: at,
      b: body,
      stiffness_N_per_mm: draw.decades(5e3, 5e5),
      play_mm: family === 'sprung' ? draw.pick([0, 0.1]) : draw.between(0, 0.3),
      rest_mm: 0,
    });
    if (other !== at && draw.chance(0.4))
      springs.push({
        a: other,
        b: body,
        stiffness_N_per_mm: draw.decades(50, 5e3),
        play_mm: 0,
        rest_mm: draw.between(-1, 1),
      });
  }
  if (draw.chance(0.6)) {
    const next = draw.whole(0, column - 1);
    const [a, b] = draw.chance(0.5) ? [next, body] : [body, next];
    contacts.push({
      ...contact(draw, family, a, b),
      gap_mm: Math.abs(gapOf(draw, family)) + (family === 'degenerate' ? 0 : 0.05),
    });
  }
}

function pulls(draw: Random, column: number): PullLaw[] {
  const whole: PullLaw = { a: 0, b: column - 1, force_N: draw.decades(500, 3e4) };
  // A second stack of the same pivot draws two bodies of the column together as well.
  const from = draw.whole(0, Math.floor(column / 3));
  const to = draw.whole(Math.ceil((2 * column) / 3), column - 1);
  return draw.chance(0.25) ? [whole, { a: from, b: to, force_N: draw.decades(500, 1e4) }] : [whole];
}
