// Tools as they are painted, held against the room the build order keeps for them: closed, inside it, the arrows the
// right way round; and what a frame leaves on the picture.
import { describe, expect, test } from 'vitest';
import { frameAt, type ToolPose } from '../../shared/index.ts';
import { asideOf, framed, isLoose, isThere, labelled } from '../../src/scene/build.ts';
import type { Painted } from '../../src/scene/painted.ts';
import type { PictureProps } from '../../src/scene/props.ts';
import { measuresOf, paintHold, paintTool, paintTurn, toolKey } from '../../src/scene/tools.ts';
import { demoModels } from '../bench/models.ts';
import { motionOf } from '../setup/motions.ts';
import { someOf } from '../setup/series.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const plans = demoModels().map((model) => plannedOnce(analysed(model)));
const poses = [
  ...new Map(
    plans
      .flatMap((plan) => someOf([...plan.steps.keys()], 3).flatMap((k) => frameAt(motionOf(plan, k), 1).tools))
      .map((pose) => [toolKey(pose), pose] as const),
  ).values(),
];
const star: ToolPose = {
  ...poses.find(({ tool, role }) => tool.tool === 'hex-key' && role === 'turns')!,
  tool: { tool: 'star-key', size_mm: 30 },
};

interface Corner {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

function corners(painted: Painted): Corner[] {
  return painted.index.slice(0, painted.endOf('touched')).map((at) => ({
    x: painted.positions[3 * at]!,
    y: painted.positions[3 * at + 1]!,
    z: painted.positions[3 * at + 2]!,
  }));
}

/** Six times the volume; above 0 where the triangles are wound outward. */
function volume(all: readonly Corner[]): number {
  let sum = 0;
  for (let k = 0; k < all.length; k += 3) {
    const [a, b, c] = [all[k]!, all[k + 1]!, all[k + 2]!];
    sum += a.x * (b.y * c.z - b.z * c.y) + a.y * (b.z * c.x - b.x * c.z) + a.z * (b.x * c.y - b.y * c.x);
  }
  return sum;
}

/** Directed edges that no triangle runs the other way, corners merged by place. */
function openEdges(all: readonly Corner[]): number {
  const edges = new Map<string, number>();
  const name = ({ x, y, z }: Corner): string => [x, y, z].map((value) => Math.round(value * 1e4) + 0).join(' ');
  for (let k = 0; k < all.length; k += 3) {
    for (const [one, other] of [
      [0, 1],
      [1, 2],
      [2, 0],
    ] as const) {
      const [a, b] = [name(all[k + one]!), name(all[k + other]!)];
      if (a === b) continue;
      const key = a < b ? `${a} | ${b}` : `${b} | ${a}`;
      edges.set(key, (edges.get(key) ?? 0) + (a < b ? 1 : -1));
    }
  }
  return [...edges.values()].filter((balance) => balance !== 0).length;
}

test('the demo models need keys, sockets and spanners', () => {
  expect(new Set(poses.map(({ tool, role }) => `${tool.tool} ${role}`)).size).toBeGreaterThanOrEqual(4);
});

describe.each(
  [...poses, star].map((pose) => ({
    name: `${pose.tool.tool} ${pose.tool.size_mm} that ${pose.role}, ${pose.side} side, ${pose.item}`,
    pose,
  })),
)('$name', ({ pose }) => {
  const sizes = measuresOf(pose);
  const over = sizes.shankRadius_mm - 2;
  const all = corners(paintTool(pose, over));

  test('is closed and wound outward', () => {
    expect(openEdges(all)).toBe(0);
    expect(volume(all)).toBeGreaterThan(0);
  });

  test('stays in the room kept for it', () => {
    const into = pose.tool.tool === 'spanner' ? 0.01 : pose.tool.size_mm;
    // The inner round of a bent key's corner fills the angle between its two arms.
    const bend = pose.role === 'holds' && pose.tool.tool !== 'spanner' ? pose.tool.size_mm / 3 : 0.01;
    const outside = all.filter(({ x, y, z }) => {
      const isAlong =
        z > Math.min(sizes.shankFrom_mm, sizes.handleFrom_mm) - into &&
        z < Math.max(sizes.shankTo_mm, sizes.handleTo_mm) + 0.01;
      const inShank = Math.hypot(x, y) <= sizes.shankRadius_mm + 0.01;
      const inHandle =
        x >= -20 &&
        x <= sizes.length_mm + 0.01 &&
        Math.abs(y) <= Math.max(sizes.width_mm / 2, 17) + 0.5 &&
        z >= sizes.handleFrom_mm - bend;
      return !isAlong || !(inShank || inHandle);
    });
    expect(outside).toEqual([]);
  });
});

describe('arrows', () => {
  test('bow the way they say, the head at their end', () => {
    for (const by of [1.2, -1.2]) {
      const all = corners(paintTurn(46, by, 10, '#0072b2'));
      expect(openEdges(all)).toBe(0);
      expect(volume(all)).toBeGreaterThan(0);
      const angles = all.map(({ x, y }) => Math.atan2(y, x) * Math.sign(by));
      expect(Math.min(...angles)).toBeCloseTo(0, 6);
      expect(Math.max(...angles)).toBeGreaterThan(Math.abs(by));
      const tip = all.reduce((best, next) =>
        Math.atan2(next.y, next.x) * Math.sign(by) > Math.atan2(best.y, best.x) * Math.sign(by) ? next : best,
      );
      expect(Math.hypot(tip.x, tip.y)).toBeCloseTo(46, 6);
    }
  });

  test('of what is held point at the handle from both sides', () => {
    const all = corners(paintHold(74, 12, 10, '#0072b2'));
    expect(openEdges(all)).toBe(0);
    for (const sign of [1, -1]) {
      const own = all.filter(({ y }) => y * sign > 0);
      const nearest = own.reduce((best, next) => (Math.abs(next.y) < Math.abs(best.y) ? next : best));
      expect(Math.abs(nearest.y)).toBeGreaterThan(6);
      expect(nearest.x).toBeCloseTo(74, 6);
    }
  });
});

describe('a frame on the picture', () => {
  const plan = plans.find(({ analysis }) => analysis.model.id === 'holt-120')!;
  const picture = { analysis: plan.analysis, apart: 0 } as PictureProps;
  const first = frameAt(
    motionOf(
      plan,
      plan.steps.findIndex(({ kind }) => kind === 'offer-member'),
    ),
    0.5,
  );

  test('hides what it does not name and leaves the rest', () => {
    const { hidden, pose } = framed({ ...picture, frame: first });
    expect(hidden!.has('frame')).toBe(false);
    expect(hidden!.has('rear-wheel')).toBe(true);
    expect(
      Object.keys(plan.analysis.model.members)
        .filter((id) => !hidden!.has(id))
        .sort(),
    ).toEqual(Object.keys(first.members).sort());
    expect(pose).toBe(first.members);
    expect(framed(picture)).toBe(picture);
  });

  test('tells what is loose, and where', () => {
    const items = plan.analysis.pivots.flatMap(({ stacks }) => stacks.flatMap((stack) => stack.items));
    const there = items.filter(({ id }) => isThere(first, id));
    expect(there.length).toBeLessThan(items.length);
    expect(there.some((item) => isLoose(first, item))).toBe(true);
    expect(there.some((item) => !isLoose(first, item))).toBe(true);
    expect(isThere(undefined, 'anything')).toBe(true);
    expect(asideOf(undefined, 'anything')).toBeUndefined();
    const spec = (item?: string) => ({
      id: item ?? 'x',
      kind: 'part' as const,
      text: '',
      at: [0, 0, 0] as const,
      radius_mm: 1,
      isTroubled: false,
      isPicked: false,
      isLit: false,
      isFirst: true,
      ...(item ? { item } : {}),
    });
    expect(labelled(first, [spec(), spec(there[0]!.id), spec('nothing/there')]).length).toBe(2);
  });
});
