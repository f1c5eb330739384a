/**
 * Ways in, against moving the bodies: directions that the closed form calls shut meet the other body on the way, and no
 * others do; open arcs by sampling; sweeps of a handle by trying; rings by how deep they reach.
 */
import { describe, expect, test } from 'vitest';
import { analyse, hullGap } from '../../shared/index.ts';
import {
  approachOf,
  type Arc,
  arc,
  hasSweep,
  middleOf,
  openArcs,
  openWay,
  radiusOf,
  shutAngles,
  shutArc,
  shutBy,
  SWEEP_STEP_deg,
  toolsOf,
  Ways,
  widest,
  widestSweep,
} from '../../shared/order/room.ts';
import { betweenOf, clear_mm, movables } from '../../shared/order/possible.ts';
import { type Piece, bikeOf, wayOf } from '../../shared/order/bike.ts';
import { Solids, swingRoom_rad } from '../../shared/order/bodies.ts';
import { demoModels } from '../bench/models.ts';
import { random, type Random } from '../setup/random.ts';
import { seeds } from '../setup/series.ts';

interface Disc {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly radius_mm: number;
}
interface Hull {
  readonly a: Disc;
  readonly b: Disc;
}

const FULL = 2 * Math.PI;
const isIn = ({ from, to }: Arc, angle: number): boolean =>
  [angle, angle + FULL, angle + 2 * FULL].some((turn) => turn >= from && turn <= to);

function hull(draw: Random, x: number, y: number): Hull {
  const disc = (): Disc => ({
    x_mm: x + draw.between(-30, 30),
    y_mm: y + draw.between(-30, 30),
    radius_mm: draw.between(1, 20),
  });
  const a = disc();
  return { a, b: draw.chance(0.2) ? a : disc() };
}

const shifted = ({ a, b }: Hull, by: number, angle: number): Hull => {
  const move = (disc: Disc): Disc => ({
    ...disc,
    x_mm: disc.x_mm + by * Math.cos(angle),
    y_mm: disc.y_mm + by * Math.sin(angle),
  });
  return { a: move(a), b: move(b) };
};

/** The least gap on the straight way in from a direction, by trying every half millimetre. */
function leastOnWay(moving: Hull, standing: Hull, angle: number): number {
  let least = Infinity;
  for (let by = 0; by <= 260; by += 0.5) least = Math.min(least, hullGap(shifted(moving, by, angle), standing).gap_mm);
  return least;
}

describe('directions a body shuts for another', () => {
  test.each(seeds(8))('seed %i', (seed) => {
    const draw = random(6000 + seed);
    const moving = hull(draw, 0, 0);
    const towards = draw.between(0, FULL);
    const standing = hull(draw, 90 * Math.cos(towards), 90 * Math.sin(towards));
    const shut = shutArc(moving, standing, 0);
    if (hullGap(moving, standing).gap_mm <= 0) {
      expect(shut).toBeUndefined();
      return;
    }
    expect(shut!.to - shut!.from).toBeLessThanOrEqual(Math.PI);
    for (let k = 0; k < 72; k++) {
      const angle = (k * FULL) / 72;
      const least = leastOnWay(moving, standing, angle);
      // Beside the edge of the arc the two pass within a hair: a sampled way says nothing there.
      if (Math.abs(least) < 0.6) continue;
      expect(isIn(shut!, angle), `${k * 5}°: ${least.toFixed(2)} mm`).toBe(least < 0);
    }
  });

  test('by hand: two discs of radius 10, 40 apart, shut 30° to each side; a margin of 10 shuts more', () => {
    const disc = (x_mm: number): Hull => ({ a: { x_mm, y_mm: 0, radius_mm: 10 }, b: { x_mm, y_mm: 0, radius_mm: 10 } });
    const shut = shutArc(disc(0), disc(40), 0)!;
    expect(((shut.to - shut.from) * 180) / Math.PI).toBeCloseTo(60, 9);
    expect(Math.cos(middleOf(shut))).toBeCloseTo(1, 9);
    const wider = shutArc(disc(0), disc(40), 10)!;
    expect(Math.sin((wider.to - wider.from) / 2)).toBeCloseTo(0.75, 9);
  });
});

describe('what is left open', () => {
  test.each(Array.from({ length: 40 }, (_, k) => k + 1))('seed %i: every angle is either shut or open', (seed) => {
    const draw = random(7000 + seed);
    const shut = Array.from({ length: draw.whole(0, 5) }, () => {
      const from = draw.between(-10, 10);
      return arc(from, from + draw.between(0, 3));
    });
    const open = openArcs(shut);
    for (let k = 0; k < 360; k++) {
      const angle = ((k + 0.37) * FULL) / 360;
      const isShut = shut.some((one) => isIn(one, angle));
      expect(
        open.some((one) => isIn(one, angle)),
        `${k}°`,
      ).toBe(!isShut);
    }
    const best = widest(open);
    if (best) for (const one of open) expect(one.to - one.from).toBeLessThanOrEqual(best.to - best.from + 1e-9);
    else expect(open).toEqual([]);
  });
});

describe('a handle’s sweep', () => {
  test.each(Array.from({ length: 60 }, (_, k) => k + 1))(
    'seed %i: the widest open run, by trying every start',
    (seed) => {
      const draw = random(8000 + seed);
      const count = 360 / SWEEP_STEP_deg;
      const shut = Array.from({ length: count }, () => draw.chance(draw.pick([0.02, 0.1, 0.5, 0.95])));
      let longest = 0;
      for (let from = 0; from < count; from++) {
        let length = 0;
        while (length < count && !shut[(from + length) % count]) length++;
        longest = Math.max(longest, length);
      }
      const found = widestSweep(shut);
      if (longest === 0) expect(found).toBeUndefined();
      else if (longest === count) expect(found).toEqual({ from_deg: 0, wide_deg: 360 });
      else {
        expect(found!.wide_deg).toBe((longest - 1) * SWEEP_STEP_deg);
        for (let k = 0; k < longest; k++) expect(shut[(found!.from_deg / SWEEP_STEP_deg + k) % count]).toBe(false);
      }
    },
  );

  test('on every demo bike each tool has its room when the bike is whole but for what comes later', () => {
    for (const model of demoModels()) {
      const bike = bikeOf(analyse(model));
      for (const own of bike.stacks) {
        const fixed = [...bike.pieces]
          .filter(([owner]) => bike.units.get(owner)?.isFrame === true)
          .flatMap(([, pieces]) => pieces);
        for (const tool of toolsOf(own))
          expect(
            hasSweep(
              tool,
              shutAngles(
                tool,
                fixed.filter(
                  (piece) =>
                    hullGap({ a: { ...own.place, radius_mm: 0 }, b: { ...own.place, radius_mm: 0 } }, piece).gap_mm > 0,
                ),
              ),
            ),
            `${own.id} ${tool.role}`,
          ).toBe(true);
      }
    }
  });
});

describe('ways in on the demo bikes', () => {
  test('every unit has a way in to the bare frame, and its approach is one of what is open', () => {
    for (const model of demoModels()) {
      const bike = bikeOf(analyse(model));
      const ways = new Ways(bike);
      const frame = new Set([...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id));
      for (const unit of [...bike.units.keys()].filter((id) => !frame.has(id))) {
        const way = ways.into(unit, frame);
        const approach = approachOf(way, bike.pieces.get(unit)!, false);
        expect(approach, `${model.id} ${unit}`).toBeDefined();
        if (approach?.how === 'plane')
          expect(way.arcs.some((one) => isIn(one, ((approach.angle_rad % FULL) + FULL) % FULL))).toBe(true);
        else expect(way.sides).toContain(approach?.side);
      }
    }
  });

  test('a body that stands over another along z shuts that side and no direction', () => {
    const disc = { x_mm: 0, y_mm: 0, radius_mm: 10 };
    const piece = (zFrom_mm: number, zTo_mm: number) => ({
      member: 'm',
      what: 'w',
      a: disc,
      b: disc,
      zFrom_mm,
      zTo_mm,
      volume_mm3: 0,
      owner: 'o',
      isEstimate: false,
    });
    const shut = shutBy([piece(-5, 5)], [piece(10, 20)]);
    expect(shut).toEqual({ arcs: [], drive: true, nonDrive: false });
    expect(openWay([shut])).toMatchObject({ sides: ['non-drive'] });
  });

  test('rings by how deep they reach: from the side, before the members meet, along the axle, shut in, from outside', () => {
    const rings = demoModels().flatMap((model) =>
      bikeOf(analyse(model)).stacks.flatMap(({ spacers: list }) =>
        list.map((ring) => [ring.item.id, wayOf(ring)] as const),
      ),
    );
    const way = new Map(rings);
    expect(way.get('rocker-link/tube')).toBe('before-they-meet-along');
    expect(way.get('rocker-frame/cone-left')).toBe('before-they-meet');
    expect(way.get('main/washer-left')).toBe('from-the-side');
    expect(way.get('shock-frame/tube')).toBe('shut-in');
    expect(way.get('seatstay-rocker/outer-left')).toBe('from-outside');
  });
});

describe('members that met already', () => {
  // The shock hangs on the frame, the rocker on the seatstay: the upper eye lies between the rocker's arms already.
  const bike = bikeOf(analyse(demoModels().find(({ id }) => id === 'fjordside-150')!));
  const fitted = new Set(['main', 'rear-left', 'rear-right', 'seatstay-rocker', 'shock-frame']);
  const own = bike.byStack.get('shock-rocker')!;
  const solids = new Solids(bike);
  const betweens = betweenOf(bike, own);
  const names = (clear: number, between = betweens[0]!, fits: ReadonlySet<string> = fitted): string[] =>
    movables(solids, between, fits, clear)
      .map(({ unit }) => unit)
      .sort();
  /** How far the bore at the shock's upper eye goes when a unit is swung about another axle, by hand: a chord. */
  const moved = (unit: string, about: string, on: readonly string[]): number => {
    const { place } = bike.byStack.get(about)!;
    const arm_mm = Math.hypot(own.place.x_mm - place.x_mm, own.place.y_mm - place.y_mm);
    return 2 * arm_mm * Math.sin(swingRoom_rad(solids, unit, place, new Set(on)) / 2);
  };
  const both = ['frame', 'rocker', 'shock-body'];
  const [rocker, shock] = [moved('rocker', 'seatstay-rocker', both), moved('shock-body', 'shock-frame', both)];

  test('that lie round another go on before it, on the same boss', () => {
    const main = bike.byStack.get('main')!;
    const laid = betweenOf(bike, main).map(({ ring }) => ring.item.rowId);
    expect(laid).toEqual(['seal-left', 'spacer-left', 'seal-right', 'spacer-right']);
    for (const { item, round } of main.spacers)
      expect(round?.rowId).toBe(item.rowId?.startsWith('seal') ? item.rowId.replace('seal', 'spacer') : undefined);
  });

  test('are moved apart by the one whose swing clears the ring: the rocker meets the frame long before the shock stops', () => {
    expect(betweens.map(({ ring }) => ring.item.rowId)).toEqual(['spacer-left', 'spacer-right']);
    for (const between of betweens) {
      const over = between.ring.low!.into_mm > between.ring.high!.into_mm ? between.ring.high! : between.ring.low!;
      // The ring lies in the rocker: it is the shock's eye that has to stand clear of it.
      expect(bike.unitOf.get(over.boss.member!)).toBe('shock-body');
      expect(clear_mm(between)).toBeCloseTo(radiusOf(between.ring.item) + radiusOf(over.boss), 9);
      expect(names(clear_mm(between), between)).toEqual(['rocker', 'shock-body']);
      expect(names(rocker - 0.01, between)).toEqual(['rocker', 'shock-body']);
      expect(names(rocker + 0.01, between)).toEqual(['shock-body']);
      expect(names(shock - 0.01, between)).toEqual(['shock-body']);
      expect(names(shock + 0.01, between)).toEqual([]);
    }
    expect(rocker).toBeGreaterThan(clear_mm(betweens[0]!));
    expect(shock).toBeGreaterThan(2 * rocker);
    // Bodies with room of their own: with the frame away the rocker swings more than half as far again.
    expect(moved('rocker', 'seatstay-rocker', ['rocker', 'shock-body'])).toBeGreaterThan(1.5 * rocker);
  });

  test('are not moved apart by one that two axes hold; more to clear than a swing gives leaves none', () => {
    expect(names(0)).toEqual(['rocker', 'shock-body']);
    expect(names(0, betweens[0]!, new Set([...fitted, 'rocker-frame']))).toEqual(['shock-body']);
    expect(names(0, betweens[0]!, new Set([...fitted, 'shock-rocker']))).toEqual([]);
    expect(names(1e6)).toEqual([]);
  });
});

describe('the margin of a way in', () => {
  test('is half a millimetre: two discs of 5 mm, 20 mm apart, shut an arc as if they were 10.5 mm together', () => {
    const disc = (x_mm: number) => ({ x_mm, y_mm: 0, radius_mm: 5 });
    const piece = (owner: string, x_mm: number): Piece => ({
      owner,
      member: owner,
      what: 'boss',
      a: disc(x_mm),
      b: disc(x_mm),
      zFrom_mm: 0,
      zTo_mm: 10,
      volume_mm3: 0,
      isEstimate: false,
    });
    const { arcs } = shutBy([piece('moving', 0)], [piece('standing', 20)]);
    expect(arcs).toHaveLength(1);
    expect(arcs[0]!.to - arcs[0]!.from).toBeCloseTo(2 * Math.asin(10.5 / 20), 9);
  });
});
