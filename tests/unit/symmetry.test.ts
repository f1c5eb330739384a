/**
 * Symmetries as free oracles: what a joint does cannot depend on which side it is looked at from, where along the axis
 * the bike stands, what the file calls things, or in which order it names them.
 *
 * Sets of parts are drawn at random: a pivot of the reference joint or of a demo model, sound or with one spacer left
 * out or turned, or its axle from the other side. Seeds are fixed and printed by fast-check when a case fails.
 */
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  analyse,
  applyVariant,
  partProfile,
  readData,
  type Analysis,
  type FaceReading,
  type LinkageModel,
  type PivotAnalysis,
  type Side,
  type StackAnalysis,
} from '../../shared/index.ts';
import {
  demoModels,
  flippedModel,
  movedModel,
  otherSide,
  pivotAlone,
  renamedModel,
  withRow,
  withStacks,
} from '../bench/models.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { random } from '../setup/random.ts';
import { LONG, property, someOf } from '../setup/series.ts';

const SEED = 20_251;
/** Allowed difference between two states that are one and the same, mm or N or MPa, and as a share. */
const ALLOWED = { absolute: 5e-4, share: 1e-6 };

interface Build {
  readonly name: string;
  readonly model: LinkageModel;
}

/** Every pivot by itself, as written and with every single mistake of a spacer or of the insertion side. */
function setsOf(model: LinkageModel): Build[] {
  return model.pivots.flatMap((pivot) => {
    const alone = pivotAlone(model, pivot.id);
    const mistakes = pivot.stacks.flatMap((stack): Build[] => [
      // An axle put in from the side of its own lug has no place to be mirrored; passage.test.ts holds that case.
      ...(stack.receiver.includes('/')
        ? []
        : [
            {
              name: `${stack.id} from the other side`,
              model: withStacks(alone, (own) => (own.id === stack.id ? { ...own, from: otherSide(own.from) } : own)),
            },
          ]),
      ...stack.row.flatMap((entry): Build[] => {
        const part = entry.part === undefined ? undefined : model.parts[entry.part];
        if (!part || part.kind === 'bearing') return [];
        const out = {
          name: `${stack.id} without ${entry.id}`,
          model: withRow(alone, stack.id, (row) => row.filter(({ id }) => id !== entry.id)),
        };
        const turned = {
          name: `${stack.id} with ${entry.id} turned`,
          model: withRow(alone, stack.id, (row) =>
            row.map((other) => (other.id === entry.id ? { ...other, turned: other.turned !== true } : other)),
          ),
        };
        return partProfile(part).hasTwoWays ? [out, turned] : [out];
      }),
    ]);
    return [{ name: 'as written', model: alone }, ...mistakes]
      .filter(({ model: built }) => readData(JSON.parse(JSON.stringify(built))).ok)
      .map((build) => ({ ...build, name: `${model.id} ${pivot.id} ${build.name}` }));
  });
}

const wholes: LinkageModel[] = [
  referenceModel(),
  ...demoModels().flatMap((model) => [
    model,
    ...(model.variants ?? []).map((variant): LinkageModel => ({ ...applyVariant(model, variant), variants: [] })),
  ]),
];
const sets = wholes.flatMap(setsOf);
/** A set of parts by its number, so that a failing case prints short. */
const setNumber = fc.integer({ min: 0, max: sets.length - 1 });

const face = (reading: FaceReading) => ({
  bears: reading.bears,
  force_N: reading.force_N,
  nearest: reading.nearest ?? null,
  touches: reading.touches
    .map(({ with: other, own, bears, force_N, gap_mm, bands_mm, pressure_MPa }) => ({
      key: `${other} ${own} ${bears}`,
      force_N,
      gap_mm,
      bands_mm,
      pressure_MPa,
    }))
    .sort(byKey),
});
const byKey = (a: { key: string }, b: { key: string }): number => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0);

/** What a pivot comes to, as plain data seen from one side: z × `way`, and sides named accordingly. */
function seen(pivot: PivotAnalysis, way: 1 | -1, moved_mm = 0): unknown {
  const z = (value: number): number => way * (value - moved_mm);
  const side = (value: Side): Side => (way > 0 ? value : otherSide(value));
  const stackOf = (stack: StackAnalysis) => ({
    key: stack.id,
    from: side(stack.from),
    clamp_N: stack.clamp_N,
    items: stack.items
      .map((item) => ({
        key: item.id,
        ends_mm: [z(item.from_mm), z(item.to_mm)].sort((a, b) => a - b),
        shift_mm: way * item.shift_mm,
        inColumn: item.inColumn,
        smallFace: item.smallFace ? side(item.smallFace) : null,
        thread_mm: item.thread ? [z(item.thread.from_mm), z(item.thread.to_mm)].sort((a, b) => a - b) : null,
        balls_mm: item.balls ? z(item.balls.z_mm) : null,
        drives: item.drives.map((drive) => ({ ...drive, side: side(drive.side) })),
        nonDrive: face(way > 0 ? item.nonDrive : item.drive),
        drive: face(way > 0 ? item.drive : item.nonDrive),
      }))
      .sort(byKey),
    column: stack.column
      .map((link) => ({
        key: [link.from, link.to].sort().join(' '),
        z_mm: z(link.z_mm),
        force_N: link.force_N,
        gap_mm: link.gap_mm,
      }))
      .sort(byKey),
    tightening: {
      ...stack.tightening,
      stand: side(stack.tightening.stand),
      held: stack.tightening.held ? { ...stack.tightening.held, side: side(stack.tightening.held.side) } : null,
    },
    passage: [stack.passage.nonDrive, stack.passage.drive]
      .map((passage) => ({
        key: side(passage.from),
        passes: passage.passes,
        reason: passage.reason ?? null,
        blocks: passage.blocks.map((block) => ({ key: block.with, ...block })).sort(byKey),
      }))
      .sort(byKey),
  });
  return {
    id: pivot.id,
    verdict: pivot.verdict,
    stacks: pivot.stacks.map(stackOf).sort(byKey),
    findings: pivot.findings
      .map(({ code, severity, stack, parts, numbers, limit, about }) => ({
        key: `${code} ${severity} ${stack ?? ''} ${[...parts].sort().join(' ')} ${about?.['side'] ? side(about['side'] as Side) : ''} ${about?.['way'] ?? ''} ${about?.['where'] ?? ''} ${about?.['reason'] ?? ''}`,
        numbers: Object.entries(numbers)
          .map(([key, { value }]) => ({ key, value }))
          .sort(byKey),
        limit: limit?.value ?? null,
      }))
      .sort(byKey),
  };
}

/** Where two states differ by more than is allowed, as paths; empty when they are the same. */
function differences(one: unknown, other: unknown, path = ''): string[] {
  if (typeof one === 'number' && typeof other === 'number') {
    const same =
      one === other ||
      Math.abs(one - other) <= ALLOWED.absolute + ALLOWED.share * Math.max(Math.abs(one), Math.abs(other));
    return same ? [] : [`${path}: ${one} and ${other}`];
  }
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return Object.is(one, other) ? [] : [`${path}: ${String(one)} and ${String(other)}`];
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])];
  return keys.flatMap((key) =>
    differences((one as Record<string, unknown>)[key], (other as Record<string, unknown>)[key], `${path}.${key}`),
  );
}

/** Hold a property for `runs` random sets of parts. */
function forSets(runs: number, faults: (model: LinkageModel, salt: number) => string[]): void {
  fc.assert(
    fc.property(setNumber, fc.integer({ min: 1, max: 1_000_000 }), (number, salt) => {
      const { name, model } = sets[number]!;
      expect(faults(model, salt).slice(0, 6), name).toEqual([]);
    }),
    { ...property(SEED, runs), endOnFailure: true },
  );
}

const pivotOf = (analysis: Analysis): PivotAnalysis => analysis.pivots[0]!;

beforeAll(() => {
  // A folder without models would leave the properties with the reference joint alone.
  expect(wholes.length).toBeGreaterThan(4);
  expect(sets.length).toBeGreaterThan(100);
});

describe(`symmetry, seed ${SEED}`, () => {
  test.each(wholes.map((model, k) => [`${k} ${model.id}`, model] as const))(
    '%s flipped left to right is its own mirror image',
    (_, model) => {
      const [one, other] = [analyse(model), analyse(flippedModel(model))];
      expect(other.verdict).toBe(one.verdict);
      one.pivots.forEach((pivot, k) =>
        expect(differences(seen(pivot, 1), seen(other.pivots[k]!, -1)).slice(0, 6)).toEqual([]),
      );
    },
  );

  test('so is every mistake: a series of sets', () => {
    forSets(10, (model) =>
      differences(seen(pivotOf(analyse(model)), 1), seen(pivotOf(analyse(flippedModel(model))), -1)),
    );
  });

  test('flipping twice gives the same file', () => {
    for (const model of wholes) {
      const twice = flippedModel(flippedModel(model));
      const bare = (one: LinkageModel): string =>
        JSON.stringify(one, (key, value: unknown) =>
          key === 'turned' && value === false ? undefined : Object.is(value, -0) ? 0 : value,
        );
      expect(bare(twice)).toBe(bare(model));
    }
  });

  test('a bike moved along its axles is the same bike: a series of sets', () => {
    forSets(10, (model, salt) => {
      const by_mm = random(salt).pick([0.1, -7.3, 55, 137, 1e-3, random(salt).between(-200, 200)]);
      return differences(seen(pivotOf(analyse(model)), 1), seen(pivotOf(analyse(movedModel(model, by_mm))), 1, by_mm));
    });
  });

  test('nothing holds a joint as a whole: a rigid frame stays where the file puts it, however the rest is drawn together', () => {
    let moved = 0;
    for (const { name, model } of someOf(sets, 4)) {
      const {
        stacks: [stack],
      } = pivotOf(analyse(model));
      for (const item of stack!.items) {
        const bore = item.member === undefined ? undefined : model.members[item.member]!.bores[item.bore!]!;
        if (!bore) continue;
        if (model.members[item.member!]!.kind === 'frame' && bore.arm_stiffness_N_per_mm === undefined)
          expect(Math.abs(item.shift_mm), name).toBe(0);
        else if (Math.abs(item.shift_mm) > 0.1) moved++;
      }
    }
    expect(moved).toBeGreaterThan(LONG ? 50 : 12);
  });

  test('what things are called does not matter: a series of sets, bit for bit', () => {
    forSets(7, (model, salt) => {
      const draw = random(salt);
      const known = new Map<string, string>();
      // Names whose order by the alphabet is another one.
      const rename = (id: string): string => {
        if (!known.has(id)) known.set(id, `n${draw.whole(100, 999)}n-${id}`);
        return known.get(id)!;
      };
      const [one, other] = [analyse(model), analyse(renamedModel(model, rename))];
      const bare = JSON.stringify(other.pivots).replaceAll(/n\d{3}n-/g, '');
      return bare === JSON.stringify(one.pivots)
        ? []
        : differences(JSON.parse(bare), JSON.parse(JSON.stringify(one.pivots)));
    });
  });

  test('nor in which order the file lists parts, members, bores and points: a series of sets, bit for bit', () => {
    forSets(7, (model, salt) => {
      const draw = random(salt);
      const mixed = <T extends object>(record: T): T => Object.fromEntries(draw.shuffled(Object.entries(record))) as T;
      const members = Object.fromEntries(
        Object.entries(mixed(model.members)).map(([id, member]) => [
          id,
          { ...mixed(member), bores: mixed(member.bores), ...(member.points ? { points: mixed(member.points) } : {}) },
        ]),
      );
      const parts = Object.fromEntries(Object.entries(mixed(model.parts)).map(([id, part]) => [id, mixed(part)]));
      const [one, other] = [analyse(model), analyse({ ...model, members, parts })];
      return JSON.stringify(other.pivots) === JSON.stringify(one.pivots) ? [] : differences(other.pivots, one.pivots);
    });
  });

  test('nor in which order a member lists its webs and seats: a series of sets', () => {
    forSets(7, (model) => {
      const members = Object.fromEntries(
        Object.entries(model.members).map(([id, member]) => [
          id,
          {
            ...member,
            ...(member.webs ? { webs: [...member.webs].reverse() } : {}),
            bores: Object.fromEntries(
              Object.entries(member.bores).map(([bore, sizes]) => [
                bore,
                sizes.seats ? { ...sizes, seats: [...sizes.seats].reverse() } : sizes,
              ]),
            ),
          },
        ]),
      );
      return differences(seen(pivotOf(analyse({ ...model, members })), 1), seen(pivotOf(analyse(model)), 1));
    });
  });

  test('the same file gives the same bits, and is left as it was: a series of sets', () => {
    forSets(8, (model) => {
      const text = JSON.stringify(model);
      const [one, other] = [JSON.stringify(analyse(model)), JSON.stringify(analyse(JSON.parse(text) as LinkageModel))];
      return one === other && JSON.stringify(model) === text ? [] : ['not the same'];
    });
  });

  test('a pivot by itself is what it is in the whole bike', () => {
    for (const model of wholes) {
      const whole = analyse(model);
      for (const pivot of whole.pivots) {
        const alone = pivotOf(analyse(pivotAlone(model, pivot.id)));
        const bare = ({ stacks, ...rest }: PivotAnalysis): string => JSON.stringify([rest, stacks]);
        expect(bare(alone)).toBe(bare(pivot));
      }
    }
  });

  test('the result is plain data: it survives being written and read', () => {
    for (const model of wholes) {
      const analysis = analyse(model);
      expect(differences(JSON.parse(JSON.stringify(analysis)), analysis)).toEqual([]);
      expect(JSON.stringify(analysis)).not.toContain('null');
    }
  });
});
