/**
 * Facts of the trade that every sound pivot must show, held over the demo models and the reference joint. All of them
 * are common practice, no source, unless a test says otherwise.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  readData,
  type Analysis,
  type PlacedItem,
  type StackAnalysis,
  type Touch,
} from '../../shared/index.ts';
import { demoModels, withRow, withStacks } from '../bench/models.ts';
import { referenceData, referenceModel } from '../fixtures/reference-joint.ts';

const analyses = [referenceModel(), ...demoModels()].map((model) => analyse(model));
const sound = analyses.flatMap((analysis) =>
  analysis.pivots
    .filter(({ verdict }) => verdict === 'sound')
    .flatMap((pivot) => pivot.stacks.map((stack) => [`${analysis.model.id} ${stack.id}`, stack, analysis] as const)),
);

const touchesOf = (item: PlacedItem): readonly Touch[] => [...item.nonDrive.touches, ...item.drive.touches];
const bearingsOf = (stack: StackAnalysis): readonly PlacedItem[] =>
  stack.items.filter((item) => item.role === 'bearing');

test('the demo models hold enough sound pivots to say something', () => {
  expect(sound.length).toBeGreaterThan(10);
  expect(new Set(sound.map(([, , { model }]) => model.id)).size).toBeGreaterThan(2);
});

describe('the inner ring is clamped and stands still, the outer ring turns with its arm', () => {
  test.each(sound)('%s', (_, stack) => {
    const { spec } = stack.tightening.preload_N;
    // What turns on a bush has no ring to clamp.
    const turns = stack.items.filter(({ role }) => role === 'bearing' || role === 'lining');
    expect(turns.length).toBeGreaterThan(0);
    for (const bearing of bearingsOf(stack)) {
      for (const face of [bearing.nonDrive, bearing.drive]) {
        const inner = face.touches
          .filter(({ own }) => own === 'inner-ring')
          .reduce((sum, { force_N }) => sum + force_N, 0);
        expect(inner, bearing.id).toBeGreaterThan(0.6 * spec);
        // Nothing of the column rests on the outer ring or the seal.
        for (const touch of face.touches)
          if (touch.own !== 'inner-ring') expect(touch.force_N, `${bearing.id} ${touch.with}`).toBe(0);
      }
    }
    expect(stack.clamp_N).toBeGreaterThan(0.6 * spec);
  });
});

describe('the column is solid: head, rings, inner rings and nut pass one force on', () => {
  test.each(sound)('%s', (_, stack) => {
    const { spec } = stack.tightening.preload_N;
    for (const link of stack.column) {
      expect(link.gap_mm, `${link.from} ${link.to}`).toBe(0);
      expect(link.force_N, `${link.from} ${link.to}`).toBeGreaterThan(0.6 * spec);
      expect(link.force_N, `${link.from} ${link.to}`).toBeLessThan(1.001 * spec);
    }
    // What goes in at one face of a ring comes out at the other.
    for (const ring of stack.items.filter((item) => item.role === 'spacer'))
      expect(Math.abs(ring.nonDrive.force_N - ring.drive.force_N), ring.id).toBeLessThan(0.01);
  });
});

describe('a head land, the land of a nut and of an end cap bear on the inner ring only', () => {
  const landed = sound.flatMap(([name, stack, { model }]) =>
    stack.items.flatMap((item) => {
      const part = item.part === undefined ? undefined : model.parts[item.part]!;
      const land =
        part &&
        ('head' in part
          ? part.head.land_mm
          : part.kind === 'nut' || part.kind === 'end-cap'
            ? part.land_mm
            : undefined);
      const atBearing = touchesOf(item).filter((touch) =>
        stack.items.some((other) => other.id === touch.with && other.role === 'bearing'),
      );
      return land !== undefined && atBearing.length > 0 ? [[`${name}: ${item.name}`, atBearing, land] as const] : [];
    }),
  );
  test('there are such lands', () => expect(landed.length).toBeGreaterThan(4));
  test.each(landed)('%s', (_, touches, land) => {
    for (const touch of touches) {
      expect(touch.bears).toBe('inner-ring');
      for (const [, outer] of touch.bands_mm) expect(2 * outer).toBeLessThanOrEqual(land + 1e-6);
    }
  });

  test('without its land the same head presses on the outer ring', () => {
    const data = referenceData();
    data.parts['axle'] = { ...data.parts['axle'], head: { diameter_mm: 27.5, height_mm: 4 } };
    // The rocker’s boss stands 4 mm proud of its bearing: it is bored out for the wide head to reach it.
    data.members['rocker'] = JSON.parse(
      JSON.stringify(data.members['rocker']).replace(
        '"z_from_mm":-38,"z_to_mm":-28,"bore_mm":24',
        '"z_from_mm":-38,"z_to_mm":-28,"bore_mm":27.9',
      ),
    ) as unknown;
    const reading = readData(data);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const pivot = analyse(reading.model).pivots[0]!;
    const bearing = pivot.stacks[0]!.items.find((item) => item.rowId === 'rocker-bearing-nd')!;
    expect(pivot.verdict).toBe('faulty');
    expect(bearing.nonDrive.touches.some(({ own }) => own === 'outer-ring')).toBe(true);
    expect(pivot.findings.map(({ code }) => code)).toContain('outer-ring-touched');
  });
});

describe('a tapered spacer turns its small face to a bearing', () => {
  const cones = sound.flatMap(([name, stack, { model }]) =>
    stack.items.flatMap((item) => {
      const part = item.part === undefined ? undefined : model.parts[item.part]!;
      if (part?.kind !== 'tapered-spacer') return [];
      const small = item.smallFace === 'drive' ? item.drive : item.nonDrive;
      const large = item.smallFace === 'drive' ? item.nonDrive : item.drive;
      const isBearing = (touch: Touch): boolean =>
        stack.items.some((other) => other.id === touch.with && other.role === 'bearing');
      return [
        [`${name}: ${item.rowId}`, small.touches.filter(isBearing), large.touches.filter(isBearing), part] as const,
      ];
    }),
  );
  test('there are such spacers', () => expect(cones.length).toBeGreaterThan(5));
  test.each(cones)('%s', (_, small, large, part) => {
    expect(small.length).toBeGreaterThan(0);
    expect(large).toEqual([]);
    for (const touch of small) {
      expect(touch.bears).toBe('inner-ring');
      for (const [, outer] of touch.bands_mm) expect(2 * outer).toBeLessThanOrEqual(part.small_mm + 1e-6);
    }
  });
});

describe('bearings sit home, and rings share what lies beside them', () => {
  const modelWith = (change: (data: ReturnType<typeof referenceData>) => void) => {
    const data = referenceData();
    change(data);
    const reading = readData(data);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    return analyse(reading.model).pivots[0]!;
  };
  test('a bearing left 1 mm off its shoulder stands that much further out of its seat, on either side', () => {
    for (const [id, way] of [
      ['frame-bearing-nd', -1],
      ['frame-bearing-d', 1],
    ] as const) {
      const home = modelWith(() => undefined);
      const proud = modelWith(
        (data) => (data.pivots[0]!.stacks[0]!.row.find((entry) => entry['id'] === id)!['proud_mm'] = 1),
      );
      const outer = (pivot: typeof home): number => {
        const corners = pivot.stacks[0]!.items.find((item) => item.rowId === id)!
          .solids.find(({ role }) => role === 'outer-ring')!
          .polygon.map(([, z]) => z);
        return (Math.min(...corners) + Math.max(...corners)) / 2;
      };
      expect(outer(proud) - outer(home)).toBeCloseTo(way, 9);
      expect(proud.findings.find(({ code }) => code === 'bearing-not-home')).toMatchObject({
        severity: 'stop',
        parts: [`main/${id}`],
      });
      expect(proud.verdict).toBe('faulty');
    }
  });

  test('a ring on the seal alone carries nothing: the seal gives way, and the column closes past the ring', () => {
    const pivot = modelWith(
      (data) =>
        (data.parts['spacer'] = {
          kind: 'spacer',
          name: 'Ring on the seals',
          outside_mm: 24.5,
          bore_mm: 19.5,
          length_mm: 5,
          material: 'steel',
          count: 2,
        }),
    );
    for (const id of ['spacer-nd', 'spacer-d']) {
      const ring = pivot.stacks[0]!.items.find((item) => item.rowId === id)!;
      expect([ring.nonDrive.bears, ring.drive.bears]).toEqual(['seal', 'seal']);
      expect(ring.nonDrive.force_N + ring.drive.force_N).toBe(0);
    }
    expect(pivot.verdict).toBe('faulty');
    expect(pivot.findings.map(({ code }) => code)).toEqual(expect.arrayContaining(['seal-rubbed', 'arm-drawn']));
  });

  test('a ring inside a lug of the same length shares the force with it, and the column adds them up', () => {
    const reading = readData({
      schema: 1,
      id: 'side-by-side',
      name: 'Side by side',
      units: 'mm, N, N·m, deg',
      parts: {
        axle: {
          kind: 'axle',
          name: 'Axle',
          material: 'steel',
          head: { diameter_mm: 28, height_mm: 5 },
          shank: [{ diameter_mm: 12, length_mm: 30 }],
          thread: { size_mm: 12, pitch_mm: 1, length_mm: 24 },
        },
        nut: {
          kind: 'nut',
          name: 'Nut',
          material: 'steel',
          outside_mm: 28,
          length_mm: 14,
          thread: { size_mm: 12, pitch_mm: 1, length_mm: 14 },
        },
        ring: { kind: 'spacer', name: 'Ring', outside_mm: 18, bore_mm: 12.2, length_mm: 10, material: 'steel' },
      },
      members: {
        frame: {
          kind: 'frame',
          name: 'Frame',
          material: 'steel',
          bores: { lug: { z_from_mm: 0, z_to_mm: 10, bore_mm: 20, boss_mm: 30 } },
        },
      },
      pivots: [
        {
          id: 'one',
          name: 'One',
          x_mm: 0,
          y_mm: 0,
          stacks: [
            {
              id: 'one',
              axle: 'axle',
              receiver: 'nut',
              from: 'non-drive',
              torque_Nm: 20,
              thread_treatment: 'greased',
              drives: { head: { tool: 'hex-key', size_mm: 8 } },
              turned: 'head',
              row: [
                { id: 'lug', member: 'frame', bore: 'lug' },
                { id: 'ring', part: 'ring' },
              ],
            },
          ],
        },
      ],
    });
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const stack = analyse(reading.model, { preload_N: 8000 }).pivots[0]!.stacks[0]!;
    const [head, lug, ring] = ['axle', 'lug', 'ring'].map((id) => stack.items.find((item) => item.rowId === id)!);
    expect(lug!.drive.force_N).toBeGreaterThan(1000);
    expect(ring!.drive.force_N).toBeGreaterThan(1000);
    expect(lug!.drive.force_N + ring!.drive.force_N).toBeCloseTo(8000, 3);
    expect(head!.drive.force_N).toBeCloseTo(8000, 3);
    expect(head!.drive.touches.length).toBe(2);
    for (const link of stack.column) expect(link.force_N).toBeCloseTo(8000, 3);
  });
});

describe('tightening', () => {
  const withHand = (
    turned: 'head' | 'tip' | 'receiver',
    hand: 'right' | 'left',
  ): Analysis['pivots'][number]['stacks'][number]['tightening'] => {
    const data = referenceData();
    for (const id of ['axle', 'nut'])
      data.parts[id] = { ...data.parts[id], thread: { ...(data.parts[id]!['thread'] as object), hand } };
    const stack = data.pivots[0]!.stacks[0]!;
    Object.assign(stack, {
      turned,
      drives: {
        head: { tool: 'hex-key', size_mm: 8 },
        tip: { tool: 'hex-key', size_mm: 6 },
        receiver: { tool: 'spanner', size_mm: 24 },
      },
    });
    const reading = readData(data);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    return analyse(reading.model).pivots[0]!.stacks[0]!.tightening;
  };
  test.each([
    // From the screw's geometry (design.md section 2, turning from the tip); the head's own case every hand knows.
    ['head', 'right', 'non-drive', 'clockwise'],
    ['receiver', 'right', 'drive', 'clockwise'],
    ['tip', 'right', 'drive', 'anticlockwise'],
    ['head', 'left', 'non-drive', 'anticlockwise'],
    ['tip', 'left', 'drive', 'clockwise'],
  ] as const)('at the %s of a %s-hand thread, standing on the %s side: %s', (turned, hand, stand, turn) => {
    const found = withHand(turned, hand);
    expect([found.stand, found.turn]).toEqual([stand, turn]);
  });

  test('tight is no proof: with a spacer left out the column still closes and carries most of the force', () => {
    const stack = analyse(referenceModel(['spacer-nd'])).pivots[0]!.stacks[0]!;
    const { spec } = stack.tightening.preload_N;
    expect(Math.min(...stack.column.map(({ force_N }) => force_N))).toBeGreaterThan(0.8 * spec);
    expect(analyse(referenceModel(['spacer-nd'])).verdict).toBe('faulty');
  });

  test('more torque clamps harder, and never less anywhere', () => {
    const model = referenceModel();
    const at = (torque_Nm: number): StackAnalysis =>
      analyse(withStacks(model, (stack) => ({ ...stack, torque_Nm }))).pivots[0]!.stacks[0]!;
    const [low, high] = [at(8), at(20)];
    expect(high.clamp_N / low.clamp_N).toBeCloseTo(20 / 8, 2);
    high.column.forEach(({ force_N }, k) => expect(force_N).toBeGreaterThan(low.column[k]!.force_N));
  });

  test('the preload band lies about the spec', () => {
    for (const [, { tightening }] of sound) {
      expect(tightening.preload_N.low).toBeLessThan(tightening.preload_N.spec);
      expect(tightening.preload_N.high).toBeGreaterThan(tightening.preload_N.spec);
    }
  });
});

test('two spacers of one length may change places', () => {
  const model = referenceModel();
  const swapped = withRow(model, 'main', (row) =>
    row.map((entry) => ({
      ...entry,
      id: entry.id === 'spacer-nd' ? 'spacer-d' : entry.id === 'spacer-d' ? 'spacer-nd' : entry.id,
    })),
  );
  const [one, other] = [analyse(model).pivots[0]!, analyse(swapped).pivots[0]!];
  expect(other.verdict).toBe(one.verdict);
  expect(other.stacks[0]!.clamp_N).toBe(one.stacks[0]!.clamp_N);
});
