// The state of the page on the models that come with it: every transition as plain functions, no browser.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  lookAlikes,
  planOf,
  readModel,
  stripOf,
  wordVerdict,
  type Analysis,
  type Follow,
} from '../../shared/index.ts';
import { standOf, placesAt } from '../../src/build/orderRun.ts';
import { planCame, runIn } from '../../src/build/planned.ts';
import { placeWords } from '../../src/bike/places.ts';
import { readRoute, writeRoute } from '../../src/page/route.ts';
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

/** The plan of the bike as the worker gives it. */
function plannedBy(follow: Follow) {
  const plan = planOf(bike, { follow });
  return planCame({ plan, strip: stripOf(plan) });
}
const ours = plannedBy('ours');
const makers = plannedBy('makers');
const stepsOf = (pivotId: string | undefined, way: 'build' | 'strip' = 'build') => runIn(ours, pivotId, way).steps;

/** The model opened at an address, before its plan has come. */
function opening(hash = ''): turn.AppState {
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

function start(hash = ''): turn.AppState {
  const state = opening(hash);
  return after(state, turn.plan(state, state.follow === 'makers' ? makers : ours));
}

const after = (state: turn.AppState, change: turn.Change): turn.AppState => ({ ...state, ...change });
const through = (state: turn.AppState, ...changes: readonly ((state: turn.AppState) => turn.Change)[]): turn.AppState =>
  changes.reduce((now, change) => after(now, change(now)), state);

describe('a part in the address', () => {
  const { id: pivot, stacks } = two;
  const item = stacks[1]!.items[0]!;

  test('is shown with its axle, and comes back as it was written', () => {
    const state = start(`#model=skarn-140&pivot=${pivot}&part=${item.id}`);
    expect([state.selectedId, state.stackId]).toEqual([item.id, item.stackId]);
    const hash = writeRoute(turn.routeOf(state));
    expect(hash).toContain(`part=${encodeURIComponent(item.id)}`);
    expect(start(hash).selectedId).toBe(item.id);
  });

  test('goes with the address that names none, and with a pivot that has no such part', () => {
    const state = start(`#model=skarn-140&pivot=${pivot}&part=${item.id}`);
    expect(turn.show(state, readRoute(`#model=skarn-140&pivot=${pivot}`)).selectedId).toBeUndefined();
    expect(start(`#model=skarn-140&pivot=${one.id}&part=${item.id}`).selectedId).toBeUndefined();
    expect(start(`#model=skarn-140&part=${item.id}`).selectedId).toBeUndefined();
  });
});

describe('steps of a run', () => {
  test('of one pivot with two axles are those of the bike that are done there', () => {
    const run = stepsOf(two.id);
    expect(new Set(run.map(({ step }) => step.stackId)).size).toBe(two.stacks.length);
    expect(run).toEqual(stepsOf(undefined).filter(({ step }) => step.pivotId === two.id));
  });

  test('the same asked is the same list', () => {
    expect(runIn(ours, two.id, 'strip')).toBe(runIn(ours, two.id, 'strip'));
  });

  test('place every item of every stack, whatever is done, and end with everything on and home', () => {
    const whole = runIn(ours, undefined, 'build');
    const items = two.stacks.flatMap((stack) => stack.items.map((item) => item.id)).sort();
    for (let done = 0; done <= whole.steps.length; done += 5)
      expect(Object.keys(placesAt(whole, two, done)).sort()).toEqual(items);
    for (const place of Object.values(placesAt(whole, two, whole.steps.length)))
      expect(place).toEqual({ offset_mm: 0, on: true });
    const bare = placesAt(whole, two, 0);
    for (const stack of two.stacks) expect(bare[stack.items.find((item) => item.role === 'axle')!.id]!.on).toBe(false);
  });

  test('turning round shows the same moment: what was just built is what is next taken apart', () => {
    for (const { id } of bike.pivots) {
      let state = through(start(), (now) => turn.pickPivot(now, id));
      for (let k = 0; k < stepsOf(id).length; k += 1) {
        state = after(state, turn.stepTo(state, k));
        const turned = after(state, turn.setDirection(state, 'strip'));
        const next = turn.runOf(turned).steps.slice((turned.step ?? -1) + 1);
        const undone = next.flatMap(({ strip }) => strip?.undoes ?? []);
        const built = stepsOf(id)
          .slice(0, k + 1)
          .map(({ step }) => step.id);
        expect(built).toEqual(expect.arrayContaining(undone));
        // What is only cleaned is not taken back: turned twice it may be passed over, turned again nothing moves.
        const back = after(turned, turn.setDirection(turned, 'build'));
        expect(after(back, turn.setDirection(back, 'strip')).step).toBe(turned.step);
      }
    }
  });
});

describe('a plan on its way', () => {
  test('there are no steps, and the picture shows the pivot apart', () => {
    const state = opening(`#model=skarn-140&pivot=${one.id}&step=3`);
    expect(turn.runOf(state).steps).toEqual([]);
    expect(turn.stepOf(state)).toBeUndefined();
    expect(state.apart).toBe(turn.PICKED_APART);
    expect(after(state, turn.stepBy({ ...state, step: undefined }, 1)).pivotId).toBe(one.id);
    expect(turn.isReady(state)).toBe(false);
  });

  test('the step of the address is shown when it has come', () => {
    const state = opening(`#model=skarn-140&pivot=${one.id}&step=3`);
    const there = after(state, turn.plan(state, ours));
    expect(turn.stepOf(there)).toBe(stepsOf(one.id)[2]);
    expect(turn.isReady(there)).toBe(true);
  });

  test('one that failed has no steps, and nothing waits for it', () => {
    const state = opening(`#model=skarn-140&pivot=${one.id}&step=3`);
    const failed = after(state, turn.plan(state, { is: 'failed', message: 'no' }));
    expect(failed.step).toBeUndefined();
    expect(turn.isReady(failed)).toBe(true);
  });
});

describe('whose order', () => {
  test('the maker’s is asked for, and kept in the address', () => {
    const state = start();
    const asked = after(state, turn.setFollow(state, 'makers'));
    expect(asked.planned.is).toBe('running');
    const hash = writeRoute(turn.routeOf(asked));
    expect(hash).toContain('follow=makers');
    expect(start(hash).planned).toBe(makers);
    expect(turn.setFollow(asked, 'makers')).toEqual({});
    expect(writeRoute(turn.routeOf(after(asked, turn.setFollow(asked, 'ours'))))).not.toContain('follow');
  });
});

describe('stepping', () => {
  test('on from built begins with the first step of the pivot; back from there is built again', () => {
    const state = through(
      start(),
      (now) => turn.pickPivot(now, one.id),
      (now) => turn.stepBy(now, 1),
    );
    expect(turn.stepOf(state)?.id).toBe(stepsOf(one.id)[0]!.id);
    expect(after(state, turn.stepBy(state, -1)).step).toBeUndefined();
  });

  test('stops at the last step', () => {
    const total = stepsOf(one.id).length;
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
    for (let k = 0; k < stepsOf(undefined).length; k += 1) {
      state = after(state, turn.stepBy(state, 1));
      if (state.pivotId !== undefined && seen.at(-1) !== state.pivotId) seen.push(state.pivotId);
      expect(turn.stepOf(state)!.id).toBe(stepsOf(undefined)[k]!.id);
      expect(turn.stackOf(state)?.id).toBe(turn.stepOf(state)!.step.stackId);
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

  test('goes round to the side each step is done from, or stays where that is set', () => {
    for (const followsSide of [true, false]) {
      let state = through(start(), (now) => turn.pickPivot(now, one.id));
      state = { ...state, settings: { ...state.settings, followsSide } };
      const sides = new Set<string>();
      for (let k = 0; k < stepsOf(one.id).length; k += 1) {
        const before = state;
        state = after(state, turn.stepTo(state, k));
        const side = standOf(turn.stepOf(state)!);
        sides.add(side);
        if (!followsSide || side === 'bench') expect([state.view, state.looks]).toEqual([before.view, before.looks]);
        else expect([state.view === 'non-drive' ? 'non-drive' : 'drive', state.stand]).toEqual([side, side]);
      }
      expect(sides).toEqual(new Set(['bench', 'drive', 'non-drive']));
    }
  });

  test('from above the picture stays: both sides are seen', () => {
    const state = through(
      start(),
      (now) => turn.pickPivot(now, one.id),
      (now) => turn.lookFrom(now, 'above'),
    );
    for (let k = 0; k < stepsOf(one.id).length; k += 1)
      expect(after(state, turn.stepTo(state, k))).toMatchObject({ view: 'above', looks: state.looks });
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
      through(
        start(),
        (now) => turn.pickPivot(now, two.id),
        (now) => turn.setReached(now, two.stacks[1]!.id, 8.2),
        (now) => turn.setReached(now, one.stacks[0]!.id, 16),
      ),
    ];
    for (const state of states) {
      const hash = writeRoute(turn.routeOf(state));
      const again = start(hash);
      expect(writeRoute(turn.routeOf(again))).toBe(hash);
      expect(turn.stepOf(again)?.id).toBe(turn.stepOf(state)?.id);
      expect(again.reached).toEqual(state.reached);
    }
  });

  test('keeps the torques that were reached, of stacks that the bike has, until they are taken back', () => {
    const stack = one.stacks[0]!.id;
    expect(start(`#model=skarn-140&reached=${stack}:8,elsewhere:9`).reached).toEqual({ [stack]: 8 });
    expect(turn.setReached(start(), 'elsewhere', 8)).toEqual({});
    const told = after(start(), turn.setReached(start(), stack, 8));
    expect(turn.setReached(told, stack, 8)).toEqual({});
    expect(turn.setReached(told, stack, undefined)).toEqual({ reached: {} });
  });

  test('a torque that was reached moves the told verdict of its pivot and bike, and no picture', () => {
    const stack = bike.model.pivots[0]!.stacks[0]!;
    const state = start(`#model=skarn-140&reached=${stack.id}:1`);
    const [shown, told] = [turn.shownOf(state)!, turn.toldOf(state)!];
    const verdicts = (analysis: Analysis) => analysis.pivots.map((judged) => wordVerdict(judged));
    expect(verdicts(shown)).not.toContain('Does not fit');
    expect(verdicts(told)).toEqual(verdicts(shown).map((words, k) => (k === 0 ? 'Does not fit' : words)));
    expect(wordVerdict(told)).toBe('Does not fit');
    expect(told.pivots[1]).toBe(shown.pivots[1]);
    // The same words give the same object: a page that looks at it comes to rest.
    expect(turn.toldOf(after(state, turn.show(state, turn.routeOf(state))))).toBe(told);
    expect(turn.toldOf(after(state, turn.setReached(state, stack.id, undefined)))).toBe(shown);
    expect(wordVerdict(turn.toldOf(start(`#model=skarn-140&reached=${stack.id}:${stack.torque_Nm}`))!)).toBe(
      wordVerdict(shown),
    );
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

  test('is ready once the picture has drawn that very model, or at once without a picture', () => {
    const state = start();
    expect(turn.isReady(state)).toBe(true);
    expect(turn.isReady({ ...state, webgl: 'ok' })).toBe(false);
    expect(turn.isReady({ ...state, webgl: 'ok', drawn: 1 })).toBe(true);
    expect(turn.isReady({ ...state, webgl: 'ok', drawn: 1, isOpening: true })).toBe(false);
    expect(turn.isReady(turn.firstState(USUAL_SETTINGS, 'missing'))).toBe(false);
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
