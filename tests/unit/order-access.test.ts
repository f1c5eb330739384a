/**
 * Access and taking apart: the least that frees a part against brute force over all sets, what each part asks for by
 * its geometry, the steps off and back, and reversal.
 */
import { describe, expect, test } from 'vitest';
import {
  nameOf,
  accessOf,
  accessTargets,
  stripOf,
  targetOf,
  wordBecause,
  wordTask,
  wordMeasure,
  wordAccess,
  wordAccessTarget,
  wordStripStep,
  type Plan,
  type StepPlace,
} from '../../shared/index.ts';
import { placesAfter } from '../setup/motions.ts';
import { type Works, worksOf } from '../../shared/order/possible.ts';
import { once } from '../setup/once.ts';
import { demoModels } from '../bench/models.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

/** Whether the shock or something of carbon is held by an axle, or has a boss within 100 mm of it. */
function isDelicate({ analysis }: Plan, stackId: string, on: readonly string[]): boolean {
  const { model, pivots } = analysis;
  const { shock } = model;
  const isDamper = (id: string): boolean => shock !== undefined && (id === shock.body || id === shock.shaft);
  const isSoft = (id: string): boolean => isDamper(id) || model.members[id]?.material === 'carbon-laminate';
  const pivot = pivots.find(({ stacks }) => stacks.some(({ id }) => id === stackId))!;
  const here = model.pivots.find(({ id }) => id === pivot.id)!;
  return pivots.some((other) => {
    const place = model.pivots.find(({ id }) => id === other.id)!;
    const far = Math.hypot(place.x_mm - here.x_mm, place.y_mm - here.y_mm);
    return other.stacks.some(({ id, items }) =>
      items.some(
        ({ member }) =>
          member !== undefined &&
          isSoft(member) &&
          (id === stackId || (far < 100 && on.includes(isDamper(member) ? shock!.body : member))),
      ),
    );
  });
}

const PLANS = demoModels().map((model) => plannedOnce(analysed(model)));
const plan = (id: string): Plan => PLANS.find(({ analysis }) => analysis.model.id === id)!;

/** Sets of axles and obstacles that can come off and go back, by trying all of them, smallest first. */
function everySet(works: Works): { readonly off: ReadonlySet<number>; readonly size: number }[] {
  const { tasks, edges, at, bike } = works;
  const choice = tasks.flatMap(({ kind, brings }, node) => (kind === 'fit' || brings.length > 0 ? [node] : []));
  const fits = choice.filter((node) => tasks[node]!.kind === 'fit');
  const solid = edges
    .filter(({ reasons }) => reasons.some(({ isSolid }) => isSolid))
    .map(({ before, after }) => [at.get(before)!, at.get(after)!] as const);
  const tightenOf = (node: number): number => at.get(`tighten:${tasks[node]!.stackId}`)!;
  const found: { off: ReadonlySet<number>; size: number }[] = [];
  for (let mask = 0; mask < 2 ** choice.length; mask++) {
    const picked = choice.filter((_, k) => (mask >> k) & 1);
    const off = new Set([...picked, ...picked.filter((node) => fits.includes(node)).map(tightenOf)]);
    // Nothing stays that has to be off before what is off.
    if (solid.some(([before, after]) => off.has(before) && !off.has(after))) continue;
    const kept = fits.filter((node) => !off.has(node)).map((node) => tasks[node]!.stackId!);
    const held = new Set([...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id));
    for (let before = -1; before !== held.size; ) {
      before = held.size;
      for (const id of kept)
        if (bike.byStack.get(id)!.units.some((unit) => held.has(unit)))
          for (const unit of bike.byStack.get(id)!.units) held.add(unit);
    }
    if (kept.some((id) => bike.byStack.get(id)!.units.some((unit) => !held.has(unit)))) continue;
    if (!goesBack(works, off)) continue;
    found.push({ off, size: off.size });
  }
  return found.sort((one, other) => one.size - other.size);
}

/** Whether some order puts a set back, by trying all. */
function goesBack(works: Works, off: ReadonlySet<number>): boolean {
  const { edges, at } = works;
  const needs = (node: number): number[] =>
    edges.flatMap(({ before, after }) => (at.get(after) === node && off.has(at.get(before)!) ? [at.get(before)!] : []));
  const dead = new Set<string>();
  const walk = (done: ReadonlySet<number>): boolean => {
    if (done.size === off.size) return true;
    const key = [...done].sort().join();
    if (dead.has(key)) return false;
    for (const node of off) {
      if (
        done.has(node) ||
        needs(node).some((need) => !done.has(need)) ||
        !works.mayGo(node, (other) => (off.has(other) ? done.has(other) : true))
      )
        continue;
      if (walk(new Set([...done, node]))) return true;
    }
    dead.add(key);
    return false;
  };
  return walk(new Set());
}

describe.each(PLANS.map((own) => ({ name: own.analysis.model.id, own })))('$name', ({ own }) => {
  const works = worksOf(own.analysis);
  const sets = everySet(works);
  const known = new Map<string, ReturnType<typeof accessOf>>();
  const reached = (target: string): ReturnType<typeof accessOf> => once(known, target, () => accessOf(own, target));

  test('whole pieces, axles and nuts: no smaller set frees them', () => {
    for (const target of accessTargets(own)) {
      const item = works.bike.stacks.flatMap(({ items }) => items).find(({ id }) => id === target.id);
      if (item?.role === 'spacer' || item?.role === 'bearing') continue;
      const wanted =
        target.kind === 'unit'
          ? works.bike.byUnit.get(target.id)!.map(({ id }) => works.at.get(`fit:${id}`)!)
          : target.kind === 'obstacle'
            ? works.tasks.flatMap(({ brings }, node) => (brings.includes(target.id) ? [node] : []))
            : [works.at.get(`fit:${item!.stackId}`)!];
      const least = sets.find(({ off }) => wanted.every((node) => off.has(node)))!;
      const access = reached(target.id);
      const taken = access.tasks.filter((id) => /^(fit|tighten|wheel|chainset)/.test(id));
      expect(access.isLeast, target.id).toBe(true);
      expect(taken.length, target.id).toBe(least.size);
    }
  });

  test('rings and bearings: at least their own axle, and no more than the whole bike', () => {
    for (const target of accessTargets(own).filter(({ kind }) => kind === 'item')) {
      const access = reached(target.id);
      expect(access.blocked).toEqual([]);
      expect(access.stacks, target.id).toContain(target.id.split('/')[0]);
      const taken = access.tasks
        .filter((id) => /^(fit|tighten|wheel|chainset)/.test(id))
        .map((id) => works.at.get(id)!);
      // What it takes off is one of the sets that can be taken off.
      expect(
        sets.some(({ off }) => off.size === taken.length && taken.every((node) => off.has(node))),
        target.id,
      ).toBe(true);
    }
  });

  test('what comes off goes back: the last step leaves everything on and tight', () => {
    for (const target of accessTargets(own)) {
      const access = reached(target.id);
      const places = new Map<string, StepPlace>(placesAfter(own, own.steps.length));
      for (const { after, kind } of access.strip)
        if (kind === 'undo') for (const [id, place] of Object.entries(after)) places.set(id, place);
      if (target.kind === 'item') expect(places.get(target.id)!.on, target.id).toBe(false);
      for (const step of access.back)
        for (const [id, place] of Object.entries(step.places)) if (!step.atBench) places.set(id, place);
      for (const step of access.back) for (const id of step.carried) places.set(id, { offset_mm: 0, on: true });
      for (const [id, place] of places) expect(place, `${target.id}: ${id}`).toEqual({ offset_mm: 0, on: true });
      expect(access.strip.at(-1)!.on.some((id) => access.off.includes(id))).toBe(false);
      if (access.stacks.length > 0 && own.analysis.model.shock)
        expect(access.strip.findIndex(({ kind }) => kind === 'release-air')).toBeLessThan(
          access.strip.findIndex(({ kind, step }) => kind === 'undo' && step.kind === 'torque'),
        );
    }
  });

  test('its words are whole', () => {
    for (const target of accessTargets(own)) {
      const access = reached(target.id);
      const words = wordAccess(access, own.analysis);
      const all = [
        words.title,
        words.text,
        ...words.notes,
        ...words.threadlocker,
        wordAccessTarget(target, own.analysis),
        ...access.because.map((one) => wordBecause(one, own.analysis)),
      ];
      for (const sentence of all) expect(sentence, target.id).not.toMatch(/undefined|NaN|\[object|the the|\s{2}/);
      expect(words.threadlocker).toHaveLength(access.threadlocker.length);
    }
  });

  test('taking apart is the build turned round, with what only taking apart needs', () => {
    const strip = stripOf(own);
    expect(strip.tasks).toEqual(own.tasks.map(({ id }) => id).reverse());
    const undone = strip.steps.flatMap(({ kind, undoes }) => (kind === 'undo' ? [undoes] : []));
    const order = own.steps.map(({ id }) => id);
    const places = undone.map((id) => order.indexOf(id!));
    expect(places).toEqual([...places].sort((a, b) => b - a));
    // Nothing is on at the end but what was there at the start.
    const now = new Map<string, StepPlace>(placesAfter(own, own.steps.length));
    for (const { kind, step, before, after } of strip.steps) {
      if (kind !== 'undo' || step.atBench) continue;
      for (const [id, place] of Object.entries(before)) expect(now.get(id), `${step.id} ${id}`).toEqual(place);
      for (const [id, place] of Object.entries(after)) now.set(id, place);
      for (const id of step.carried) now.set(id, { offset_mm: 0, on: false });
    }
    const axles = [...now].filter(([id]) => id.endsWith('/axle'));
    for (const [id, place] of axles) expect(place.on, id).toBe(false);
    const kinds = strip.steps.map(({ kind }) => kind);
    const supported = kinds.indexOf('support');
    expect(supported).toBeGreaterThanOrEqual(0);
    // On the ground: what is written down, the air, and a dropper post out of the clamp's way.
    for (const { kind, step } of strip.steps.slice(0, supported))
      expect(kind === 'undo' ? step.kind : kind).toMatch(/^(note-settings|release-air|dropper-post)$/);
    if (own.analysis.model.shock)
      expect(kinds.indexOf('release-air')).toBeLessThan(
        strip.steps.findIndex(({ step, kind }) => kind === 'undo' && step.kind === 'torque'),
      );
    for (const { stackId } of own.tasks.filter(({ kind }) => kind === 'tighten')) {
      const at = strip.steps.findIndex(
        ({ kind, step }) => kind === 'undo' && step.kind === 'torque' && step.stackId === stackId,
      );
      expect(
        strip.steps
          .slice(0, at)
          .some(({ kind, step }) => kind === 'feel' && (step.together ?? [step.stackId]).includes(stackId!)),
        stackId,
      ).toBe(true);
      const isLocked = works.bike.byStack.get(stackId!)!.isThreadlocked;
      expect(
        strip.steps.slice(0, at).some(({ kind, step }) => kind === 'warm-threadlocker' && step.stackId === stackId),
        stackId,
      ).toBe(isLocked && !isDelicate(own, stackId!, strip.steps[at]!.step.on));
    }
    for (const step of strip.steps)
      expect(Object.values(wordStripStep(step, own.analysis)).join(' ')).not.toMatch(
        /undefined|NaN|\[object|the the|\s{2}/,
      );
    for (const id of strip.tasks) expect(wordTask(id, own.analysis, 'strip')).not.toBe(id);
  });
});

describe('by geometry', () => {
  test('a rocker bearing behind the seatstay: 3 mm stand before its seat, the bearing is 6 mm wide', () => {
    const own = plan('skarn-140');
    const { items } = own.analysis.pivots.find(({ id }) => id === 'seatstay-rocker')!.stacks[0]!;
    const item = (row: string) => items.find(({ rowId }) => rowId === row)!;
    const bearing = item('bearing-left');
    // The washer of 3 mm alone stands between the bearing and the arm of the seatstay.
    expect(bearing.from_mm - item('seatstay-left').to_mm).toBeLessThan(bearing.to_mm - bearing.from_mm);
    const access = accessOf(own, bearing.id);
    // With its axle out the seatstay still hangs on the swingarm and swings away: nothing more has to be opened.
    expect(access.stacks).toEqual(['seatstay-rocker']);
    expect(access.strip.some(({ step, kind }) => kind === 'undo' && step.kind === 'press-bearing')).toBe(true);
    expect(access.back.filter(({ kind }) => kind === 'press-bearing').map(({ items: pressed }) => pressed)).toEqual([
      [bearing.id],
    ]);
  });

  test('a bearing behind an arm that a second axle holds wants that axle out, too, and is told the room', () => {
    const own = plan('fjordside-150');
    const access = accessOf(own, 'rear-left/bearing-left');
    expect([...access.stacks].sort()).toEqual(['rear-left', 'rear-right']);
    const because = access.because.find(({ reason }) => reason.code === 'seat-covered')!;
    const { room_mm, width_mm } = because.reason.numbers;
    expect(room_mm!.value).toBeLessThan(width_mm!.value);
    expect(wordBecause(because, own.analysis)).toMatch(/The chainstay stands 3\.\d+ mm before the seat of bearing/);
  });

  test('the nut behind the chainring wants the chainset off, by how much it covers', () => {
    const own = plan('skarn-140');
    const { model, pivots } = own.analysis;
    const access = accessOf(own, 'main/axle');
    expect(access.off).toEqual(expect.arrayContaining(['chainset', 'chainring', 'rear-wheel']));
    const because = access.because.find(({ reason }) => reason.code === 'nut-path')!;
    // The chain ring's edge and the nut's, about their centres: what the one overlaps the other.
    const ring = model.obstacles!.find(({ id }) => id === 'chainring')!;
    const { x_mm, y_mm } = model.pivots.find(({ id }) => id === 'main')!;
    const nut = model.parts[model.pivots.find(({ id }) => id === 'main')!.stacks[0]!.receiver!]!;
    if (nut.kind !== 'nut') throw new Error('test: the main axle has no nut');
    const cover = ring.radius_mm + nut.outside_mm / 2 - Math.hypot(ring.x_mm - x_mm, ring.y_mm - y_mm);
    expect(because.reason.numbers['cover_mm']!.value).toBeCloseTo(cover, 9);
    expect(wordBecause(because, own.analysis)).toContain(
      `covers the place of the nut of “${pivots.find(({ id }) => id === 'main')!.stacks[0]!.name.toLowerCase()}” by ${wordMeasure({ value: cover, unit: 'mm' })}`,
    );
  });

  test('the shock alone: both its ends, and neither wheel nor chainset; what the model calls fitted for now is named', () => {
    const own = plan('skarn-140');
    const access = accessOf(own, 'shock-body');
    expect([...access.stacks].sort()).toEqual(['shock-frame', 'shock-rocker']);
    expect(access.off).toEqual(['shock-body']);
    expect(access.fitted_for_now.map(({ stackId }) => stackId).sort()).toEqual(['shock-frame', 'shock-rocker']);
    expect(access.threadlocker).toEqual([{ stackId: 'shock-rocker', strength: 'medium strength' }]);
    // Every tool of the two axles, each once.
    const drives = own.analysis.model.pivots
      .flatMap(({ stacks }) => stacks)
      .filter(({ id }) => access.stacks.includes(id))
      .flatMap((stack) => Object.values(stack.drives ?? {}));
    const named = new Set(drives.map((drive) => JSON.stringify(drive)));
    expect(new Set(access.tools.map((tool) => JSON.stringify(tool)))).toEqual(named);
    expect(access.tools).toHaveLength(named.size);
    expect(wordAccess(access, own.analysis).notes.join(' ')).toMatch(
      /stand-in shock is fitted\? To swap it later you reopen .*lower shock eye/,
    );
  });

  test('what cannot be asked for is refused by name', () => {
    const own = plan('skarn-140');
    expect(() => accessOf(own, 'nonsense')).toThrow(/met "nonsense", allowed: /);
    expect(() => accessOf(own, 'frame')).toThrow(/never comes off/);
    expect(targetOf(own, 'shock-shaft')).toEqual({ kind: 'unit', id: 'shock-body' });
    expect(targetOf(own, 'rocker-frame/rocker-left')).toEqual({ kind: 'unit', id: 'rocker' });
    const tube = own.analysis.model.parts['main-tube']!.name;
    expect(nameOf('main/tube', own.analysis)).toBe(tube);
  });
});

describe('what is shut in', () => {
  const kinds = (steps: readonly { readonly kind: string; readonly items: readonly string[] }[]): string[] =>
    steps
      .filter(({ kind }) => kind === 'press-bearing' || kind === 'set-spacer')
      .map(({ kind, items }) => `${kind} ${items.join()}`);

  test('a tube between two bearings of one eye comes out after one of them, and goes in before it', () => {
    const access = accessOf(plan('fjordside-150'), 'shock-frame/tube');
    const off = kinds(access.strip.filter(({ kind }) => kind === 'undo').map(({ step }) => step));
    const back = kinds(access.back);
    expect(off.slice(-2)).toEqual(['press-bearing shock-frame/bearing-right', 'set-spacer shock-frame/tube']);
    expect(back.slice(0, 2)).toEqual(['set-spacer shock-frame/tube', 'press-bearing shock-frame/bearing-right']);
  });

  test('a ring that two members hold between them stays where it is while another axle keeps them together', () => {
    const access = accessOf(plan('skarn-140'), 'rear-left/axle');
    expect(access.stacks).toEqual(['rear-left']);
    expect(kinds(access.back).join()).not.toContain('rear-left/washer');
    // It is what is asked for: then the other axle is opened, too.
    const washer = accessOf(plan('skarn-140'), 'rear-left/washer');
    expect(washer.stacks).toContain('rear-right');
    expect(kinds(washer.back).join()).toContain('set-spacer rear-left/washer');
  });
});
