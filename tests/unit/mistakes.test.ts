/**
 * Mistakes of the demo models: what is listed, that each can be taken back, that each has the verdict the whole
 * analysis gives it, and in which order the table shows them.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  applyMistake,
  asMistaken,
  beginMistakes,
  isSamePart,
  listMistakes,
  partProfile,
  rankMistakes,
  MISTAKE_KINDS,
  MISTAKE_LIMITS,
  mistakeItems,
  mistakes,
  tryMistake,
  tryMistakes,
  wordMistake,
  wordMistakeFinding,
  wordCheck,
  wordTried,
  type LinkageModel,
  type Mistake,
  type MistakeKind,
  type TriedMistake,
  toldVerdict,
} from '../../shared/index.ts';
import { demoModels, withRow, withStacks } from '../bench/models.ts';
import { random } from '../setup/random.ts';
import { someOf } from '../setup/series.ts';
import { triedOnce } from '../setup/worked.ts';

const MODELS = demoModels();
const LOOSE = [
  'spacer',
  'washer',
  'tapered-spacer',
  'end-cap',
  'circlip',
  'disc-spring',
  'dust-seal',
  'reducer',
  'eye-bush',
];
const rig = MODELS.find(({ id }) => id === 'class-rig')!;
const skarn = MODELS.find(({ id }) => id === 'skarn-140')!;
const holt = MODELS.find(({ id }) => id === 'holt-120')!;

/** One table a model: most tests look at the same rows. */
const TABLES = new Map<string, readonly TriedMistake[]>(MODELS.map((model) => [model.id, triedOnce(model)] as const));
const tableOf = (model: LinkageModel): readonly TriedMistake[] => TABLES.get(model.id)!;
const rowOf = (rows: readonly TriedMistake[], id: string): TriedMistake => {
  const row = rows.find(({ mistake }) => mistake.id === id);
  if (!row) throw new Error(`no mistake ${id} among ${rows.length}`);
  return row;
};
const allMistakes = (model: LinkageModel, two = false): readonly Mistake[] =>
  model.pivots.flatMap(({ id }) => listMistakes(model, id, { two }));

describe.each(MODELS)('what can go wrong on $id', (model) => {
  const entries = model.pivots.flatMap((pivot) =>
    pivot.stacks.flatMap((stack) =>
      stack.row.flatMap((entry) =>
        entry.part === undefined ? [] : [{ stack, entry, part: model.parts[entry.part]! }],
      ),
    ),
  );
  const rings = entries.filter(({ part }) => LOOSE.includes(part.kind));
  const listed = allMistakes(model);
  const count = (kind: MistakeKind): number => listed.filter((mistake) => mistake.kind === kind).length;

  test('every loose spacer left out, every two-faced one turned, every bearing off its shoulder, every torque halved and doubled', () => {
    const stacks = model.pivots.flatMap((pivot) => pivot.stacks);
    const nuts = stacks.filter(({ receiver }) => {
      const part = model.parts[receiver];
      return part?.kind === 'nut' && part.land_mm !== undefined;
    });
    expect(count('left-out')).toBe(rings.length);
    expect(count('turned')).toBe(rings.filter(({ part }) => partProfile(part).hasTwoWays).length + nuts.length);
    expect(count('not-home')).toBe(entries.length - rings.length);
    for (const kind of ['under-tightened', 'over-tightened', 'wrong-side'] as const)
      expect(count(kind)).toBe(stacks.length);
  });

  test('ids are unique, and a swap of two pivots is seen from both', () => {
    expect(new Set(listed.map(({ id }) => id)).size).toBe(listed.length);
    for (const { also, pivot, slots } of listed.filter((mistake) => mistake.also !== undefined)) {
      const [here, there] = slots.map(({ stack, row }) => `${stack}/${row}`);
      const back = listed.filter(
        (mistake) =>
          mistake.pivot === also &&
          mistake.also === pivot &&
          mistakeItems(mistake)[0] === there &&
          mistakeItems(mistake)[1] === here,
      );
      expect(back.length, `${here} ↔ ${there}`).toBeGreaterThan(0);
    }
  });

  test('every pair of rings of one bore that differ at all is swapped, and no two that are the same', () => {
    const boreOf = (part: (typeof rings)[number]['part']): number => ('bore_mm' in part ? part.bore_mm! : NaN);
    const pairs = listed
      .filter(({ kind }) => kind === 'swapped')
      .map((mistake) => [...mistakeItems(mistake)].sort().join(' ↔ '));
    rings.forEach((a, k) =>
      rings.slice(k + 1).forEach((b) => {
        const pair = [`${a.stack.id}/${a.entry.id}`, `${b.stack.id}/${b.entry.id}`].sort().join(' ↔ ');
        if (isSamePart(a.part, b.part)) expect(pairs).not.toContain(pair);
        else if (Math.abs(boreOf(a.part) - boreOf(b.part)) < 0.05) expect(pairs).toContain(pair);
      }),
    );
  });

  test('another axle or nut is listed where its thread is the same, variants’ parts included', () => {
    const parts = Object.entries({
      ...Object.assign({}, ...(model.variants ?? []).map((variant) => variant.parts ?? {})),
      ...model.parts,
    } as LinkageModel['parts']);
    for (const stack of model.pivots.flatMap((pivot) => pivot.stacks)) {
      const mine = model.parts[stack.receiver];
      if (mine?.kind !== 'nut') continue;
      const fitting = parts.filter(
        ([id, part]) =>
          part.kind === 'nut' &&
          id !== stack.receiver &&
          part.thread.size_mm === mine.thread.size_mm &&
          part.thread.pitch_mm === mine.thread.pitch_mm &&
          !isSamePart(part, mine),
      );
      const found = listed
        .filter(
          (mistake) =>
            mistake.kind === 'other-part' &&
            mistake.slots[0]!.stack === stack.id &&
            mistake.slots[0]!.row === 'receiver',
        )
        .map((mistake) => mistake.slots[0]!.now!.part);
      expect(found.sort()).toEqual(fitting.map(([id]) => id).sort());
    }
  });

  test('every mistake has a verdict, the one that the whole analysis gives', () => {
    const rows = tableOf(model);
    expect(rows.map(({ mistake }) => mistake.id).sort()).toEqual(listed.map(({ id }) => id).sort());
    const seen = new Set<string>();
    for (const row of someOf(rows, 13)) {
      expect(['sound', 'unsure', 'faulty']).toContain(row.verdict);
      if (row.assembly.goes === 'no') {
        expect(row.verdict).toBe('faulty');
        expect(row.clamp_N).toBe(0);
        continue;
      }
      const built = applyMistake(model, row.mistake);
      const pivot = built.pivots.find(({ id }) => id === row.pivot)!;
      // Swaps with equal rings elsewhere leave this pivot alike; each of them is analysed once.
      const key = JSON.stringify(pivot);
      if (seen.has(key)) continue;
      seen.add(key);
      const analysed = analyse(built).pivots.find(({ id }) => id === row.pivot)!;
      const against = row.findings.filter(({ about }) => about?.['against'] === 'written');
      const told = toldVerdict({ verdict: analysed.verdict, findings: [...analysed.findings, ...against] });
      const isStopped = against.some(({ severity }) => severity === 'stop');
      expect(row.verdict, row.mistake.id).toBe(isStopped ? 'faulty' : told);
      const touched = analysed.stacks.filter(({ id }) => row.mistake.slots.some(({ stack }) => stack === id));
      expect(row.clamp_N).toBe(Math.min(...touched.map(({ clamp_N }) => clamp_N)));
      const codes = analysed.findings.map(({ code }) => code).filter((code) => code !== 'estimate-used');
      expect(row.findings.filter(({ about }) => about?.['against'] !== 'written').map(({ code }) => code)).toEqual(
        codes,
      );
    }
  });
});

describe('a mistake made', () => {
  const frozen = (value: unknown): void => {
    if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return;
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  };

  test.each(MODELS)('changes $id, two at once included, and never writes to it', (given) => {
    const model = structuredClone(given);
    frozen(model);
    for (const mistake of allMistakes(model, true)) {
      expect(applyMistake(model, mistake), mistake.id).not.toEqual(model);
    }
  });

  test.each(MODELS)('leaves the analysis of $id as it was, bit for bit, and has a key of its own', (model) => {
    const before = JSON.stringify(analyse(model));
    const done = new Set<string>();
    const firsts = allMistakes(model).filter(({ pivot, kind }) => {
      const name = `${pivot} ${kind}`;
      return !done.has(name) && done.add(name);
    });
    for (const mistake of someOf(firsts, 11)) {
      const mistaken = analyse(applyMistake(model, mistake));
      const again = analyse(model);
      // Text, not deep equality: key order and every last digit count.
      expect(JSON.stringify(again) === before, mistake.id).toBe(true);
      expect(mistaken.key, mistake.id).not.toBe(again.key);
    }
  });

  test('two mistakes of different slots do not mind the order', () => {
    for (const mistake of listMistakes(skarn, 'main', { two: true }).filter(({ of }) => of)) {
      const [first, second] = mistake.of as [Mistake, Mistake];
      const either = JSON.stringify(applyMistake(applyMistake(skarn, second), first).pivots);
      expect(JSON.stringify(applyMistake(skarn, mistake).pivots), mistake.id).toBe(either);
    }
  });

  test('no slot is wrong twice in two at once', () => {
    for (const mistake of listMistakes(skarn, 'shock-frame', { two: true }).filter(({ of }) => of)) {
      const written = mistake.changes.flatMap((change) =>
        change.what === 'part' ? [] : [`${change.stack} ${change.what === 'entry' ? change.row : change.what}`],
      );
      expect(new Set(written).size).toBe(written.length);
    }
  });
});

describe('the table', () => {
  test.each(MODELS)('of $id names the silent ones first, then faulty before unsure before sound', (model) => {
    const rows = tableOf(model);
    const firstLoud = rows.findIndex(({ isSilent }) => !isSilent);
    expect(rows.slice(0, firstLoud).every(({ isSilent }) => isSilent)).toBe(true);
    expect(rows.slice(firstLoud).some(({ isSilent }) => isSilent)).toBe(false);
    const order = rows.slice(firstLoud).map(({ verdict }) => ['faulty', 'unsure', 'sound'].indexOf(verdict));
    expect(order).toEqual([...order].sort());
    expect(rows.some(({ isSilent }) => isSilent)).toBe(true);
  });

  test.each(MODELS)('of $id calls silent only what goes together, tightens, feels free and is not right', (model) => {
    for (const row of tableOf(model)) {
      const isQuiet =
        row.assembly.goes === 'yes' &&
        row.drags.every(({ torque_Nm }) => torque_Nm.nominal < 0.1) &&
        // A column that stays open is felt where a ring is loose, not where the balls hold every one.
        (row.open_mm === 0 || row.sideLoads.some(({ load_N }) => load_N >= 1)) &&
        // Rolling friction is 0.0015 of the load at the bore, here 12 mm and more; as much as the seals' 50 N·mm is
        // felt.
        row.sideLoads.reduce((sum, { load_N }) => sum + load_N, 0) * 0.0015 * 6 < 50;
      if (row.isSilent) {
        expect(isQuiet, row.mistake.id).toBe(true);
        expect(row.verdict).not.toBe('sound');
        expect(row.check.kind).not.toBe('hand');
      } else if (row.verdict !== 'sound' && isQuiet) {
        // Light arms may be held up by less than a hand feels, an eye sees what stands far off its line, and of two
        // rings the balls may hold one only.
        expect(
          row.drags.some(({ letGo }) => letGo === 'sticks') ||
            row.bench.includes('off-line') ||
            ['play', 'drags'].includes(row.bench[0]!),
          row.mistake.id,
        ).toBe(true);
      }
    }
  });

  test('ranks the same whatever order the rows come in', () => {
    const rows = tableOf(skarn);
    const draw = random(7);
    expect(rankMistakes(draw.shuffled(rows)).map(({ mistake }) => mistake.id)).toEqual(
      rows.map(({ mistake }) => mistake.id),
    );
  });

  test('counts up, one mistake a step, and may be left at any', () => {
    const steps = tryMistakes(rig, { pivot: 'rig-pivot' });
    const first = steps.next();
    if (first.done) throw new Error('no mistake at all');
    expect(first.value).toMatchObject({ done: 1, total: tableOf(rig).length });
    const second = steps.next();
    if (second.done) throw new Error('one mistake only');
    expect(second.value.done).toBe(2);
    expect(steps.return([]).done).toBe(true);
  });

  test('keeps to the kinds asked for', () => {
    for (const kind of MISTAKE_KINDS.filter((one) => one !== 'two')) {
      const rows = mistakes(rig, { kinds: [kind] });
      expect(rows.map(({ mistake }) => mistake.id).sort()).toEqual(
        tableOf(rig)
          .filter(({ mistake }) => mistake.kind === kind)
          .map(({ mistake }) => mistake.id)
          .sort(),
      );
    }
  });

  test('does not know what it has been asked before: a row solved alone is the row of the table', () => {
    for (const row of tableOf(skarn).filter((_, k) => k % 9 === 0))
      expect(tryMistake(beginMistakes(skarn), row.mistake)).toEqual(row);
  });

  test('an unknown pivot is refused by name', () => {
    expect(() => listMistakes(rig, 'no-such')).toThrow(/no-such.*rig-pivot/);
  });
});

describe('what a mistake does', () => {
  test('a taper left out draws the arms of the rig in, silently, until they rub on the shell', () => {
    const row = rowOf(tableOf(rig), 'left-out:rig-axle/taper-left');
    expect(row.bench).toEqual(['grazes']);
    expect(row.isSilent).toBe(true);
    expect(row.arms.map(({ bend_mm }) => Math.sign(bend_mm))).toEqual([1, 1]);
    // The 5 mm that the taper filled are shared by two arms of one stiffness; the bearings stand in the shell,
    // unloaded.
    for (const { bend_mm } of row.arms) expect(bend_mm).toBeCloseTo(2.5, 1);
    expect(row.sideLoads.every(({ load_N }) => load_N < 1)).toBe(true);
    expect(row.check).toEqual({ kind: 'count', part: 'rig-taper' });
  });

  test('a turned cone is silent, and the feeler gauge finds it', () => {
    const row = rowOf(tableOf(rig), 'turned:rig-axle/taper-left');
    expect(row.isSilent).toBe(true);
    expect(row.bench).toEqual(['grazes']);
    expect(row.touched.map(({ what }) => what)).toContain('outer-ring');
    if (row.check.kind !== 'feeler') throw new Error(row.check.kind);
    expect(row.check.between).toEqual(['rig-axle/taper-left', 'rig-axle/bearing-left']);
    expect(row.check.right_mm).toBeGreaterThan(1);
    expect(row.check.wrong_mm).toBeLessThan(0.1);
  });

  test('half the torque clamps half, twice the torque twice', () => {
    for (const row of tableOf(rig)) {
      if (row.mistake.kind === 'under-tightened') expect(row.clamp_N / row.written_N).toBeCloseTo(0.5, 2);
      if (row.mistake.kind === 'over-tightened') expect(row.clamp_N / row.written_N).toBeCloseTo(2, 2);
    }
  });

  test('look-alikes of another length are told by the calliper', () => {
    const row = rowOf(tableOf(skarn), 'swapped:rocker-frame/cone-left:rocker-frame/cone-right');
    expect(row.check).toEqual({
      kind: 'calliper',
      item: 'rocker-frame/cone-left',
      size: 'length',
      right_mm: 6.5,
      wrong_mm: 9,
    });
    expect(row.findings.filter(({ severity }) => severity === 'stop').map(({ code }) => code)).toEqual([
      'member-off-line',
    ]);
  });

  test('a bolt into the frame has one way in', () => {
    const row = rowOf(tableOf(holt), 'wrong-side:main');
    expect(row.assembly).toEqual({ goes: 'no', why: 'thread-on-this-side' });
    expect(row.bench).toEqual(['will-not-go']);
  });

  test('a ring 30 mm long does not go where 5 mm are free', () => {
    const model = withRow(rig, 'rig-axle', (row) => row);
    const long: LinkageModel = {
      ...model,
      parts: {
        ...model.parts,
        long: { kind: 'spacer', name: 'Long ring', outside_mm: 17.8, bore_mm: 15.2, length_mm: 30, material: 'steel' },
      },
    };
    const built = withRow(long, 'rig-axle', (row) =>
      row.map((entry) => (entry.id === 'taper-left' ? { id: entry.id, part: 'long' } : entry)),
    );
    const swap = listMistakes(built, 'rig-pivot').find(({ kind }) => kind === 'swapped')!;
    const row = tryMistake(beginMistakes(built), swap);
    expect(row.assembly.goes).toBe('no');
  });

  test('an axle whose thread ends before its bearings are clamped leaves them loose', () => {
    const row = rowOf(tableOf(holt), 'left-out:main/spacer-left');
    const spacer = holt.parts['main-spacer']!;
    if (spacer.kind !== 'spacer') throw new Error(`mistakes: main-spacer: met a ${spacer.kind}, allowed: a spacer`);
    // What the spacer filled is there to slide in, less what the bent lugs have taken up.
    expect(row.open_mm).toBeGreaterThan(0.5 * spacer.length_mm);
    expect(row.open_mm).toBeLessThan(spacer.length_mm);
    expect(row.bench).toEqual(['play']);
    expect(row.isSilent).toBe(false);
  });

  test('spacers that push a member far off its line leave it out of line with its other pivots', () => {
    const rows = MODELS.flatMap((model) => tableOf(model)).filter(
      ({ assembly }) => assembly.goes === 'no' && assembly.why === 'not-in-line',
    );
    expect(rows.length).toBeGreaterThan(0);
    for (const { assembly, mistake } of rows) {
      if (assembly.goes !== 'no' || assembly.why !== 'not-in-line') throw new Error(mistake.id);
      expect(assembly.off_mm, mistake.id).toBeGreaterThan(MISTAKE_LIMITS.seen_mm.value);
    }
  });

  test('a mistake that mends a wrong build passes', () => {
    const wrong = withRow(rig, 'rig-axle', (row) =>
      row.map((entry) => (entry.id === 'taper-left' ? { ...entry, turned: false } : entry)),
    );
    expect(analyse(wrong).verdict).toBe('faulty');
    const mended = rowOf(mistakes(wrong), 'turned:rig-axle/taper-left');
    expect(mended.verdict).toBe('sound');
    expect(mended.isSilent).toBe(false);
  });

  test('a longer torque never clamps less', () => {
    for (const factor of [0.3, 0.7, 1.5]) {
      const model = withStacks(rig, (stack) => ({ ...stack, torque_Nm: stack.torque_Nm * factor }));
      const rows = mistakes(model, { kinds: ['under-tightened', 'over-tightened'] });
      expect(rowOf(rows, 'over-tightened:rig-axle').clamp_N).toBeGreaterThan(
        rowOf(rows, 'under-tightened:rig-axle').clamp_N,
      );
    }
  });
});

describe('the words', () => {
  test.each(MODELS)('of every mistake of $id are whole', (model) => {
    const analysis = analyse(model);
    for (const row of tableOf(model)) {
      const words = wordTried(row, analysis);
      const said = [
        words.title,
        words.brief,
        words.verdict,
        ...words.does,
        words.bench,
        words.trail,
        words.check,
        words.elsewhere ?? '',
      ].join('\n');
      expect(said, row.mistake.id).not.toMatch(/undefined|NaN|Infinity|null|\[object|-0 |  /);
      expect(words.does.length).toBeGreaterThan(0);
      for (const finding of row.findings)
        expect(wordMistakeFinding(finding, asMistaken(analysis, row.mistake)).text.length).toBeGreaterThan(10);
    }
  });

  test('titles tell the mistakes of a pivot apart', () => {
    for (const model of MODELS) {
      const analysis = analyse(model);
      for (const { id } of model.pivots) {
        const titles = listMistakes(model, id).map((mistake) => wordMistake(mistake, analysis));
        expect(
          titles.filter((title, k) => titles.indexOf(title) !== k),
          `${model.id} ${id}`,
        ).toEqual([]);
      }
    }
  });

  test('a swapped ring keeps its own name in the findings', () => {
    const analysis = analyse(skarn);
    const row = rowOf(tableOf(skarn), 'swapped:rocker-frame/cone-left:rocker-frame/cone-right');
    const mistaken = asMistaken(analysis, row.mistake);
    const items = mistaken.pivots.find(({ id }) => id === 'rocker-frame')!.stacks[0]!.items;
    expect(items.find(({ rowId }) => rowId === 'cone-left')!.name).toBe('Tapered spacer, 9 mm');
    expect(wordMistake(row.mistake, analysis)).toBe('Tapered spacer, 6.5 mm and tapered spacer, 9 mm swapped');
  });
});

describe('a gap that gives a mistake away is told by what goes into it', () => {
  const model = demoModels().find(({ id }) => id === 'class-rig')!;
  const said = (right_mm: number, wrong_mm: number): string =>
    wordCheck({ kind: 'feeler', between: ['one', 'other'], right_mm, wrong_mm }, analyse(model));
  test.each([
    [3.58, 0.02, 'If right, a 3 mm hex key goes in; if wrong, no leaf.'],
    [11.59, 8.4, 'If right, a 10 mm hex key goes in; if wrong, an 8 mm hex key at most.'],
    [0.45, 0.1, 'If right, a leaf of 0.45 mm goes in; if wrong, a leaf of 0.1 mm at most.'],
    [1.4, 0.2, 'If right, a leaf of 1 mm goes in; if wrong, a leaf of 0.2 mm at most.'],
    [3.9, 3.1, 'measure the gap between one and other: 3.9 mm is right, 3.1 mm is wrong.'],
  ])('%f mm against %f mm', (right_mm, wrong_mm, words) => {
    expect(said(right_mm, wrong_mm)).toContain(words);
  });
});
