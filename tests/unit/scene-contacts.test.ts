// Which faces are lit in a tight pivot, against the clamp column that the solve computed: the two are read from
// different parts of the analysis.
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { analyse, readModel } from '../../shared/index.ts';
import { CLAMP, TROUBLE } from '../../src/look.ts';
import { paintContacts } from '../../src/scene/contacts.ts';
import { Painted } from '../../src/scene/painted.ts';
import { annulus } from '../../src/scene/marks.ts';
import { rubbingPairs } from '../../src/scene/placement.ts';

const pivots = readdirSync('models')
  .filter((name) => name.endsWith('.json'))
  .flatMap((name) => {
    const read = readModel(readFileSync(`models/${name}`, 'utf8'));
    if (!read.ok) throw new Error(name);
    const analysis = analyse(read.model);
    return analysis.pivots.map((pivot) => ({ pivot, rubs: rubbingPairs(analysis) }));
  });

/** The places along the axis where something is lit, mm. */
function litAt(painted: Painted): number[] {
  const found = new Set<number>();
  for (let k = 2; k < painted.positions.length; k += 3) found.add(Math.round(painted.positions[k]! * 100) / 100);
  return [...found];
}

const colourOf = (colour: string): string =>
  new Painted()
    .add(annulus(1, 2, 0, 1, 3), { kind: 'flat', colour })
    .colours.slice(0, 3)
    .join();

describe('the faces that are lit', () => {
  test('are those through which the column carries its force, in every shipped model', () => {
    let links = 0;
    for (const { pivot, rubs } of pivots) {
      const lit = litAt(paintContacts(pivot, rubs));
      for (const { z_mm, force_N, gap_mm, from, to } of pivot.stacks.flatMap(({ column }) => column)) {
        if (force_N <= 0 || gap_mm > 0) continue;
        // The thread of a receiver is no face.
        const item = pivot.stacks.flatMap(({ items }) => items).find(({ id }) => id === from)!;
        if (!item.drive.touches.some((touch) => touch.with === to)) continue;
        links += 1;
        expect(
          lit.some((z) => Math.abs(z - z_mm) < 0.05),
          `${from} ${to}`,
        ).toBe(true);
      }
    }
    expect(links).toBeGreaterThan(60);
  });

  test('have the colour of the clamp force, and that of trouble only where they rub', () => {
    for (const { pivot, rubs } of pivots) {
      const { colours } = paintContacts(pivot, rubs);
      const seen = new Set<string>();
      for (let k = 0; k < colours.length; k += 3) seen.add(colours.slice(k, k + 3).join());
      expect([...seen].every((colour) => colour === colourOf(CLAMP))).toBe(rubs.size === 0);
      const [item] = pivot.stacks.flatMap(({ items }) => items).filter(({ drive }) => drive.force_N > 0);
      const made = paintContacts(pivot, new Set([`${item!.id} ${item!.drive.touches[0]!.with}`]));
      const some = new Set<string>();
      for (let k = 0; k < made.colours.length; k += 3) some.add(made.colours.slice(k, k + 3).join());
      expect(some.has(colourOf(TROUBLE))).toBe(true);
    }
  });

  test('a part that presses on nothing lights nothing', () => {
    const { pivot } = pivots[0]!;
    const loose = {
      ...pivot,
      stacks: pivot.stacks.map((stack) => ({
        ...stack,
        items: stack.items.map((item) => ({
          ...item,
          drive: { ...item.drive, touches: item.drive.touches.map((touch) => ({ ...touch, force_N: 0 })) },
        })),
      })),
    };
    expect(paintContacts(loose, new Set()).positions).toEqual([]);
  });
});
