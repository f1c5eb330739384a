/**
 * The demo fleet as a mechanic would believe it: every bike of `models/` held against what frames, hubs, shells,
 * chains, shocks, bearings and sockets are like. A bike is a model with a wheel and a shock; all figures come from its
 * points, pivots and obstacles. Where no standard is named: common practice, no source.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  material,
  metricThread,
  resolveBearing,
  travel,
  type DriveTool,
  type LinkageModel,
  type Member,
  type PartOf,
  type Stack,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { analysed } from '../setup/worked.ts';

type Shanked = PartOf<'axle'> | PartOf<'bolt'> | PartOf<'screw'> | PartOf<'sleeve'>;

const fleet = demoModels();
const bikes = fleet.filter((model) => model.wheel && model.shock).map((model) => [model.id, model] as const);
const everyBuild = fleet.flatMap((model) => [
  [model.id, model, undefined] as const,
  ...(model.variants ?? []).map((variant) => [`${model.id}, ${variant.id}`, model, variant.id] as const),
]);

const frameOf = (model: LinkageModel): Member => Object.values(model.members).find(({ kind }) => kind === 'frame')!;
const wheelAxle = (model: LinkageModel) => model.members[model.wheel!.member]!.points![model.wheel!.point]!;
const degrees = (radians: number): number => (radians * 180) / Math.PI;
const stacksOf = (model: LinkageModel): Stack[] => model.pivots.flatMap(({ stacks }) => stacks);
const leverage = (poses: readonly { drive: number; rise_mm?: number }[]): number[] =>
  poses.slice(1).map((pose, k) => (pose.rise_mm! - poses[k]!.rise_mm!) / (pose.drive - poses[k]!.drive));

describe('a frame that could be ridden: common practice, no source', () => {
  test.each(bikes)('%s: head tube, stays, bottom bracket', (_, model) => {
    const { 'head-low': low, 'head-high': high, 'bottom-bracket': bracket } = frameOf(model).points!;
    const head_deg = degrees(Math.atan2(high!.y_mm - low!.y_mm, low!.x_mm - high!.x_mm));
    expect(head_deg).toBeGreaterThanOrEqual(64.5);
    expect(head_deg).toBeLessThanOrEqual(66);
    expect([bracket!.x_mm, bracket!.y_mm]).toEqual([0, 0]);
    const axle = wheelAxle(model);
    expect(Math.hypot(axle.x_mm, axle.y_mm)).toBeGreaterThanOrEqual(430);
    expect(Math.hypot(axle.x_mm, axle.y_mm)).toBeLessThanOrEqual(445);
    expect(axle.y_mm).toBeGreaterThanOrEqual(25);
    expect(axle.y_mm).toBeLessThanOrEqual(40);
    expect(high!.x_mm).toBeGreaterThan(440);
    expect(high!.x_mm).toBeLessThan(495);
    expect(high!.y_mm).toBeGreaterThan(605);
    expect(high!.y_mm).toBeLessThan(645);
  });

  test.each(bikes)('%s: 148 mm between the dropouts, a shell 73 mm wide', (_, model) => {
    const carrier = model.members[model.wheel!.member]!;
    const thickness = (point: string): number =>
      Math.max(
        ...carrier
          .webs!.filter(({ from, to }) => from === point || to === point)
          .map(({ thickness_mm }) => thickness_mm),
      );
    const inner = (['dropout-left', 'dropout-right'] as const).map(
      (name) => Math.abs(carrier.points![name]!.z_mm) - thickness(name) / 2,
    );
    expect(inner[0]! + inner[1]!).toBeCloseTo(148, 6);
    const frame = frameOf(model);
    const shell = frame.webs!.find(({ from, to }) => [from, to].sort().join() === 'bb-left,bb-right')!;
    expect(shell.thickness_mm).toBe(73);
    expect(frame.points!['bb-right']!.z_mm - frame.points!['bb-left']!.z_mm).toBe(73);
  });

  test.each(bikes)('%s: the chainring stands with its chain on it, on a chain line of 50 to 56 mm', (_, model) => {
    const ring = model.obstacles!.find(({ kind }) => kind === 'chainring')!;
    const teeth = Number(/(\d+) teeth/.exec(ring.name)![1]);
    expect(ring.name).toMatch(/chain on it/);
    // Pitch circle of a chain of half an inch (ISO 606), and half the height of a chain's plate above it, 4 to 4.5 mm.
    const pitch_mm = 12.7 / 2 / Math.sin(Math.PI / teeth);
    expect(ring.radius_mm - pitch_mm).toBeGreaterThanOrEqual(4);
    expect(ring.radius_mm - pitch_mm).toBeLessThanOrEqual(5);
    expect(ring.z_to_mm - ring.z_from_mm).toBeGreaterThanOrEqual(5.2);
    expect(ring.z_to_mm - ring.z_from_mm).toBeLessThanOrEqual(7.2);
    const line_mm = (ring.z_to_mm + ring.z_from_mm) / 2;
    expect(line_mm).toBeGreaterThanOrEqual(50);
    expect(line_mm).toBeLessThanOrEqual(56);
  });

  test.each(bikes)('%s: seats and bores in carbon are bonded metal sleeves, and the member says so', (_, model) => {
    for (const member of Object.values(model.members)) {
      if (material(member.material).family !== 'carbon') continue;
      expect(member.notes?.join(' ') ?? '', member.name).toMatch(/bonded metal sleeve/i);
    }
  });
});

describe('a linkage that could be sprung', () => {
  /** Eye to eye × stroke, mm, as shocks are sold; the last three are mounted by two bolts at the body. From memory. */
  const SHOCKS = [
    '190 × 45',
    '210 × 50',
    '210 × 52.5',
    '210 × 55',
    '230 × 57.5',
    '230 × 60',
    '230 × 65',
    '165 × 45',
    '185 × 55',
    '205 × 60',
  ];

  test.each(bikes)('%s: a shock that is sold, at a leverage that falls from about 2.9 to about 2.3', (_, model) => {
    const { eye_to_eye_mm, stroke_mm } = model.shock!;
    expect(SHOCKS).toContain(`${eye_to_eye_mm} × ${stroke_mm}`);
    const { poses } = travel(model, { analysis: analyse(model) }).travel;
    const ratios = leverage(poses);
    expect(ratios[0]).toBeGreaterThan(2.7);
    expect(ratios[0]).toBeLessThan(3.05);
    expect(ratios.at(-1)).toBeGreaterThan(2.1);
    expect(ratios.at(-1)).toBeLessThan(2.55);
    for (const [k, ratio] of ratios.slice(1).entries()) expect(ratio, `pose ${k}`).toBeLessThan(ratios[k]! + 1e-6);
  });

  test.each(bikes)('%s: static safety of every bearing at least 1.5 at 1 kN, by ISO 76', (_, model) => {
    const { bearings, findings } = travel(model, { load_N: 1000, analysis: analyse(model) }).travel;
    for (const { id, safety } of bearings) expect(safety, id).toBeGreaterThanOrEqual(1.5);
    expect(findings).toEqual([]);
  });
});

describe('parts that could be bought and measured', () => {
  /** Corner circle of a hexagon over its flats. */
  const CORNERS = 2 / Math.sqrt(3);
  const wallAt = (shanked: Shanked, drive: DriveTool, where: 'head' | 'tip'): number => {
    const corner = drive.size_mm * CORNERS;
    const minor = metricThread(shanked.thread).minorDiameter_mm;
    if (where === 'tip') return (minor - corner) / 2;
    const inHead = (shanked.head.diameter_mm - corner) / 2;
    const headDepth = shanked.head.height_mm + (shanked.head.land_height_mm ?? 0);
    if (drive.size_mm <= headDepth) return inHead;
    const first = shanked.shank[0]!;
    const length = shanked.shank.reduce((sum, { length_mm }) => sum + length_mm, 0);
    const isThreadThere = shanked.kind !== 'sleeve' && length - shanked.thread.length_mm < drive.size_mm - headDepth;
    return Math.min(inHead, ((isThreadThere ? Math.min(first.diameter_mm, minor) : first.diameter_mm) - corner) / 2);
  };

  /** From 2 mm on a land is a collar, and the calliper's jaw stands under the head above it: common practice, no source. */
  const underHead = ({ head, shank }: Shanked): number => {
    const land_mm = head.land_height_mm ?? 0;
    return shank.reduce((sum, { length_mm }) => sum + length_mm, land_mm >= 2 ? land_mm : 0);
  };

  test.each(everyBuild)(
    '%s: at least 2 mm of metal round every socket: common practice, no source',
    (_, model, variant) => {
      const { model: built } = analysed(model, variant);
      for (const stack of stacksOf(built)) {
        const { parts } = built;
        const axle = parts[stack.axle] as Shanked;
        for (const where of ['head', 'tip'] as const) {
          const drive = stack.drives[where];
          if (drive?.tool !== 'hex-key') continue;
          expect(wallAt(axle, drive, where), `${stack.id} ${where}`).toBeGreaterThanOrEqual(2);
          // The key's flats must find metal all round: a bore a millimetre narrower leaves half of it on each.
          expect(axle.bore_mm ?? 0, `${stack.id} ${where}: bore`).toBeLessThanOrEqual(drive.size_mm - 1);
        }
        const receiver = parts[stack.receiver];
        const drive = stack.drives.receiver;
        if (receiver && receiver.kind !== 'nut' && drive?.tool === 'hex-key') {
          expect(wallAt(receiver as Shanked, drive, 'head'), stack.id).toBeGreaterThanOrEqual(2);
        }
        if (receiver?.kind === 'nut' && drive?.tool === 'spanner') {
          expect(drive.size_mm / receiver.outside_mm, `${stack.id} spanner`).toBeGreaterThan(0.82);
          expect(drive.size_mm / receiver.outside_mm, `${stack.id} spanner`).toBeLessThanOrEqual(1);
        }
      }
    },
  );

  test.each(fleet.map((model) => [model.id, model] as const))(
    '%s: a length in a name is one a calliper reads',
    (_, model) => {
      const names = Object.values(model.parts).map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      for (const part of Object.values(model.parts)) {
        const told = [...part.name.matchAll(/(\d+(?:\.\d+)?) mm/g)].map((found) => Number(found[1]));
        if (part.kind === 'bearing') {
          const { bore_mm, outside_mm, width_mm } = resolveBearing(part);
          const written = /(\d+(?:\.\d+)?) × (\d+(?:\.\d+)?) × (\d+(?:\.\d+)?)/.exec(part.name);
          expect(written?.slice(1).map(Number), part.name).toEqual([bore_mm, outside_mm, width_mm]);
          continue;
        }
        const length = 'shank' in part ? underHead(part) : part.length_mm;
        for (const mm of told) {
          const readable = [
            length,
            ...Object.entries(part).flatMap(([key, value]) =>
              key.endsWith('_mm') && typeof value === 'number' ? [value] : [],
            ),
          ];
          expect(
            readable.some((size) => Math.abs(size - mm) < 1e-9),
            `${part.name}: ${mm} mm`,
          ).toBe(true);
        }
        if ('shank' in part) expect(told[0] ?? length, part.name).toBeCloseTo(length, 9);
      }
    },
  );

  test('no bearing carries a maker’s own letters', () => {
    for (const part of fleet.flatMap((model) => Object.values(model.parts))) {
      if (part.kind === 'bearing' && part.designation !== undefined)
        expect(part.designation).toMatch(/^\d{3,5}(\/\d+)?(-2RS)?$/);
    }
  });
});

describe('a fleet that teaches one thing at a time', () => {
  test.each(everyBuild)('%s: every pivot sound, nothing to look at, at most two kinds of note', (_, model, variant) => {
    const analysis = analyse(model, variant === undefined ? {} : { variant });
    expect(analysis.pivots.map(({ id, verdict }) => [id, verdict])).toEqual(
      analysis.pivots.map(({ id }) => [id, 'sound']),
    );
    const findings = [...analysis.findings, ...analysis.pivots.flatMap((pivot) => pivot.findings)];
    expect(findings.filter(({ severity }) => severity !== 'note')).toEqual([]);
    expect(new Set(findings.map(({ code }) => code)).size).toBeLessThanOrEqual(2);
  });

  test('at most four pivots share a torque, a left and right pair counting once', () => {
    const torques = fleet.flatMap((model) =>
      model.pivots.flatMap(({ stacks }) => [...new Set(stacks.map(({ torque_Nm }) => torque_Nm))]),
    );
    for (const torque_Nm of torques)
      expect(torques.filter((other) => other === torque_Nm).length, `${torque_Nm} N·m`).toBeLessThanOrEqual(4);
  });

  /** What is special about a stack: at most one thing a pivot, and each thing somewhere in the fleet. */
  const featuresOf = (model: LinkageModel, stack: Stack): string[] => {
    const axle = model.parts[stack.axle] as Shanked;
    const shanks = axle.shank.filter(
      ({ diameter_mm }) => diameter_mm > axle.thread.size_mm + 0.5 || axle.kind === 'sleeve',
    );
    return [
      ...(axle.kind === 'sleeve' ? ['two-piece'] : []),
      ...(stack.turned === 'tip' ? ['turned at its tip'] : []),
      ...(new Set(shanks.map(({ diameter_mm }) => diameter_mm)).size > 1 ? ['stepped'] : []),
      ...(stack.row.some(({ part }) => part !== undefined && model.parts[part]!.kind === 'tapered-spacer')
        ? ['tapered']
        : []),
      ...(stack.receiver.includes('/') && axle.kind === 'axle' ? ['into the frame'] : []),
      ...(stack.receiver.includes('/') && axle.kind === 'bolt' ? ['short bolts'] : []),
    ];
  };

  test('one special thing a pivot, spread over the bikes', () => {
    const all = fleet.flatMap((model) =>
      model.pivots.map((pivot) => ({
        pivot: `${model.id} ${pivot.id}`,
        features: [...new Set(pivot.stacks.flatMap((stack) => featuresOf(model, stack)))],
      })),
    );
    for (const { pivot, features } of all)
      expect(features.length, `${pivot}: ${features.join(', ')}`).toBeLessThanOrEqual(1);
    for (const feature of ['two-piece', 'turned at its tip', 'stepped', 'tapered', 'into the frame', 'short bolts']) {
      expect(
        all.some(({ features }) => features.includes(feature)),
        feature,
      ).toBe(true);
    }
  });
});
