/**
 * One quantity shows one number: whatever is told in two places (column and face, card, torque list, mistake and its
 * findings, check, steps, travel) is told with the same figure, over every demo.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  planOf,
  torqueCards,
  travel,
  wordBrief,
  wordForce,
  wordLimit,
  wordMeasure,
  wordPlanStep,
  wordTorque,
  wordTried,
  wordWindow,
  wordWindowStrip,
  limitsOf,
  type Analysis,
  type LinkageModel,
  type Measure,
  type StackAnalysis,
  type TorqueCard,
  type TriedMistake,
} from '../../shared/index.ts';
import { sidePush_N } from '../../shared/travel/loads.ts';
import { checkCommand } from '../../src/commands/check.ts';
import { lookAt } from '../../src/mistakes/mistakes.ts';
import { demoModels } from '../bench/models.ts';
import { someOf } from '../setup/series.ts';
import { triedOnce } from '../setup/worked.ts';

interface Bike {
  readonly model: LinkageModel;
  readonly analysis: Analysis;
  readonly stacks: readonly StackAnalysis[];
  readonly cards: ReadonlyMap<string, TorqueCard>;
  readonly rows: readonly TriedMistake[];
}

const BIKES = demoModels().map((model): Bike => {
  const analysis = analyse(model);
  const cards = model.pivots.flatMap(({ id }) => torqueCards(analysis, id));
  return {
    model,
    analysis,
    stacks: analysis.pivots.flatMap(({ stacks }) => stacks),
    cards: new Map(cards.map((card) => [card.stackId, card])),
    rows: triedOnce(model),
  };
});

/** What is told twice, with its two figures where they differ. */
class Told {
  readonly faults: string[] = [];
  count = 0;

  twice(what: string, unit: Measure['unit'], one: number | undefined, other: number | undefined): void {
    if (one === undefined || other === undefined) return;
    this.count++;
    const [a, b] = [one, other].map((value) => wordMeasure({ value, unit }));
    if (a !== b) this.faults.push(`${what}: ${a} and ${b}`);
  }

  words(what: string, text: string, figure: string): void {
    this.count++;
    // A figure stands by itself: 4.6 kN is not told by 14.6 kN.
    if (!new RegExp(`(^|[^\\d.])${figure.replace(/[.]/g, '\\.')}`).test(text))
      this.faults.push(`${what}: no ${figure}`);
  }
}

const least = (values: readonly number[]): number => Math.min(...values);

describe('forces of a tight row', () => {
  test('column, face, clamp and card', () => {
    const told = new Told();
    for (const { model, stacks, cards } of BIKES) {
      for (const stack of stacks) {
        const card = cards.get(stack.id)!;
        const rings = stack.items.filter(({ role }) => role === 'bearing').map(({ id }) => id);
        // Where no bearing stands in the column, the clamp is the least force all along it.
        const beside = stack.column.filter(
          ({ from, to }) => rings.length === 0 || rings.includes(from) || rings.includes(to),
        );
        told.twice(`${model.id} ${stack.id} card`, 'N', stack.clamp_N, card.clamp_N);
        told.twice(`${model.id} ${stack.id} column`, 'N', stack.clamp_N, least(beside.map(({ force_N }) => force_N)));
        for (const level of ['low', 'spec', 'high'] as const)
          told.twice(stack.id, 'N', stack.tightening.preload_N[level], card.tightening.preload_N[level]);
        for (const link of stack.column) {
          const [from, to] = [link.from, link.to].map((id) => stack.items.find((item) => item.id === id)!);
          // Two bosses of one body press no face on one another: what reaches the body runs through it.
          if (from!.member !== undefined && from!.member === to!.member) continue;
          told.twice(`${model.id} ${link.from} on`, 'N', link.force_N, from!.drive.force_N);
          told.twice(`${model.id} ${link.to} on`, 'N', link.force_N, to!.nonDrive.force_N);
        }
      }
    }
    expect(told.faults).toEqual([]);
    expect(told.count).toBeGreaterThan(300);
  });

  test('check and steps say what the card says', () => {
    const told = new Told();
    for (const { model, analysis, stacks } of BIKES) {
      const said: string[] = [];
      const write = process.stdout.write;
      process.stdout.write = (chunk: string | Uint8Array) => said.push(String(chunk)) > 0;
      try {
        checkCommand.run(model, {}, []);
      } finally {
        process.stdout.write = write;
      }
      const lines = said.join('').split('\n');
      for (const { name, clamp_N, tightening } of stacks) {
        const own = lines.filter((line) => line.trimStart().startsWith(`${name}: axle from`)).join('\n');
        told.words(`check ${name}`, own, wordForce(clamp_N));
        told.words(`check ${name}`, own, wordTorque(tightening.torque_Nm));
      }
      const plan = planOf(analysis);
      for (const step of plan.steps.filter(({ kind }) => kind === 'torque')) {
        const { title } = wordPlanStep(step, analysis);
        told.words(`step ${step.id}`, title, wordTorque(step.torque_Nm!));
        told.twice(
          `step ${step.id}`,
          'N·m',
          step.torque_Nm,
          stacks.find(({ id }) => id === step.stackId)!.tightening.torque_Nm,
        );
      }
    }
    expect(told.faults).toEqual([]);
    expect(told.count).toBeGreaterThan(60);
  });
});

describe('torque', () => {
  test('window, strip and limits say the same ends', () => {
    const told = new Told();
    for (const { analysis, cards } of BIKES) {
      for (const { stackId, torque, window } of cards.values()) {
        const { text, title } = wordWindow(window);
        told.words(stackId, title, wordTorque(torque['N·m']));
        told.words(stackId, text, wordTorque(window.to_Nm));
        const limits = limitsOf(window).map((limit) => ({ limit, words: wordLimit(limit, analysis).text }));
        for (const { limit, words } of limits)
          if (limit.isOutOfReach !== true) told.words(`${stackId} ${limit.kind}`, words, wordTorque(limit.sure_Nm));
        const strip = wordWindowStrip(window);
        for (const ends_Nm of [window.to_Nm, window.from_Nm!])
          told.words(`${stackId} strip`, strip, wordTorque(ends_Nm).replace(' N·m', ''));
        told.twice(stackId, 'N·m', window.to_Nm, least(window.most.map(({ sure_Nm }) => sure_Nm)));
      }
    }
    expect(told.faults).toEqual([]);
    expect(told.count).toBeGreaterThan(150);
  });
});

describe('a mistake', () => {
  test('its line, its card, its findings and the build that is looked at', () => {
    const told = new Told();
    for (const { model, analysis, rows } of BIKES) {
      for (const row of rows) {
        const name = `${model.id} ${row.mistake.id}`;
        const touched = new Set(row.mistake.slots.map(({ stack }) => stack));
        const clampOf = ({ pivots }: Analysis): number =>
          least(
            pivots
              .find(({ id }) => id === row.pivot)!
              .stacks.flatMap(({ id, clamp_N }) => (touched.has(id) ? [clamp_N] : [])),
          );
        told.twice(`${name} as written`, 'N', row.written_N, clampOf(analysis));
        if (row.assembly.goes === 'no') continue;
        const most = (
          parts: readonly string[],
          of: readonly { readonly item: string; readonly by: number }[],
        ): number => Math.max(...of.flatMap(({ item, by }) => (parts.includes(item) ? [Math.abs(by)] : [])));
        const bends = row.arms.map(({ item, bend_mm }) => ({ item, by: bend_mm }));
        const loads = row.sideLoads.map(({ item, load_N }) => ({ item, by: load_N }));
        const isHere = (stack: string | undefined): boolean => stack !== undefined && touched.has(stack);
        for (const { code, parts, numbers, stack } of row.findings) {
          if (code === 'arm-drawn') told.twice(name, 'mm', most(parts, bends), numbers['bend_mm']!.value);
          if (code === 'bearing-side-loaded') told.twice(name, 'N', most(parts, loads), numbers['load_N']!.value);
          if (code === 'clamp-too-low' && isHere(stack)) told.twice(name, 'N', row.clamp_N, numbers['clamp_N']!.value);
          if (code === 'inner-ring-loose' && isHere(stack))
            told.twice(name, 'N', row.clamp_N, numbers['least_N']!.value);
        }
        const line = wordBrief(row);
        told.words(name, line, wordForce(row.written_N));
        told.words(name, wordTried(row, analysis).does.join(' '), wordForce(row.written_N));
        if (row.open_mm > 0) told.words(name, line, wordMeasure({ value: row.open_mm, unit: 'mm' }));
      }
      for (const row of someOf(rows, 29)) {
        if (row.assembly.goes === 'no') continue;
        const shown = lookAt(analysis, row.mistake).analysis.pivots.find(({ id }) => id === row.pivot)!;
        const stacks = shown.stacks.filter(({ id }) => row.mistake.slots.some(({ stack }) => stack === id));
        told.twice(`${row.mistake.id} looked at`, 'N', row.clamp_N, least(stacks.map(({ clamp_N }) => clamp_N)));
        // What a travel takes from the assembly is the side load of the fit check.
        for (const { item, load_N } of row.sideLoads) {
          const placed = shown.stacks.flatMap(({ items }) => items).find(({ id }) => id === item)!;
          told.twice(`${row.mistake.id} ${item} in a travel`, 'N', load_N, sidePush_N(placed));
        }
      }
    }
    expect(told.faults).toEqual([]);
    expect(told.count).toBeGreaterThan(1000);
  });
});

test('a travel tells a bearing’s load and safety as its finding does', () => {
  const told = new Told();
  for (const { model, analysis } of BIKES) {
    // So heavy a wheel load that some bearing of each bike has little reserve.
    const { travel: moved } = travel(model, { analysis, load_N: 6000, poses: 7 });
    const found = moved.findings.filter(({ code }) => code === 'bearing-overloaded');
    for (const { numbers, about } of found) {
      const own = moved.bearings.find(({ id }) => id === about!['bearing'])!;
      told.twice(`${model.id} ${own.id}`, 'N', numbers['equivalent_N']!.value, own.equivalent_N);
      told.twice(`${model.id} ${own.id}`, '1', numbers['safety']!.value, own.safety);
    }
    for (const { safety, staticRating_N, equivalent_N } of moved.bearings)
      if (safety !== undefined) told.twice(model.id, '1', safety, staticRating_N / equivalent_N);
  }
  expect(told.faults).toEqual([]);
  expect(told.count).toBeGreaterThan(20);
});
