/**
 * Edits of a row: each can be taken back, none does what it may not, and what they come to is what the mistake table
 * lists.
 */
import { describe, expect, test } from 'vitest';
import {
  analyseChange,
  applyMistake,
  beginMistakes,
  canTurnNut,
  editModel,
  editRow,
  listMistakes,
  mayEdit,
  mayGo,
  mistakeOf,
  tryMistake,
  wordMistake,
  wordTried,
  type LinkageModel,
  type RowEdit,
  type StackEdit,
  type WorkedRow,
} from '../../shared/index.ts';
import { readEdits, writeEdits } from '../../src/editor/edits.ts';
import { analysed } from '../setup/worked.ts';
import { demoModels } from '../bench/models.ts';
import { random } from '../setup/random.ts';

const MODELS = demoModels();
const skarn = MODELS.find(({ id }) => id === 'skarn-140')!;

/** Every edit that a row allows. */
function editsOf(worked: WorkedRow, { parts }: LinkageModel): RowEdit[] {
  return worked.row.flatMap(({ id }): RowEdit[] => {
    const may = mayEdit(worked, id, parts);
    return [
      ...(may.turn ? [{ do: 'turn', item: id } as const] : []),
      ...(may.leaveOut ? [{ do: 'leave-out', item: id } as const] : []),
      ...may.swap.map((other): RowEdit => ({ do: 'swap', item: id, with: other })),
      ...may.places.map((to): RowEdit => ({ do: 'move', item: id, to })),
    ];
  });
}

/** What takes an edit back. */
function undoing({ row }: WorkedRow, edit: RowEdit): RowEdit {
  if (edit.do === 'leave-out') return { do: 'put-back', item: edit.item };
  return edit.do === 'move' ? { ...edit, to: row.findIndex(({ id }) => id === edit.item) } : edit;
}

const stacksOf = (model: LinkageModel) =>
  model.pivots.flatMap((pivot) =>
    pivot.stacks.map((stack) => ({ pivot, stack, worked: { row: stack.row, out: [] } as WorkedRow })),
  );
/** Rows alike in what a build is made of: an entry that says `turned: false` says nothing. */
const plain = ({ row, out }: WorkedRow): string =>
  JSON.stringify([row.map(({ turned, ...entry }) => ({ ...entry, ...(turned === true ? { turned } : {}) })), out]);

describe.each(MODELS)('edits of the rows of $id', (model) => {
  test('each one changes the row, and its opposite gives the row back', () => {
    let count = 0;
    for (const { stack, worked } of stacksOf(model)) {
      for (const edit of editsOf(worked, model)) {
        const there = editRow(worked, edit, model.parts)!;
        const name = `${stack.id} ${JSON.stringify(edit)}`;
        if (edit.do !== 'swap') expect(plain(there), name).not.toBe(plain(worked));
        expect(plain(editRow(there, undoing(worked, edit), model.parts)!), name).toBe(plain(worked));
        count += 1;
      }
    }
    expect(count).toBeGreaterThan(10);
  });

  test('what they come to is listed among the mistakes, and every one that the hand can make is come to', () => {
    for (const { pivot, stack, worked } of stacksOf(model)) {
      const reached = new Map<string, string>();
      for (const edit of editsOf(worked, model).filter((one) => one.do !== 'move')) {
        const edited = editModel(model, [{ stack: stack.id, edit }])!;
        const mistake = mistakeOf(model, pivot.id, edited.model);
        // Two parts of one name may change places, which is no difference at all.
        if (!mistake) expect(edit.do).toBe('swap');
        else reached.set(mistake.id, JSON.stringify(edited.model.pivots));
      }
      const listed = listMistakes(model, pivot.id).filter(
        ({ kind, slots }) =>
          (kind === 'left-out' || kind === 'turned') && slots.every((slot) => slot.stack === stack.id),
      );
      for (const mistake of listed.filter(({ slots }) => slots[0]!.row !== 'receiver'))
        expect(reached.get(mistake.id), mistake.id).toBe(JSON.stringify(applyMistake(model, mistake).pivots));
      const swaps = listMistakes(model, pivot.id).filter(
        ({ kind, also, slots }) =>
          kind === 'swapped' && also === undefined && slots.every((slot) => slot.stack === stack.id),
      );
      const pairs = new Set(swaps.map(({ slots }) => slots.map(({ row }) => row).join()));
      for (const pair of pairs)
        expect(
          swaps.some(({ id, slots }) => slots.map(({ row }) => row).join() === pair && reached.has(id)),
          pair,
        ).toBe(true);
    }
  });

  test('a nut that can be put on back to front comes to its mistake, and turned again to none', () => {
    for (const { pivot, stack } of stacksOf(model).filter((one) => canTurnNut(model, one.stack.id))) {
      const turn: StackEdit = { stack: stack.id, edit: { do: 'turn', item: 'receiver' } };
      const mistake = mistakeOf(model, pivot.id, editModel(model, [turn])!.model)!;
      expect(mistake.id).toBe(`turned:${stack.id}/receiver`);
      expect(mistakeOf(model, pivot.id, editModel(model, [turn, turn])!.model)).toBeUndefined();
    }
  });

  test('after any run of edits the mistake makes the same build out of the written one', () => {
    const next = random(20_261_130);
    const rows = stacksOf(model);
    for (let run = 0; run < 40; run += 1) {
      const { pivot, stack, worked } = rows[Math.floor(next() * rows.length)]!;
      const edits: StackEdit[] = [];
      let now: WorkedRow = worked;
      for (let k = 0; k < 4; k += 1) {
        const can = [
          ...editsOf(now, model),
          ...now.out.map(({ entry }): RowEdit => ({ do: 'put-back', item: entry.id })),
        ];
        const edit = can[Math.floor(next() * can.length)];
        if (!edit) break;
        now = editRow(now, edit, model.parts)!;
        edits.push({ stack: stack.id, edit });
      }
      const edited = editModel(model, edits)!;
      const mistake = mistakeOf(model, pivot.id, edited.model);
      const name = JSON.stringify(edits);
      const shape = (one: LinkageModel): string =>
        JSON.stringify(one.pivots.map(({ stacks }) => stacks.map(({ row }) => plain({ row, out: [] }))));
      expect(shape(mistake ? applyMistake(model, mistake) : model), name).toBe(shape(edited.model));
    }
  });
});

describe('into another row of the pivot', () => {
  const pairs = MODELS.flatMap((model) =>
    model.pivots.flatMap((pivot) =>
      pivot.stacks.flatMap((from) => pivot.stacks.flatMap((to) => (from === to ? [] : [{ model, pivot, from, to }]))),
    ),
  );
  const shape = (one: LinkageModel): string =>
    JSON.stringify(one.pivots.map(({ stacks }) => stacks.map(({ row }) => plain({ row, out: [] }))));

  test('each edit comes to a mistake that makes the same build, and the way back to none', () => {
    let [moves, swaps] = [0, 0];
    for (const { model, pivot, from, to } of pairs) {
      for (const { id: item } of from.row) {
        const may = mayGo(from.row, item, to.row, model.parts);
        for (const place of may.places) {
          const there: StackEdit = { stack: from.id, edit: { do: 'move', item, to: place }, into: to.id };
          const gone = editModel(model, [there])!;
          const mistake = mistakeOf(model, pivot.id, gone.model)!;
          expect(mistake.kind).toBe('moved');
          expect(shape(applyMistake(model, mistake))).toBe(shape(gone.model));
          expect(wordMistake(mistake, analysed(model))).toMatch(/ moved to /);
          const back: StackEdit = {
            stack: to.id,
            edit: { do: 'move', item: gone.last!.split('/')[1]!, to: from.row.findIndex(({ id }) => id === item) },
            into: from.id,
          };
          expect(readEdits(writeEdits([there, back]))).toEqual([there, back]);
          const home = editModel(model, [there, back])!;
          expect(home.last).toBe(`${from.id}/${item}`);
          expect(mistakeOf(model, pivot.id, home.model)).toBeUndefined();
          moves += 1;
        }
        for (const other of may.swap) {
          const swap: StackEdit = { stack: from.id, edit: { do: 'swap', item, with: other }, into: to.id };
          const { model: edited } = editModel(model, [swap])!;
          const mistake = mistakeOf(model, pivot.id, edited);
          expect(mistake?.kind ?? 'swapped').toBe('swapped');
          expect(shape(mistake ? applyMistake(model, mistake) : model)).toBe(shape(edited));
          expect(readEdits(writeEdits([swap]))).toEqual([swap]);
          swaps += 1;
        }
      }
    }
    expect(moves).toBeGreaterThan(5);
    expect(swaps).toBeGreaterThan(3);
  });

  test('a boss stays, and no part leaves its pivot', () => {
    const { model, from, to } = pairs[0]!;
    const boss = from.row.find(({ member }) => member !== undefined)!;
    const other = model.pivots.find(({ stacks }) => !stacks.includes(from))!.stacks[0]!;
    const part = from.row.find(({ id }) => mayGo(from.row, id, to.row, model.parts).places.length > 0)!;
    for (const [item, into] of [
      [boss.id, to.id],
      [part.id, other.id],
      [part.id, from.id],
      [part.id, 'nowhere'],
    ] as const)
      expect(editModel(model, [{ stack: from.id, edit: { do: 'move', item, to: 0 }, into }])).toBeUndefined();
  });

  test('what was brought along is told by its name in the verdict', () => {
    const { model, pivot, from, to } = pairs.find(({ model: { id } }) => id === 'skarn-140')!;
    const part = from.row.find(({ id }) => mayGo(from.row, id, to.row, model.parts).places.length > 0)!;
    const edit: StackEdit = { stack: from.id, edit: { do: 'move', item: part.id, to: 0 }, into: to.id };
    const mistake = mistakeOf(model, pivot.id, editModel(model, [edit])!.model)!;
    const written = analysed(model);
    const tried = tryMistake(beginMistakes(model), mistake);
    const words = JSON.stringify([wordMistake(mistake, written), wordTried(tried, written)]);
    expect(words).toContain(model.parts[part.part!]!.name.slice(1));
    expect(words).not.toContain(`${to.id}/`);
  });
});

describe('an edit that may not be', () => {
  const worked: WorkedRow = { row: skarn.pivots.find(({ id }) => id === 'rocker-frame')!.stacks[0]!.row, out: [] };
  const boss = worked.row.find(({ member }) => member !== undefined)!;
  const bearing = worked.row.find(({ part }) => part !== undefined && skarn.parts[part]!.kind === 'bearing')!;

  test.each<RowEdit>([
    { do: 'turn', item: boss.id },
    { do: 'leave-out', item: boss.id },
    { do: 'leave-out', item: bearing.id },
    { do: 'move', item: bearing.id, to: 0 },
    { do: 'swap', item: 'cone-left', with: bearing.id },
    { do: 'swap', item: 'cone-left', with: 'cone-left' },
    { do: 'put-back', item: 'cone-left' },
    { do: 'turn', item: 'nowhere' },
    { do: 'move', item: 'cone-left', to: 99 },
    { do: 'move', item: 'cone-left', to: 0.5 },
  ])('is refused: $do $item', (edit) => {
    expect(editRow(worked, edit, skarn.parts)).toBeUndefined();
    expect(editModel(skarn, [{ stack: 'rocker-frame', edit }])).toBeUndefined();
  });
});

describe('a worked row solved', () => {
  const edits: readonly StackEdit[] = [
    { stack: 'rocker-frame', edit: { do: 'turn', item: 'cone-left' } },
    { stack: 'rocker-frame', edit: { do: 'leave-out', item: 'cone-right' } },
  ];
  const written = analysed(skarn);

  test('comes to what analyse makes of the whole model', () => {
    const { model } = editModel(skarn, edits)!;
    expect(analyseChange(written, model)).toEqual(analysed(model));
    expect(analyseChange(written, skarn)).toEqual(written);
  });

  test('is told by its parts, and tried like any row of the table', () => {
    const mistake = mistakeOf(skarn, 'rocker-frame', editModel(skarn, edits)!.model)!;
    expect(wordMistake(mistake, written)).toBe(
      'Tapered spacer, 6.5 mm turned round, and tapered spacer, 9 mm left out',
    );
    expect(tryMistake(beginMistakes(skarn), mistake).verdict).toBe('faulty');
  });

  test('a part moved past a boss is the one that moved', () => {
    const moved = editModel(skarn, [{ stack: 'rocker-frame', edit: { do: 'move', item: 'cone-left', to: 3 } }])!;
    const mistake = mistakeOf(skarn, 'rocker-frame', moved.model)!;
    expect(wordMistake(mistake, written)).toBe(
      'Tapered spacer, 6.5 mm moved between frame boss and tapered spacer, 9 mm',
    );
  });
});
