// The state of the page on the models that come with it: every transition as plain functions, no browser.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { analyse, lookAlikes, readModel, type Analysis } from '../../shared/index.ts';
import { factsOf } from '../../src/app/facts.ts';
import { placeWords } from '../../src/bike/places.ts';
import { readRoute, writeRoute } from '../../src/page/route.ts';
import { doneAfter, placesAfter, stepsOf, turnedIndex } from '../../src/app/run.ts';
import { USUAL_SETTINGS } from '../../src/page/settings.ts';
import * as turn from '../../src/page/state.ts';

function load(id: string): Analysis {
  const text = readFileSync(fileURLToPath(new URL(`../../models/${id}.json`, import.meta.url)), 'utf8');
  const reading = readModel(text);
  if (!reading.ok) throw new Error(`${id}: ${JSON.stringify(reading.problems)}`);
  return analyse(reading.model);
}

const bike = load('skarn-140');
const rig = load('class-rig');
const two = bike.pivots.find((pivot) => pivot.stacks.length > 1)!;
const one = bike.pivots.find((pivot) => pivot.stacks.length === 1)!;

function start(hash = ''): turn.AppState {
  const empty = turn.firstState(USUAL_SETTINGS, 'missing');
  return after(
    empty,
    turn.open(
      empty,
      { analysis: bike, text: '', source: { kind: 'bundled', id: 'skarn-140' }, count: 1 },
      readRoute(hash),
    ),
  );
}

const after = (state: turn.AppState, change: turn.Change): turn.AppState => ({ ...state, ...change });
const through = (state: turn.AppState, ...changes: readonly ((state: turn.AppState) => turn.Change)[]): turn.AppState =>
  changes.reduce((now, change) => after(now, change(now)), state);

describe('steps of a run', () => {
  test('follow the model’s order and lose none', () => {
    const all = stepsOf(bike, undefined, 'bike', 'build');
    expect(all.map((step) => step.id).sort()).toEqual(
      bike.pivots.flatMap((pivot) => pivot.stacks.flatMap((stack) => stack.steps.map((step) => step.id))).sort(),
    );
    const stacks = all.map((step) => step.stackId).filter((id, k, list) => id !== list[k - 1]);
    expect(stacks).toEqual(bike.order);
  });

  test('of one pivot with two axles run through one after the other', () => {
    const run = stepsOf(bike, two.id, 'pivot', 'build');
    expect(new Set(run.map((step) => step.stackId)).size).toBe(two.stacks.length);
    expect(run.length).toBe(two.stacks.reduce((sum, stack) => sum + stack.steps.length, 0));
    expect(run.every((step) => step.pivotId === two.id)).toBe(true);
  });

  test('are the same backwards when stripping down', () => {
    expect(stepsOf(bike, one.id, 'pivot', 'strip')).toEqual([...stepsOf(bike, one.id, 'pivot', 'build')].reverse());
  });

  test('place every item of every stack, whatever is done', () => {
    const items = two.stacks.flatMap((stack) => stack.items.map((item) => item.id)).sort();
    const total = stepsOf(bike, two.id, 'pivot', 'build').length;
    for (let done = 0; done <= total; done += 1)
      expect(Object.keys(placesAfter(bike, two, 'pivot', done)).sort()).toEqual(items);
  });

  test('end with everything on and home, and begin with the axles off', () => {
    const total = stepsOf(bike, two.id, 'pivot', 'build').length;
    for (const place of Object.values(placesAfter(bike, two, 'pivot', total)))
      expect(place).toEqual({ offset_mm: 0, on: true });
    const bare = placesAfter(bike, two, 'pivot', 0);
    for (const stack of two.stacks) expect(bare[stack.items.find((item) => item.role === 'axle')!.id]!.on).toBe(false);
  });

  test('a finished axle stays while the next one is built', () => {
    const [first, second] = bike.order.filter((id) => two.stacks.some((stack) => stack.id === id));
    const done = two.stacks.find((stack) => stack.id === first)!.steps.length;
    const places = placesAfter(bike, two, 'pivot', done);
    expect(places[`${first}/axle`]).toEqual({ offset_mm: 0, on: true });
    expect(places[`${second}/axle`]!.on).toBe(false);
  });

  test('turning round keeps the picture', () => {
    const total = 9;
    for (const direction of ['build', 'strip'] as const) {
      const back = direction === 'build' ? 'strip' : 'build';
      for (let index = 0; index < total; index += 1) {
        const turned = turnedIndex(index, total, direction);
        const done = doneAfter(index, total, direction);
        if (turned === undefined) expect(done).toBe(total);
        else if (done > 0 || direction === 'build') expect(doneAfter(turned, total, back)).toBe(done);
      }
    }
  });
});

describe('stepping', () => {
  test('on from built begins with the first step of the pivot; back from there is built again', () => {
    const state = through(
      start(),
      (now) => turn.pickPivot(now, one.id),
      (now) => turn.stepBy(now, 1),
    );
    expect(turn.stepOf(state)?.id).toBe(stepsOf(bike, one.id, 'pivot', 'build')[0]!.id);
    expect(after(state, turn.stepBy(state, -1)).step).toBeUndefined();
  });

  test('stops at the last step', () => {
    const total = stepsOf(bike, one.id, 'pivot', 'build').length;
    const state = through(
      start(),
      (now) => turn.pickPivot(now, one.id),
      (now) => turn.stepTo(now, 999),
      (now) => turn.stepBy(now, 1),
    );
    expect(state.step).toBe(total - 1);
  });

  test('with no pivot picked goes through the whole bike and takes the pivot along', () => {
    let state = start();
    const seen: string[] = [];
    for (let k = 0; k < stepsOf(bike, undefined, 'bike', 'build').length; k += 1) {
      state = after(state, turn.stepBy(state, 1));
      if (seen.at(-1) !== state.pivotId) seen.push(state.pivotId!);
      expect(turn.stackOf(state)?.id).toBe(turn.stepOf(state)!.stackId);
    }
    expect(new Set(seen)).toEqual(new Set(bike.pivots.map((pivot) => pivot.id)));
  });

  test('keeps the step when the run is widened to the bike and back', () => {
    const narrow = through(
      start(),
      (now) => turn.pickPivot(now, two.id),
      (now) => turn.stepTo(now, 4),
    );
    const wide = after(narrow, turn.setScope(narrow, 'bike'));
    expect(turn.stepOf(wide)?.id).toBe(turn.stepOf(narrow)?.id);
    expect(after(wide, turn.setScope(wide, 'pivot')).step).toBe(4);
  });

  test('another pivot ends it', () => {
    const state = through(
      start(),
      (now) => turn.pickPivot(now, one.id),
      (now) => turn.stepTo(now, 2),
      (now) => turn.pickPivot(now, two.id),
    );
    expect(state.step).toBeUndefined();
  });
});

describe('picking', () => {
  test('a pivot opens it fully, another keeps how far apart one is', () => {
    const first = through(start(), (now) => turn.pickPivot(now, one.id));
    expect(first.apart).toBe(turn.PICKED_APART);
    const second = through(
      first,
      (now) => turn.setApart(now, 0.3, false),
      (now) => turn.pickPivot(now, two.id),
    );
    expect(second.apart).toBe(0.3);
  });

  test('what the model does not have changes nothing that is shown', () => {
    const state = through(start(), (now) => turn.pickPivot(now, one.id));
    expect(after(state, turn.pickStack(state, 'no-such')).stackId).toBe(state.stackId);
    expect(after(state, turn.select(state, 'no/such')).selectedId).toBeUndefined();
    expect(after(state, turn.setApart(state, Number.NaN, false)).apart).toBe(state.apart);
    expect(after(state, turn.setApart(state, 7, false)).apart).toBe(1);
  });

  test('a part twice lets go of it; a part of the other axle brings that one', () => {
    const [a, b] = two.stacks;
    const state = through(
      start(),
      (now) => turn.pickPivot(now, two.id),
      (now) => turn.select(now, b!.items[0]!.id),
    );
    expect(state.stackId).toBe(b!.id);
    expect(after(state, turn.select(state, b!.items[0]!.id)).selectedId).toBeUndefined();
    expect(after(state, turn.select(state, a!.items[0]!.id)).stackId).toBe(a!.id);
  });

  test('goes round the pivots both ways', () => {
    const ids = bike.pivots.map((pivot) => pivot.id);
    expect(after(start(), turn.pickNextPivot(start(), 1)).pivotId).toBe(ids[0]);
    expect(after(start(), turn.pickNextPivot(start(), -1)).pivotId).toBe(ids.at(-1));
    const last = through(start(), (now) => turn.pickPivot(now, ids.at(-1)));
    expect(after(last, turn.pickNextPivot(last, 1)).pivotId).toBe(ids[0]);
  });

  test('Escape goes back one level at a time', () => {
    let state = through(
      start(),
      (now) => turn.pickPivot(now, one.id),
      (now) => turn.stepTo(now, 1),
      (now) => turn.select(now, one.stacks[0]!.items[0]!.id),
    );
    const levels: string[] = [];
    for (let k = 0; k < 4; k += 1) {
      levels.push(`${state.pivotId !== undefined} ${state.step !== undefined} ${state.selectedId !== undefined}`);
      state = after(state, turn.goBack(state));
    }
    expect(levels).toEqual(['true true true', 'true true false', 'true false false', 'false false false']);
  });
});

describe('an address', () => {
  test('of any state shows that state again', () => {
    const states = [
      start(),
      through(
        start(),
        (now) => turn.pickPivot(now, one.id),
        (now) => turn.setApart(now, 0.25, false),
      ),
      through(
        start(),
        (now) => turn.pickPivot(now, two.id),
        (now) => turn.pickStack(now, two.stacks[1]!.id),
      ),
      through(
        start(),
        (now) => turn.pickPivot(now, two.id),
        (now) => turn.setDirection(now, 'strip'),
        (now) => turn.stepTo(now, 5),
      ),
      through(
        start(),
        (now) => turn.stepTo(now, 20),
        (now) => turn.lookFrom(now, 'above'),
      ),
    ];
    for (const state of states) {
      const hash = writeRoute(turn.routeOf(state));
      const again = start(hash);
      expect(writeRoute(turn.routeOf(again))).toBe(hash);
      expect(turn.stepOf(again)?.id).toBe(turn.stepOf(state)?.id);
    }
  });

  test('that names a pivot, stack or step of another bike opens the rest', () => {
    expect(start('#model=skarn-140&pivot=elsewhere&step=3').pivotId).toBeUndefined();
    expect(start(`#model=skarn-140&pivot=${one.id}&stack=elsewhere`).stackId).toBe(one.stacks[0]!.id);
    expect(start(`#model=skarn-140&pivot=${one.id}&step=900`).step).toBeUndefined();
  });
});

describe('keys of an address that mean nothing', () => {
  test('are told until the next address, and stand in none that is written', () => {
    const told = readRoute('#model=skarn-140&zoom=2');
    const first = start('#model=skarn-140&zoom=2');
    expect(first.unknownKeys).toEqual(['zoom']);
    expect(turn.routeOf(first)).not.toHaveProperty('unknown');
    expect(turn.show(first, turn.routeOf(first)).unknownKeys).toEqual([]);
    expect(turn.show(first, told).unknownKeys).toEqual(['zoom']);
  });
});

describe('opening', () => {
  test('another model lets go of everything of the last', () => {
    const state = through(
      start(),
      (now) => turn.pickPivot(now, one.id),
      (now) => turn.stepTo(now, 2),
      (now) => turn.select(now, one.stacks[0]!.items[0]!.id),
    );
    const next = after(
      state,
      turn.open(
        state,
        { analysis: rig, text: '', source: { kind: 'file', name: 'rig.json' }, count: 2 },
        readRoute(''),
      ),
    );
    expect(next).toMatchObject({
      pivotId: undefined,
      stackId: undefined,
      step: undefined,
      selectedId: undefined,
      marked: [],
      trouble: undefined,
    });
    expect(turn.routeOf(next)).toMatchObject({ file: 'class-rig' });
  });

  test('is ready once the stage has drawn that very model, or at once without a stage', () => {
    const state = start();
    expect(turn.isReady(state)).toBe(true);
    expect(turn.isReady({ ...state, webgl: 'ok' })).toBe(false);
    expect(turn.isReady({ ...state, webgl: 'ok', drawn: 1 })).toBe(true);
    expect(turn.isReady({ ...state, webgl: 'ok', drawn: 1, isOpening: true })).toBe(false);
    expect(turn.isReady(turn.firstState(USUAL_SETTINGS, 'missing'))).toBe(false);
  });
});

describe('facts of a step', () => {
  test('a torque stands where something is tightened, never where it is undone', () => {
    for (const step of stepsOf(bike, undefined, 'bike', 'build')) {
      const build = factsOf(step, bike, 'build');
      const strip = factsOf(step, bike, 'strip');
      const stack = bike.pivots.flatMap((pivot) => pivot.stacks).find((candidate) => candidate.id === step.stackId)!;
      expect(build.torque_Nm).toBe(step.kind === 'torque' ? stack.tightening.torque_Nm : undefined);
      expect(strip.torque_Nm).toBeUndefined();
      if (step.kind !== 'torque') continue;
      expect(build.side).toBe(stack.tightening.stand);
      expect(build.turn).toBe(stack.tightening.turn);
      expect(new Set([build.turn, strip.turn])).toEqual(new Set(['clockwise', 'anticlockwise']));
    }
  });
});

describe('a part', () => {
  test('is told apart from every ring of its bore by numbers, and the same both ways round', () => {
    const { parts } = bike.model;
    const rings = Object.entries(parts).filter(([, part]) => part.kind === 'spacer' || part.kind === 'tapered-spacer');
    expect(rings.length).toBeGreaterThan(3);
    for (const [id, part] of rings) {
      if (!('bore_mm' in part)) continue;
      const bore_mm = part.bore_mm!;
      const same = rings
        .filter(([other, ring]) => other !== id && 'bore_mm' in ring && Math.abs(ring.bore_mm! - bore_mm) <= 0.25)
        .map(([other]) => other);
      const found = lookAlikes(bike.model.parts, id);
      expect(found.map((each) => each.id)).toEqual(expect.arrayContaining(same));
      for (const other of found) {
        const back = lookAlikes(bike.model.parts, other.id).find((each) => each.id === id)!;
        expect(back.differences.map((each) => [each.size, each.other_mm, each.mine_mm])).toEqual(
          other.differences.map((each) => [each.size, each.mine_mm, each.other_mm]),
        );
      }
    }
  });

  test('has its place in words that name its neighbours', () => {
    for (const stack of bike.pivots.flatMap((pivot) => pivot.stacks)) {
      const row = stack.items.filter(
        (item) => item.role !== 'axle' && item.role !== 'receiver' && item.rowId !== 'receiver',
      );
      row.slice(1, -1).forEach((item, k) => {
        const words = placeWords(item, stack);
        expect(words).toContain(row[k]!.name);
        expect(words).toContain(row[k + 2]!.name);
      });
    }
  });

  test('that nobody has is no look-alike', () => {
    expect(lookAlikes(bike.model.parts, 'no-such-part')).toEqual([]);
  });
});
