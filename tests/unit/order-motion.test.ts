/**
 * The motion of every step of every demo model, of its variants, and of taking it apart: sampled, and at each moment
 * every two bodies on the picture held against one another by their outlines and profiles.
 *
 * Allowed beyond what the model draws into one another at home (a thread in its nut, an axle in a tube that its web
 * runs through, a spindle in its shell): `TOUCH_mm` and a tenth of it, since the model's figures are rounded and parts
 * that slide along one another touch. Between two samples a part moves by a few mm at most; no part is thinner.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  frameAt,
  hullGap,
  motionsOf,
  planOf,
  accessOf,
  accessTargets,
  stripOf,
  undone,
  type Frame,
  type Plan,
  type StepMotion,
} from '../../shared/index.ts';
import {
  alongAxle,
  bodyOf,
  Course,
  HOME,
  inPlane,
  pathIn,
  pose,
  type Posed,
  type Shape,
  slices,
  Solids,
  Space,
  swingRoom_rad,
  toolBody,
  TOUCH_mm,
} from '../../shared/order/bodies.ts';
import { firstFace, radiusOf } from '../../shared/order/room.ts';
import { motionOf, roundBar, worldsOf } from '../setup/motions.ts';
import { demoModels } from '../bench/models.ts';
import { random } from '../setup/random.ts';
import { LONG, seeds, someOf } from '../setup/series.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const SAMPLES = 25;
const ALLOWED_mm = TOUCH_mm * 1.1;

interface Named {
  readonly name: string;
  readonly plan: Plan;
}

const PLANS: Named[] = demoModels().flatMap((model) => [
  { name: model.id, plan: plannedOnce(analysed(model)) },
  ...(model.variants ?? []).map(({ id }) => ({
    name: `${model.id}, ${id}`,
    plan: plannedOnce(analysed(model, id)),
  })),
]);
const DEMOS = PLANS.filter(({ plan }) => plan.variant === undefined);

/** Everything on the picture at a moment, as bodies. */
function bodiesAt(motion: StepMotion, frame: Frame): Posed[] {
  const { bike, bodies, items } = motion.worlds;
  const units = new Map(Object.entries(frame.members).map(([member, at]) => [bike.unitOf.get(member)!, at] as const));
  return [
    ...[...units, ...Object.entries(frame.obstacles)].map(([id, at]) => pose(bodies.get(id)!, at)),
    ...Object.entries(frame.items).flatMap(([id, { x_mm, y_mm, z_mm }]) =>
      bodies.get(id) ? [pose(bodies.get(id)!, { x_mm, y_mm, z_mm, angle_rad: 0 })] : [],
    ),
    ...frame.tools.map(({ room, handle_rad, face_mm, off_mm, side, item }) =>
      pose(toolBody(room, handle_rad, radiusOf(items.get(item)!.item) + 0.1), {
        ...HOME,
        z_mm: face_mm - room.end_mm + (side === 'drive' ? off_mm : -off_mm),
      }),
    ),
  ];
}

/** Pairs that run into one another at any moment of a motion, with the deepest of it. */
function meetings(motion: StepMotion, samples = SAMPLES): string[] {
  const { space } = motion.worlds;
  const met = new Map<string, number>();
  for (let k = 0; k <= samples; k++) {
    const frame = frameAt(motion, k / samples);
    const bodies = bodiesAt(motion, frame);
    const { bike } = motion.worlds;
    const moving = new Set(frame.moving.map((id) => bike.unitOf.get(id) ?? id));
    // What stands still meets what stands still at every moment or at none.
    const moves = ({ body }: Posed): boolean => k === 0 || body.kind === 'tool' || moving.has(body.id);
    bodies.forEach((one, at) => {
      for (const other of bodies.slice(at + 1)) {
        if (!moves(one) && !moves(other)) continue;
        const deep = space.excess_mm(one, other);
        const pair = `${one.body.id} | ${other.body.id}`;
        if (deep > ALLOWED_mm && deep > (met.get(pair) ?? 0)) met.set(pair, deep);
      }
    });
  }
  return [...met].map(([pair, deep]) => `${pair}: ${deep.toFixed(2)} mm`);
}

describe('no part passes through another', () => {
  test.each(PLANS.map((named, nth) => ({ ...named, nth })))(
    'in any step of $name',
    ({ plan, nth }) => {
      // Every fifth, begun elsewhere in each plan; all of them in the long run.
      const looked = plan.steps.flatMap((_, k) => (LONG || (k + nth) % 5 === 0 ? [k] : []));
      const found = looked.flatMap((k) =>
        meetings(motionOf(plan, k)).map((pair) => `${plan.steps[k]!.id} (${plan.steps[k]!.kind}): ${pair}`),
      );
      expect(looked.length).toBeGreaterThan(3);
      expect(found).toEqual([]);
    },
    120_000,
  );

  test.each(DEMOS)(
    'when $name is taken apart',
    ({ plan }) => {
      const { steps } = stripOf(plan);
      const motions = motionsOf(
        plan.analysis,
        steps.map((strip) => ({ step: strip.step, strip })),
        plan.steps.at(-1)!.on,
      );
      const looked = someOf([...steps.keys()], 5);
      expect(looked.flatMap((k) => meetings(motions(k), 12).map((pair) => `${steps[k]!.id}: ${pair}`))).toEqual([]);
    },
    120_000,
  );
});

test.each(DEMOS)('units of $name keep clear of one another by their bare outlines, too', ({ plan }) => {
  const { bike, before } = worldsOf(plan);
  const moved = (
    place: { x_mm: number; y_mm: number; radius_mm: number },
    { x_mm, y_mm, angle_rad }: Frame['members'][string],
  ) => ({
    x_mm: x_mm + Math.cos(angle_rad) * place.x_mm - Math.sin(angle_rad) * place.y_mm,
    y_mm: y_mm + Math.sin(angle_rad) * place.x_mm + Math.cos(angle_rad) * place.y_mm,
    radius_mm: place.radius_mm,
  });
  const given = (unit: string) => bike.pieces.get(unit)!.filter(({ isEstimate }) => !isEstimate);
  const deep = (
    one: string,
    oneAt: Frame['members'][string],
    other: string,
    otherAt: Frame['members'][string],
  ): number =>
    Math.max(
      0,
      ...given(one).flatMap((a) =>
        given(other).map((b) => {
          const z =
            Math.min(a.zTo_mm + oneAt.z_mm, b.zTo_mm + otherAt.z_mm) -
            Math.max(a.zFrom_mm + oneAt.z_mm, b.zFrom_mm + otherAt.z_mm);
          return z <= 0
            ? 0
            : Math.min(
                z,
                -hullGap(
                  { a: moved(a.a, oneAt), b: moved(a.b, oneAt) },
                  { a: moved(b.a, otherAt), b: moved(b.b, otherAt) },
                ).gap_mm,
              );
        }),
      ),
    );
  const found: string[] = [];
  let looked = 0;
  someOf([...plan.steps.entries()], 3).forEach(([k, step]) => {
    const motion = motionOf(plan, k);
    for (const unit of motion.movers.flatMap(({ units }) => units)) {
      for (const other of [...before[k]!.on].filter((id) => id !== unit && bike.units.has(id))) {
        const drawn = deep(unit, HOME, other, HOME);
        for (let at = 0; at <= SAMPLES; at++) {
          const t = at / SAMPLES;
          const frame = frameAt(motion, t);
          const now = deep(
            unit,
            frame.members[bike.units.get(unit)!.members[0]!]!,
            other,
            frame.members[bike.units.get(other)!.members[0]!]!,
          );
          looked++;
          if (now > drawn + ALLOWED_mm)
            found.push(`${step.id}: ${unit} into ${other} by ${now.toFixed(2)} mm at ${t.toFixed(2)}`);
        }
      }
    }
  });
  expect(found).toEqual([]);
  expect(looked).toBeGreaterThan(SAMPLES);
});

test.each(PLANS)('every axle of $name begins with its tip outside', ({ plan }) => {
  const { items, before } = worldsOf(plan);
  const inside = plan.steps.flatMap((step, k) => {
    const own = step.stackId === undefined ? undefined : items.get(`${step.stackId}/axle`)?.own;
    const motion = motionOf(plan, k);
    if (!own || before[k]!.items.has(own.axle.id) || !motion.movers.some((mover) => mover.items.includes(own.axle.id)))
      return [];
    const offset = frameAt(motion, 0).items[own.axle.id]!.z_mm;
    const depth =
      own.from === 'drive' ? firstFace(own) - (own.axle.from_mm + offset) : own.axle.to_mm + offset - firstFace(own);
    return depth > 0 ? [`${step.id}: ${depth.toFixed(1)} mm inside`] : [];
  });
  expect(inside).toEqual([]);
});

test.each(PLANS)('everything of $name is seen to come in', ({ plan }) => {
  const short = plan.steps.flatMap((step, k) => {
    const motion = motionOf(plan, k);
    const [start, end] = [frameAt(motion, 0), frameAt(motion, 1)];
    const fresh = motion.movers.filter(
      ({ units, items }) =>
        (units.length > 0 && step.kind !== 'free-check') ||
        step.kind === 'set-spacer' ||
        items.some((id) => items.length === 1 && step.kind === 'press-bearing'),
    );
    return fresh.flatMap(({ units, items }) => {
      const id = units[0] === undefined ? items[0]! : worldsOf(plan).bike.units.get(units[0])!.members[0]!;
      const [a, b] = [start.members[id] ?? start.items[id]!, end.members[id] ?? end.items[id]!];
      const way = Math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm, a.z_mm - b.z_mm);
      const isSwing = step.kind === 'swing-away' || step.kind === 'swing-back';
      const least = isSwing ? 10 : units.length > 0 ? 100 : step.kind === 'set-spacer' ? 40 : 30;
      return way < least ? [`${step.id}: ${id} by ${way.toFixed(0)} mm`] : [];
    });
  });
  expect(short).toEqual([]);
});

test.each(DEMOS)(
  'reaching one member of $name and putting all back leads nothing through anything',
  ({ plan }) => {
    const { model } = plan.analysis;
    const target = accessTargets(plan)
      .filter(({ kind }) => kind === 'unit')
      .at(-1)!;
    const access = accessOf(plan, target.id);
    const run = [
      ...access.strip.map((strip) => ({ step: strip.step, strip })),
      ...access.back.map((step) => ({ step })),
    ];
    const motions = motionsOf(plan.analysis, run, [
      ...Object.keys(model.members),
      ...(model.obstacles ?? []).map(({ id }) => id),
    ]);
    expect(run.length).toBeGreaterThan(4);
    const looked = someOf([...run.keys()], 3);
    expect(looked.flatMap((k) => meetings(motions(k), 8).map((pair) => `${k} ${run[k]!.step.id}: ${pair}`))).toEqual(
      [],
    );
    // All is back where it was.
    const last = frameAt(motions(run.length - 1), 1);
    expect(Object.keys(last.members).sort()).toEqual(Object.keys(model.members).sort());
    expect(Object.values(last.items).every(({ x_mm, y_mm, z_mm }) => Math.hypot(x_mm, y_mm, z_mm) < 1e-6)).toBe(true);
    expect(Object.keys(last.items).length).toBe(
      plan.analysis.pivots.flatMap(({ stacks }) => stacks.flatMap(({ items }) => items)).length,
    );
  },
  60_000,
);

test.each(DEMOS)(
  'whatever axle of $name is reached, every ring has a way out and in, past what is held aside for it',
  ({ plan }) => {
    const { model, pivots } = plan.analysis;
    const on = [...Object.keys(model.members), ...(model.obstacles ?? []).map(({ id }) => id)];
    const found = someOf(
      pivots.flatMap(({ stacks }) => stacks),
      5,
    ).flatMap(({ id }) => {
      const access = accessOf(plan, `${id}/axle`);
      const run = [
        ...access.strip.map((strip) => ({ step: strip.step, strip })),
        ...access.back.map((step) => ({ step })),
      ];
      const motions = motionsOf(plan.analysis, run, on);
      return run.flatMap(({ step }, k) => {
        const motion = motions(k);
        const isLoose = step.kind === 'set-spacer';
        const isThere = isLoose && motion.movers.some(({ phases }) => phases.every(({ path }) => path.length < 2));
        const met = isLoose || step.kind === 'swing-away' || step.kind === 'swing-back' ? meetings(motion, 12) : [];
        return [
          ...(isThere ? [`${id} ${k} ${step.items.join()}: simply there`] : []),
          ...met.map((pair) => `${id} ${k} ${step.kind}: ${pair}`),
        ];
      });
    });
    expect(found).toEqual([]);
  },
  60_000,
);

describe('a motion that is wrong is found', () => {
  const { plan } = DEMOS.find(({ name }) => name === 'holt-120')!;
  const stepOf = (kind: string, id: string, of: Plan = plan): number =>
    of.steps.findIndex((step) => step.kind === kind && (step.units.includes(id) || step.items.includes(id)));
  const through = (
    k: number,
    from: { readonly x_mm?: number; readonly y_mm?: number; readonly z_mm?: number },
    of: Plan = plan,
  ): StepMotion => {
    const right = motionOf(of, k);
    return {
      ...right,
      movers: right.movers.map((mover) => ({
        ...mover,
        phases: mover.phases.map((phase) => ({ ...phase, path: [{ ...HOME, ...from }, phase.path.at(-1)!] })),
      })),
    };
  };

  test('a swingarm that comes through the frame', () => {
    expect(meetings(through(stepOf('offer-member', 'swingarm'), { x_mm: 120 })).join()).toMatch(
      /frame \| swingarm|swingarm \| frame/,
    );
  });
  test('a swingarm that comes from the side, through the lugs it belongs between', () => {
    expect(meetings(through(stepOf('offer-member', 'swingarm'), { z_mm: 120 }))).not.toEqual([]);
  });
  test('an axle pushed in from the other side', () => {
    const { from } = worldsOf(plan).bike.byStack.get('rocker-frame')!;
    const wrong = from === 'drive' ? -110 : 110;
    expect(meetings(through(stepOf('axle-home', 'rocker-frame/axle'), { z_mm: wrong }))).not.toEqual([]);
    expect(meetings(through(stepOf('axle-home', 'rocker-frame/axle'), { z_mm: -wrong }))).toEqual([]);
  });
  test('a ring brought in through the boss beside it', () => {
    expect(meetings(through(stepOf('set-spacer', 'main/spacer-left'), { z_mm: -45 }))).not.toEqual([]);
  });
  test('a shock that comes straight from ahead, through the tube that it has to be worked round', () => {
    const other = DEMOS.find(({ name }) => name === 'fjordside-150')!.plan;
    const k = stepOf('shock', 'shock-body', other);
    const { path } = motionOf(other, k).movers[0]!.phases[0]!;
    expect(path.length).toBeGreaterThan(2);
    expect(meetings(through(k, { x_mm: 120 }, other)).join()).toMatch(/frame \| shock-body|shock-body \| frame/);
  });
  test('a wrench whose handle points through the frame', () => {
    const k = plan.steps.findIndex((step) => step.id === 'tighten:main:2');
    const right = motionOf(plan, k);
    const all = Array.from({ length: 36 }, (_, at) =>
      meetings(
        {
          ...right,
          tools: right.tools.map((tool) => ({
            ...tool,
            handle_rad: (at * Math.PI) / 18,
            pull_rad: 0,
            standoff_mm: -60,
            onAt: 1,
          })),
        },
        2,
      ),
    );
    expect(all.some((found) => found.length > 0)).toBe(true);
  });
});

describe.each(PLANS)('the steps of $name', ({ plan }) => {
  const { bike, hostOf, items } = worldsOf(plan);
  const SIDE = { drive: 1, 'non-drive': -1 } as const;

  test('end where the next one begins', () => {
    const jumps: string[] = [];
    plan.steps.forEach((step, k) => {
      const next = plan.steps[k + 1];
      if (!next || step.atBench || next.atBench) return;
      const [end, start] = [frameAt(motionOf(plan, k), 1), frameAt(motionOf(plan, k + 1), 0)];
      // What the next step brings in or lays is not where this one has left it.
      for (const [id, at] of [...Object.entries(end.members), ...Object.entries(end.items)]) {
        const then = start.members[id] ?? start.items[id];
        const off = then ? Math.hypot(then.x_mm - at.x_mm, then.y_mm - at.y_mm, then.z_mm - at.z_mm) : Infinity;
        if (off > 1e-6) jumps.push(`${step.id} → ${next.id}: ${id} by ${off}`);
      }
    });
    expect(jumps).toEqual([]);
  });

  test('end as the plan places things, and nothing jumps on the way', () => {
    const wrong: string[] = [];
    plan.steps.forEach((step, k) => {
      const motion = motionOf(plan, k);
      const end = frameAt(motion, 1);
      for (const [id, { on, offset_mm }] of Object.entries(step.places)) {
        const at = end.items[id];
        // A ring or bearing in a unit that is swung away is away with it.
        const isAway =
          at !== undefined &&
          (at.x_mm !== 0 || at.y_mm !== 0) &&
          [...motion.units.values(), ...Object.values(end.members)].some((shift) => shift.angle_rad !== 0);
        if (at && on && !isAway && Math.hypot(at.x_mm, at.y_mm, at.z_mm - offset_mm) > 1e-6)
          wrong.push(`${step.id}: ${id}`);
        if (
          on &&
          step.items.includes(id) &&
          !at &&
          ['set-spacer', 'push-axle', 'axle-home', 'start-receiver', 'press-bearing', 'torque'].includes(step.kind)
        )
          wrong.push(`${step.id}: ${id} is not there`);
      }
      let before = frameAt(motion, 0);
      for (let at = 1; at <= 60; at++) {
        const now = frameAt(motion, at / 60);
        for (const id of now.moving) {
          const [a, b] = [
            before.items[id] ?? before.members[id] ?? before.obstacles[id],
            now.items[id] ?? now.members[id] ?? now.obstacles[id],
          ];
          if (!a || !b) wrong.push(`${step.id}: ${id} comes and goes`);
          else if (Math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm, a.z_mm - b.z_mm) > 16)
            wrong.push(`${step.id}: ${id} jumps`);
        }
        before = now;
      }
    });
    expect(wrong).toEqual([]);
  });

  test('bring axles from their side, nuts over the tip, bearings from where their seat opens, units along their approach', () => {
    const wrong: string[] = [];
    let looked = 0;
    plan.steps.forEach((step, k) => {
      const motion = motionOf(plan, k);
      for (const mover of motion.movers) {
        const first = mover.phases[0]!.path[0]!;
        const last = mover.phases.at(-1)!.path.at(-1)!;
        for (const id of mover.items) {
          const { item, own } = items.get(id)!;
          if (
            mover.units.length > 0 ||
            hostOf.has(id) !== (item.role === 'bearing') ||
            Math.abs(first.z_mm - last.z_mm) < 1e-9
          )
            continue;
          const side =
            item.role === 'axle'
              ? own.from
              : item.role === 'receiver'
                ? own.tipSide
                : item.role === 'bearing'
                  ? item.seat!.side
                  : undefined;
          if (!side) continue;
          looked++;
          if (Math.sign(first.z_mm - last.z_mm) !== SIDE[side])
            wrong.push(`${step.id}: ${id} comes from ${first.z_mm}`);
        }
        const { approach } = step;
        if (approach && mover.units.length > 0 && mover.phases[0]!.path.length === 2 && approach.how === 'axle') {
          looked++;
          if (Math.sign(first.z_mm - last.z_mm) !== SIDE[approach.side])
            wrong.push(`${step.id}: not from the ${approach.side} side`);
        }
      }
    });
    expect(wrong).toEqual([]);
    expect(looked).toBeGreaterThan(plan.analysis.model.pivots.length);
  });

  test('put every tool on its end and pull it the way that tightens, as the thread turns', () => {
    const wrong: string[] = [];
    plan.steps.forEach((step, k) => {
      const drives = step.tools.filter((tool) => tool.kind === 'drive');
      if (drives.length === 0) return;
      const motion = motionOf(plan, k);
      const [start, end] = [frameAt(motion, 0), frameAt(motion, 1)];
      if (end.tools.length !== drives.length) wrong.push(`${step.id}: ${end.tools.length} of ${drives.length} tools`);
      const own = bike.byStack.get(step.stackId!)!;
      const { turn, stand } = own.stack.tightening;
      const sense = (turn === 'anticlockwise' ? 1 : -1) * SIDE[stand];
      for (const [at, tool] of end.tools.entries()) {
        if (Math.abs(tool.off_mm) > 1e-9) wrong.push(`${step.id}: ${tool.role} is not on`);
        if (start.tools[at]!.off_mm < tool.off_mm) wrong.push(`${step.id}: ${tool.role} comes from inside`);
        if (tool.role === 'turns' && tool.side !== stand) wrong.push(`${step.id}: turns from the ${tool.side} side`);
        if (
          tool.role === 'turns' &&
          step.kind === 'torque' &&
          Math.sign(tool.handle_rad - start.tools[at]!.handle_rad) !== sense
        )
          wrong.push(`${step.id}: pulled the wrong way`);
      }
      const turned = own.stack.tightening.turned === 'receiver' ? own.receiver.id : own.axle.id;
      const turns = (end.items[turned]?.turn_rad ?? 0) - (start.items[turned]?.turn_rad ?? 0);
      if (step.kind === 'hold-turn' && own.stack.tightening.engagement_mm > 3 && Math.sign(turns) !== sense)
        wrong.push(`${step.id}: ${turned} turns ${turns}`);
    });
    expect(wrong).toEqual([]);
  });
});

describe('a motion', () => {
  const { plan } = DEMOS.find(({ name }) => name === 'skarn-140')!;

  test('is the same whenever it is asked for, and clamps its time', () => {
    const again = planOf(analyse(plan.analysis.model));
    for (const k of [0, 40, 60, 77, 90, plan.steps.length - 1]) {
      expect(JSON.stringify(frameAt(motionOf(again, k), 0.37))).toBe(JSON.stringify(frameAt(motionOf(plan, k), 0.37)));
      expect(frameAt(motionOf(plan, k), 2)).toEqual(frameAt(motionOf(plan, k), 1));
      expect(frameAt(motionOf(plan, k), -1)).toEqual(frameAt(motionOf(plan, k), 0));
    }
    expect(() => motionOf(plan, plan.steps.length)).toThrow(RangeError);
  });

  test('taken back runs backward, and pulls the other way', () => {
    const k = plan.steps.findIndex(({ kind }) => kind === 'torque');
    const motion = motionOf(plan, k);
    const turns = { clockwise: 'anticlockwise', anticlockwise: 'clockwise' } as const;
    for (const t of [0, 0.3, 0.8, 1]) {
      const [back, forth] = [frameAt(undone(motion), t), frameAt(motion, 1 - t)];
      expect(back.items).toEqual(forth.items);
      expect(back.tools.map(({ turn }) => turn)).toEqual(forth.tools.map(({ turn }) => turn && turns[turn]));
    }
    expect(undone(undone(motion))).toEqual(motion);
  });

  test('of a free check turns what hangs on one axle to and fro, and leaves it where it was', () => {
    const k = plan.steps.findIndex(({ id }) => id === 'tighten:rocker-frame:3');
    const motion = motionOf(plan, k);
    const angles = Array.from({ length: 21 }, (_, at) => frameAt(motion, at / 20).members.rocker!.angle_rad);
    expect([angles[0], angles[20]]).toEqual([0, 0]);
    expect(Math.max(...angles)).toBeGreaterThan(0.05);
    expect(Math.min(...angles)).toBeCloseTo(-Math.max(...angles), 2);
  });

  // With the seatstay on the chainstay before it meets the rocker, it has to be swung away for the spacers between.
  const swinging = planOf(DEMOS.find(({ name }) => name === 'fjordside-150')!.plan.analysis, { follow: 'makers' });

  test('finds more room where there is more: the seatstay at its lower end, the rocker at the seatstay’s upper', () => {
    const { bike, before } = worldsOf(swinging);
    const at = swinging.steps.findIndex(({ kind }) => kind === 'swing-away');
    const room = (unit: string, stack: string): number =>
      (swingRoom_rad(new Solids(bike), unit, bike.byStack.get(stack)!.place, before[at]!.on) * 180) / Math.PI;
    expect(room('seatstay', 'rear-left')).toBeGreaterThan(60);
    expect(room('rocker', 'seatstay-rocker')).toBeLessThan(30);
  });

  test('swings away the member that has the room, and swings it back', () => {
    const k = swinging.steps.findIndex(({ kind }) => kind === 'swing-away');
    const [away, back] = [
      motionOf(swinging, k),
      motionOf(
        swinging,
        swinging.steps.findIndex(({ kind }, at) => at > k && kind === 'swing-back'),
      ),
    ];
    const swung = away.movers.flatMap(({ units }) => units);
    expect(swung.length).toBe(1);
    expect(frameAt(back, 0).members[swung[0]!]).toEqual(frameAt(away, 1).members[swung[0]!]);
    expect(frameAt(back, 1).members[swung[0]!]).toEqual({ x_mm: 0, y_mm: 0, z_mm: 0, angle_rad: 0 });
    expect(Math.abs(frameAt(away, 1).members[swung[0]!]!.angle_rad)).toBeGreaterThan(0.05);
  });
});

describe('bodies', () => {
  test.each(seeds(8))('meet where a fine grid of points says so, seed %i', (seed) => {
    const draw = random(seed);
    const shape = (): Shape => {
      const a = { x_mm: draw.between(-15, 15), y_mm: draw.between(-15, 15), radius_mm: draw.between(3, 14) };
      const isLoose = draw.chance(0.5);
      const b = isLoose
        ? a
        : { x_mm: draw.between(-30, 30), y_mm: draw.between(-30, 30), radius_mm: draw.between(3, 14) };
      const z = draw.between(-10, 10);
      return {
        a,
        b,
        hole_mm: isLoose && draw.chance(0.6) ? a.radius_mm * draw.between(0.3, 0.9) : 0,
        openings: [],
        zFrom_mm: z,
        zTo_mm: z + draw.between(2, 12),
      };
    };
    const [one, other] = [shape(), shape()];
    const deep = new Space().excess_mm(
      pose(bodyOf('one', 'tool', [one]), HOME),
      pose(bodyOf('other', 'tool', [other]), HOME),
    );
    const holds = ({ a, b, hole_mm }: Shape, x: number, y: number): boolean => {
      for (let k = 0; k <= 200; k++) {
        const s = k / 200;
        const gap =
          Math.hypot(x - a.x_mm - (b.x_mm - a.x_mm) * s, y - a.y_mm - (b.y_mm - a.y_mm) * s) -
          a.radius_mm -
          (b.radius_mm - a.radius_mm) * s;
        if (gap < 0) return hole_mm === 0 || Math.hypot(x - a.x_mm, y - a.y_mm) > hole_mm;
      }
      return false;
    };
    const shared = Math.min(one.zTo_mm, other.zTo_mm) - Math.max(one.zFrom_mm, other.zFrom_mm);
    let isMet = false;
    for (let x = -46; x <= 46 && !isMet; x += 0.5)
      for (let y = -46; y <= 46 && !isMet; y += 0.5) isMet = holds(one, x, y) && holds(other, x, y);
    if (shared <= 0) expect(deep).toBe(0);
    else if (isMet) expect(deep).toBeGreaterThan(0);
    else expect(deep).toBeLessThan(1.2);
  });

  test('are left out at the end of a web only where its boss stands', () => {
    let looked = 0;
    for (const shape of DEMOS.flatMap(({ plan }) =>
      [...worldsOf(plan).bodies.values()].flatMap(({ shapes }) => shapes),
    )) {
      for (const { x_mm, y_mm, angle_rad } of shape.ends ?? []) {
        // The rim of the round end, from one corner to the other behind the edge.
        for (let k = 0; k <= 36; k++) {
          const angle = angle_rad + Math.PI / 2 + (k * Math.PI) / 36;
          const [x, y] = [x_mm + shape.a.radius_mm * Math.cos(angle), y_mm + shape.a.radius_mm * Math.sin(angle)];
          const room = shape.openings.map((boss) => boss.radius_mm - Math.hypot(x - boss.x_mm, y - boss.y_mm));
          expect(Math.max(...room)).toBeGreaterThan(-1e-6);
          looked++;
        }
      }
    }
    expect(looked).toBeGreaterThan(1000);
  });

  test('slices of a profile hold its area', () => {
    const area = (polygon: readonly (readonly [number, number])[]): number =>
      Math.abs(
        polygon.reduce(
          (sum, [r, z], k) =>
            sum + r * polygon[(k + 1) % polygon.length]![1] - polygon[(k + 1) % polygon.length]![0] * z,
          0,
        ),
      ) / 2;
    for (const { plan } of DEMOS) {
      for (const own of worldsOf(plan).bike.stacks) {
        for (const item of own.items) {
          for (const { polygon } of item.solids) {
            const sum = slices(polygon).reduce(
              (all, { inner_mm, outer_mm, from_mm, to_mm }) => all + (outer_mm - inner_mm) * (to_mm - from_mm),
              0,
            );
            expect(sum).toBeCloseTo(area(polygon), 6);
          }
        }
      }
    }
  });
});

describe('a path', () => {
  const post = (x_mm: number, y_mm: number, radius_mm: number): Posed['body'] =>
    roundBar(`post ${x_mm} ${y_mm}`, { x_mm, y_mm, radius_mm }, [-50, 50]);
  const about = (radius_mm: number) => ({ x_mm: 0, y_mm: 0, radius_mm });
  const lid = (z: number): Posed['body'] => roundBar(`lid ${z}`, about(60), [z, z + 4]);
  const block = roundBar('block', about(8), [-5, 5]);
  const course = (walls: readonly Posed['body'][]): Course =>
    new Course(
      new Space(),
      [{ body: block, at: HOME }],
      walls.map((body) => ({ body, at: HOME })),
    );

  test('goes the way that was asked for where it is free, and otherwise another one', () => {
    const free = pathIn(course([]), HOME, [inPlane(1)], { length_mm: 60 });
    expect(Math.atan2(free[0]!.y_mm, free[0]!.x_mm)).toBeCloseTo(1, 9);
    const shut = course([post(30, 0, 10)]);
    const other = pathIn(shut, HOME, [inPlane(0)], { length_mm: 60 });
    expect(other.every((at, k) => k === 0 || shut.isLegFree(other[k - 1]!, at))).toBe(true);
    expect(other.at(-1)).toEqual(HOME);
  });

  test('goes round corners by way points that it finds itself', () => {
    // A ring of posts with plates over both faces and one gap, behind which another wall stands.
    const ring = Array.from({ length: 24 }, (_, k) =>
      k === 6 ? [] : [post(30 * Math.cos((k * Math.PI) / 12), 30 * Math.sin((k * Math.PI) / 12), 3.2)],
    ).flat();
    const [from, to] = [-10, 10].map((x_mm) => ({ x_mm, y_mm: 62, radius_mm: 4 }));
    const wall = roundBar('wall', from!, [-50, 50], to);
    const small = roundBar('small', about(3), [-5, 5]);
    const maze = new Course(
      new Space(),
      [{ body: small, at: HOME }],
      [...ring, lid(-10), lid(6), wall].map((body) => ({ body, at: HOME })),
    );
    const path = pathIn(maze, HOME, [alongAxle(1)], { length_mm: 80 });
    expect(path.length).toBeGreaterThan(2);
    expect(path.slice(1).every((at, k) => maze.isLegFree(path[k]!, at))).toBe(true);
    expect(Math.hypot(path[0]!.x_mm, path[0]!.y_mm)).toBeGreaterThan(60);
  });

  test('is none where the part is walled in', () => {
    const ring = Array.from({ length: 24 }, (_, k) =>
      post(14 * Math.cos((k * Math.PI) / 12), 14 * Math.sin((k * Math.PI) / 12), 3),
    );
    expect(pathIn(course([...ring, lid(-10), lid(6)]), HOME, [], { length_mm: 60 })).toEqual([HOME]);
  });
});
