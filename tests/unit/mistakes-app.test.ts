// The mistakes on the page, without a browser: headings and kinds, the what-if as a place of its own, its address.
import { describe, expect, test } from 'vitest';
import { analyse, planOf, stripOf, mistakes, type Analysis, type TriedMistake } from '../../shared/index.ts';
import { isNewPlace, readRoute, writeRoute } from '../../src/page/route.ts';
import { USUAL_SETTINGS } from '../../src/page/settings.ts';
import {
  besideOf,
  countKinds,
  groupOf,
  MISTAKE_GROUPS,
  sortIntoGroups,
  tryMistakeId,
} from '../../src/mistakes/mistakes.ts';
import { planCame } from '../../src/build/planned.ts';
import * as turn from '../../src/page/state.ts';
import { demoModels } from '../bench/models.ts';

const MODELS = demoModels();
const skarn = MODELS.find(({ id }) => id === 'skarn-140')!;
const holt = MODELS.find(({ id }) => id === 'holt-120')!;
const fjordside = MODELS.find(({ id }) => id === 'fjordside-150')!;
const written = analyse(skarn);
const rows = mistakes(skarn, { pivot: 'rocker-frame' });
const TURNED = 'turned:rocker-frame/cone-left';

function start(hash = '#pivot=rocker-frame', analysis: Analysis = written): turn.AppState {
  const empty = turn.firstState(USUAL_SETTINGS, 'missing');
  return {
    ...empty,
    ...turn.open(
      empty,
      { analysis, text: '', source: { kind: 'bundled', id: 'skarn-140' }, count: 1 },
      readRoute(hash),
    ),
  };
}
const through = (state: turn.AppState, ...changes: readonly ((state: turn.AppState) => turn.Change)[]): turn.AppState =>
  changes.reduce((now, change) => ({ ...now, ...change(now) }), state);
const tryTurned = (state: turn.AppState): turn.Change => turn.tryWhatIf(state, TURNED);

describe('the table under headings', () => {
  test('every row stands under one heading, in the table’s own order', () => {
    const groups = sortIntoGroups(rows, undefined);
    expect(groups.map(({ group }) => group)).toEqual(
      MISTAKE_GROUPS.filter((group) => rows.some((row) => groupOf(row) === group)),
    );
    expect(
      groups
        .flatMap((entry) => entry.rows)
        .map(({ mistake }) => mistake.id)
        .sort(),
    ).toEqual(rows.map(({ mistake }) => mistake.id).sort());
    const place = new Map(rows.map((row, k) => [row, k] as const));
    for (const entry of groups)
      entry.rows.slice(1).forEach((row, k) => expect(place.get(row)!).toBeGreaterThan(place.get(entry.rows[k]!)!));
  });

  test('silent rows stand under Silent, and what does not go together apart from what does', () => {
    const by = (group: string): readonly TriedMistake[] => rows.filter((row) => groupOf(row) === group);
    expect(by('silent').length).toBeGreaterThan(3);
    expect(by('silent').every(({ isSilent }) => isSilent)).toBe(true);
    expect(by('passing').every(({ verdict }) => verdict === 'sound')).toBe(true);
    expect(by('not-together').every(({ assembly }) => assembly.goes === 'no')).toBe(true);
    expect(rows.filter(({ assembly }) => assembly.goes === 'no').length).toBe(by('not-together').length);
  });

  test('sifting by kind leaves that kind alone, and the counts add up', () => {
    const kinds = countKinds(rows);
    expect(kinds.reduce((sum, { count }) => sum + count, 0)).toBe(rows.length);
    for (const { kind, count } of kinds) {
      const kept = sortIntoGroups(rows, kind).flatMap((entry) => entry.rows);
      expect(kept).toHaveLength(count);
      expect(kept.every(({ mistake }) => mistake.kind === kind)).toBe(true);
    }
  });
});

const plan = planOf(written);
const planned = planCame({ plan, strip: stripOf(plan) });

describe('a what-if', () => {
  test('shows the mistaken build beside the open one, which is never touched', () => {
    const looked = through(start(), tryTurned);
    expect(looked.whatIf!.row.mistake.id).toBe(TURNED);
    expect(turn.shownOf(looked)).toBe(looked.whatIf!.analysis);
    expect(looked.opened!.analysis).toBe(written);
    expect(turn.pivotOf(looked)!.verdict).toBe('faulty');
    expect(turn.stackOf(looked)!.items.find(({ rowId }) => rowId === 'cone-left')!.turned).toBe(true);
    const back = through(looked, turn.leaveWhatIf);
    expect(back.whatIf).toBeUndefined();
    expect(turn.shownOf(back)).toBe(written);
  });

  test('one mistake after another starts from the build as written each time', () => {
    const second = through(start(), tryTurned, (state) => turn.tryWhatIf(state, 'turned:rocker-frame/cone-right'));
    const stack = turn.stackOf(second)!;
    expect(stack.items.find(({ rowId }) => rowId === 'cone-left')!.turned).toBe(false);
    expect(stack.items.find(({ rowId }) => rowId === 'cone-right')!.turned).toBe(false);
    expect(second.opened!.analysis).toBe(written);
  });

  test.each([
    ['Escape', turn.goBack],
    ['another pivot', (state: turn.AppState) => turn.pickPivot(state, 'main')],
    ['the whole bike', (state: turn.AppState) => turn.pickPivot(state, undefined)],
    ['back to the bike', turn.backToBike],
    ['a step', (state: turn.AppState) => turn.stepBy({ ...state, planned }, 1)],
  ] as const)('%s leaves it', (_name, change) => {
    const left = through(start(), tryTurned, change);
    expect(left.whatIf).toBeUndefined();
    expect(turn.shownOf(left)).toBe(written);
  });

  test('picking a part of it does not, and Escape then lets go of the part first', () => {
    const picked = through(start(), tryTurned, (state) => turn.select(state, 'rocker-frame/cone-left'));
    expect(picked.whatIf).toBeDefined();
    const once = through(picked, turn.goBack);
    expect(once.selectedId).toBeUndefined();
    expect(once.whatIf).toBeDefined();
  });

  test('there is none of what cannot be put together, of an unknown mistake, or of another pivot’s', () => {
    const whole = analyse(holt);
    const shut = start('#pivot=main', whole);
    expect(tryMistakeId(whole, 'main', 'wrong-side:main')!.assembly.goes).toBe('no');
    expect(through(shut, (state) => turn.tryWhatIf(state, 'wrong-side:main')).whatIf).toBeUndefined();
    expect(through(shut, (state) => turn.tryWhatIf(state, 'no-such:mistake')).whatIf).toBeUndefined();
    expect(through(shut, tryTurned).whatIf).toBeUndefined();
  });

  test('keeps the variant it was made from', () => {
    const second = analyse(fjordside, { variant: 'second-series' });
    const looked = through(start('#pivot=seatstay-rocker', second), (state) =>
      turn.tryWhatIf(state, 'left-out:seatstay-rocker/outer-left'),
    );
    expect(looked.whatIf).toBeDefined();
    expect(turn.shownOf(looked)!.variant).toBe('second-series');
    expect(turn.routeOf(looked).variant).toBe('second-series');
  });

  test('opening another model forgets it', () => {
    const looked = through(start(), tryTurned);
    const other = through(looked, (state) =>
      turn.open(state, { ...state.opened!, analysis: written, count: 2 }, readRoute('')),
    );
    expect(other.whatIf).toBeUndefined();
  });
});

describe('its address', () => {
  test('leads there and back, two at once included', () => {
    for (const id of [
      TURNED,
      'left-out:rocker-frame/cone-right',
      'two:left-out:rocker-frame/cone-left+turned:rocker-frame/cone-right',
    ]) {
      const looked = through(start(), (state) => turn.tryWhatIf(state, id));
      expect(looked.whatIf!.row.mistake.id).toBe(id);
      const hash = writeRoute(turn.routeOf(looked));
      const again = start(hash);
      expect(again.whatIf!.row.mistake.id).toBe(id);
      expect(writeRoute(turn.routeOf(again))).toBe(hash);
      const left = through(again, (state) => turn.show(state, turn.routeOf(through(state, turn.leaveWhatIf))));
      expect(left.whatIf).toBeUndefined();
      expect(turn.shownOf(left)).toBe(written);
    }
  });

  test('is a new place for the back button', () => {
    const before = turn.routeOf(start());
    const after = turn.routeOf(through(start(), tryTurned));
    expect(isNewPlace(before, after)).toBe(true);
  });

  test('an address that names no such mistake opens its pivot all the same', () => {
    for (const mistake of ['no-such:mistake', 'wrong-side:nowhere', '<script>', 'x'.repeat(900)]) {
      const opened = start(`#pivot=rocker-frame&mistake=${encodeURIComponent(mistake)}`);
      expect(opened.pivotId).toBe('rocker-frame');
      expect(opened.whatIf).toBeUndefined();
    }
  });
});

test('the right build beside it has ids of its own, stands clear of it, and is otherwise the same', () => {
  for (const view of ['three-quarter', 'above'] as const) {
    const pivot = written.pivots.find(({ id }) => id === 'rocker-frame')!;
    const beside = besideOf(pivot, view);
    const radius = Math.max(
      ...pivot.stacks.flatMap(({ items }) =>
        items.flatMap(({ solids }) => solids.flatMap(({ polygon }) => polygon.map(([r]) => r))),
      ),
    );
    expect(Math.hypot(beside.x_mm - pivot.x_mm, beside.y_mm - pivot.y_mm)).toBeGreaterThan(2 * radius);
    const ids = new Set(pivot.stacks.flatMap(({ items }) => items.map(({ id }) => id)));
    for (const stack of beside.stacks) for (const item of stack.items) expect(ids.has(item.id)).toBe(false);
    expect(beside.stacks[0]!.items.map(({ solids }) => solids)).toEqual(
      pivot.stacks[0]!.items.map(({ solids }) => solids),
    );
  }
});
