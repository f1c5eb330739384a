// The mistakes on the page, without a browser: headings and kinds, the what-if as a place of its own, its address.
import { describe, expect, test } from 'vitest';
import { stripOf, mistakes, wordBrief, type Analysis, type StackEdit, type TriedMistake } from '../../shared/index.ts';
import { isNewPlace, readRoute, writeRoute } from '../../src/page/route.ts';
import { USUAL_SETTINGS } from '../../src/page/settings.ts';
import {
  countKinds,
  findMistake,
  groupOf,
  joinSame,
  lookAt,
  MISTAKE_GROUPS,
  sortIntoGroups,
} from '../../src/mistakes/mistakes.ts';
import { planCame } from '../../src/build/planned.ts';
import * as turn from '../../src/page/state.ts';
import { demoModels } from '../bench/models.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const MODELS = demoModels();
const skarn = MODELS.find(({ id }) => id === 'skarn-140')!;
const holt = MODELS.find(({ id }) => id === 'holt-120')!;
const fjordside = MODELS.find(({ id }) => id === 'fjordside-150')!;
const written = analysed(skarn);
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

  test('the turned spacers come first, and what does the same is one entry that loses no row', () => {
    const groups = sortIntoGroups(rows, undefined);
    expect(groups[0]!.group).toBe('turned');
    expect(groups[0]!.rows.map(({ mistake }) => mistake.id).sort()).toEqual([
      'turned:rocker-frame/cone-left',
      'turned:rocker-frame/cone-right',
    ]);
    const joined = groups.flatMap((entry) => joinSame(entry.rows));
    expect(joined.flatMap((entry) => entry.rows.map(({ mistake }) => mistake.id)).sort()).toEqual(
      rows.map(({ mistake }) => mistake.id).sort(),
    );
    expect(joined.some((entry) => entry.rows.length > 1)).toBe(true);
    for (const { rows: same } of joined) {
      expect(new Set(same.map(({ verdict }) => verdict)).size).toBe(1);
      expect(new Set(same.map((row) => wordBrief(row))).size).toBe(1);
    }
    expect(new Set(joined.map((entry) => JSON.stringify(entry.rows.map(wordBrief)))).size).toBeGreaterThan(5);
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

const plan = plannedOnce(written);
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
    const whole = analysed(holt);
    const shut = start('#pivot=main', whole);
    expect(lookAt(whole, findMistake(whole, 'main', 'wrong-side:main')!).row.assembly.goes).toBe('no');
    expect(through(shut, (state) => turn.tryWhatIf(state, 'wrong-side:main')).whatIf).toBeUndefined();
    expect(through(shut, (state) => turn.tryWhatIf(state, 'no-such:mistake')).whatIf).toBeUndefined();
    expect(through(shut, tryTurned).whatIf).toBeUndefined();
  });

  test('keeps the variant it was made from', () => {
    const second = analysed(fjordside, 'second-series');
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

describe('a row that is worked', () => {
  const turned: StackEdit = { stack: 'rocker-frame', edit: { do: 'turn', item: 'cone-left' } };
  const out: StackEdit = { stack: 'rocker-frame', edit: { do: 'leave-out', item: 'cone-right' } };
  const moved: StackEdit = { stack: 'rocker-frame', edit: { do: 'move', item: 'cone-left', to: 0 } };
  const doing = (...edits: readonly StackEdit[]): turn.AppState =>
    through(start(), ...edits.map((edit) => (state: turn.AppState) => turn.editRow(state, edit)));

  test('is shown and told beside the build as written, which is never touched', () => {
    const worked = doing(turned, out);
    expect(worked.opened!.analysis).toBe(written);
    expect(turn.shownOf(worked)).toBe(worked.whatIf!.analysis);
    expect(worked.whatIf!.row.mistake.kind).toBe('several');
    expect(turn.stackOf(worked)!.items.some(({ rowId }) => rowId === 'cone-right')).toBe(false);
    expect(turn.pivotOf(worked)!.verdict).toBe('faulty');
    expect(worked.selectedId).toBe('rocker-frame/cone-right');
  });

  test('is the listed mistake where one edit makes it, and none where edits cancel out', () => {
    expect(doing(turned).whatIf!.row).toEqual(through(start(), tryTurned).whatIf!.row);
    expect(doing(turned, turned).whatIf).toBeUndefined();
  });

  test('undo and redo walk the edits, and another edit forgets what was taken back', () => {
    const worked = doing(turned, out);
    const once = through(worked, turn.undoEdit);
    expect(once.whatIf!.row.mistake.id).toBe(TURNED);
    expect(through(once, turn.redoEdit).whatIf!.row).toEqual(worked.whatIf!.row);
    const none = through(once, turn.undoEdit);
    expect(none.whatIf).toBeUndefined();
    expect(turn.shownOf(none)).toBe(written);
    expect(turn.undoEdit(none)).toEqual({});
    expect(through(none, (state) => turn.editRow(state, moved)).edits).toEqual({ done: [moved], undone: [] });
  });

  test('put right can be taken back, one edit after the other', () => {
    const right = through(doing(turned, out), turn.leaveWhatIf);
    expect(right.whatIf).toBeUndefined();
    const again = through(right, turn.redoEdit);
    expect(again.whatIf!.row.mistake.id).toBe(TURNED);
    expect(through(again, turn.redoEdit).whatIf!.row.mistake.kind).toBe('several');
  });

  test('a mistake of the table that a hand can make is taken back like any other', () => {
    const back = through(start(), tryTurned, turn.undoEdit);
    expect(back.whatIf).toBeUndefined();
    const weak = through(
      start(),
      (state) => turn.tryWhatIf(state, 'under-tightened:rocker-frame'),
      (state) => turn.editRow(state, turned),
    );
    expect(weak.whatIf!.row.mistake.of!.map(({ id }) => id)).toEqual(['under-tightened:rocker-frame', TURNED]);
    expect(through(weak, turn.undoEdit).whatIf!.row.mistake.id).toBe('under-tightened:rocker-frame');
  });

  test('what does not go together is shown all the same: the hand has made it', () => {
    const no = doing(moved);
    expect(no.whatIf).toBeDefined();
    expect(turn.shownOf(no)).not.toBe(written);
  });

  test('an edit of another pivot, or of nothing, changes nothing', () => {
    expect(turn.editRow(start(), { stack: 'main', edit: { do: 'turn', item: 'cone-left' } })).toEqual({});
    expect(turn.editRow(start(), { stack: 'rocker-frame', edit: { do: 'turn', item: 'nowhere' } })).toEqual({});
  });

  test('before and after are one picture: as written it shows the written build, and the what-if stays', () => {
    const looked = through(doing(turned), (state) => turn.showAsWritten(state, true));
    expect(turn.shownOf(turn.seenIn(looked))).toBe(written);
    expect(turn.shownOf(looked)).toBe(looked.whatIf!.analysis);
    const back = through(looked, (state) => turn.showAsWritten(state, false));
    expect(turn.shownOf(turn.seenIn(back))).toBe(back.whatIf!.analysis);
    expect(turn.showAsWritten(start(), true)).toEqual({ asWritten: false });
    expect(through(looked, (state) => turn.editRow(state, out)).asWritten).toBe(false);
  });

  test('its address leads there and back', () => {
    for (const edits of [[turned], [turned, out], [moved], [moved, turned, out]]) {
      const worked = doing(...edits);
      const hash = writeRoute(turn.routeOf(worked));
      const again = start(hash);
      expect(again.whatIf!.row.mistake.id).toBe(worked.whatIf!.row.mistake.id);
      expect(writeRoute(turn.routeOf(again))).toBe(hash);
      expect(again.edits.done).toEqual(worked.edits.done);
    }
  });

  test('an address that no hand could have made opens its pivot all the same', () => {
    for (const edit of [
      'turn:rocker-frame/nowhere',
      'fly:rocker-frame/cone-left',
      'move:rocker-frame/cone-left/x',
      'turn:main/x',
      ',',
    ]) {
      const opened = start(`#pivot=rocker-frame&edit=${encodeURIComponent(edit)}`);
      expect(opened.pivotId).toBe('rocker-frame');
      expect(opened.whatIf).toBeUndefined();
    }
  });
});
