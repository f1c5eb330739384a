/**
 * Widths of driver, support and punch from profiles drawn by hand, and how far an arm is moved by hand, against the
 * travel the makers of the demo bikes state. mm.
 */
import { describe, expect, test } from 'vitest';
import { type PlacedItem } from '../../shared/index.ts';
import { pressingOf } from '../../shared/order/room.ts';
import { demoModels, flippedModel } from '../bench/models.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

type Ring = readonly [inside_mm: number, outside_mm: number];
const tube = (
  role: 'body' | 'inner-ring' | 'outer-ring' | 'seal',
  [inside, outside]: Ring,
  from: number,
  to: number,
) => ({
  role,
  material: 'steel' as const,
  polygon: [
    [inside / 2, from],
    [outside / 2, from],
    [outside / 2, to],
    [inside / 2, to],
  ] as const,
});

function item(
  more: Partial<PlacedItem> & Pick<PlacedItem, 'id' | 'role' | 'solids' | 'from_mm' | 'to_mm'>,
): PlacedItem {
  const open = { bears: 'nothing', force_N: 0, touches: [] } as const;
  return {
    rowId: more.id,
    stackId: 's',
    pivotId: 'p',
    kind: more.role,
    name: more.id,
    turned: false,
    drives: [],
    shift_mm: 0,
    inColumn: false,
    nonDrive: open,
    drive: open,
    ...more,
  };
}

/**
 * A boss from z 0 to 20, 40 across, its bore as given, and a 28 mm bearing 7 wide in its drive end: rings 15/19 and
 * 24/28.
 */
const boss = (bore_mm: number): PlacedItem =>
  item({
    id: 'boss',
    role: 'boss',
    member: 'arm',
    bore: 'eye',
    from_mm: 0,
    to_mm: 20,
    solids: [tube('body', [bore_mm, 40], 0, 20)],
  });
const bearing = (id: string, side: 'drive' | 'non-drive', from: number): PlacedItem =>
  item({
    id,
    role: 'bearing',
    seat: { member: 'arm', bore: 'eye', side },
    from_mm: from,
    to_mm: from + 7,
    solids: [
      tube('inner-ring', [15, 19], from, from + 7),
      tube('seal', [19, 24], from + 0.5, from + 6.5),
      tube('outer-ring', [24, 28], from, from + 7),
    ],
  });
const drive = bearing('drive', 'drive', 13);
const far = bearing('far', 'non-drive', 0);

describe('a bearing alone in its boss', () => {
  test('the driver covers the outer ring, hollow as far as its inner edge; the support lets the bearing through', () => {
    const found = pressingOf(drive, [boss(22), drive])!;
    expect(found.side).toBe('drive');
    expect(found.driver).toEqual({ most_mm: 28, hollow_mm: 24 });
    // 28 and half a millimetre of play; the boss is 40 across.
    expect(found.support).toEqual({ inside_mm: 28.5, outside_mm: 40 });
  });

  test('a bore of 22 shows the inner ring alone: a punch of 16 to 19', () => {
    expect(pressingOf(drive, [boss(22), drive])!.out).toEqual({
      from: 'non-drive',
      bearsOn: 'inner-ring',
      punch: { most_mm: 19, least_mm: 16 },
      bore_mm: 15,
    });
  });

  test('a bore of 18 lets a punch of 17.5 through at most', () => {
    expect(pressingOf(drive, [boss(18), drive])!.out.punch).toEqual({ most_mm: 17.5, least_mm: 16 });
  });

  test('a bore of 15.8 leaves no punch a hold', () => {
    expect(pressingOf(drive, [boss(15.8), drive])!.out).toEqual({ from: 'non-drive', bearsOn: 'nothing', bore_mm: 15 });
  });

  test('a bore of 26 shows 1 mm of the outer ring: a tube of 25 to 25.5 bears on that', () => {
    expect(pressingOf(drive, [boss(26), drive])!.out).toEqual({
      from: 'non-drive',
      bearsOn: 'outer-ring',
      punch: { most_mm: 25.5, least_mm: 25 },
      bore_mm: 15,
    });
  });
});

describe('a bearing behind another', () => {
  const between = (sizes: Ring): PlacedItem =>
    item({ id: 'tube', role: 'spacer', from_mm: 7, to_mm: 13, solids: [tube('body', sizes, 7, 13)] });

  test('a tube of 15.2 to 19 in a bore of 22 goes 1.5 aside: 1.6 of the ring’s edge shows', () => {
    const { out } = pressingOf(drive, [boss(22), drive, far, between([15.2, 19])])!;
    expect(out.tube!.item).toBe('tube');
    expect(out.tube!.lip_mm).toBeCloseTo(1.6, 9);
    // Through 15, with half a millimetre of play and as much to lean.
    expect(out.punch).toEqual({ most_mm: 14, least_mm: 5 });
    expect(out).toMatchObject({ bearsOn: 'inner-ring', past: 'far' });
  });

  test('a tube that fills its bore hides the ring: only a puller takes hold', () => {
    const { out } = pressingOf(drive, [boss(22), drive, far, between([15.2, 21.8])])!;
    expect(out).toMatchObject({ bearsOn: 'nothing', past: 'far', bore_mm: 15 });
    expect(out.tube!.lip_mm).toBeCloseTo(0.2, 9);
    expect(out.punch).toBeUndefined();
  });

  test('without a tube the whole face of the ring is bare', () => {
    expect(pressingOf(drive, [boss(22), drive, far])!.out).toMatchObject({ bearsOn: 'inner-ring', past: 'far' });
  });

  test('the other one comes out the other way, by the same widths', () => {
    const one = pressingOf(drive, [boss(22), drive, far, between([15.2, 19])])!;
    const other = pressingOf(far, [boss(22), drive, far, between([15.2, 19])])!;
    expect(other.side).toBe('non-drive');
    expect(other.out.from).toBe('drive');
    expect(other.driver).toEqual(one.driver);
    expect(other.out.punch).toEqual(one.out.punch);
  });
});

test('what is pressed into no seat has no widths', () => {
  const { seat: _seat, ...loose } = drive;
  expect(pressingOf(loose, [boss(22), loose])).toBeUndefined();
});

describe('how far an arm is moved by hand', () => {
  const bikes = demoModels().filter(({ shock, wheel }) => shock?.travel_mm !== undefined && wheel);

  test.each(bikes)('$id: what carries the wheel goes up by about the travel its maker states', (model) => {
    const swings = plannedOnce(analysed(model)).steps.flatMap((step) => step.swings ?? []);
    const own = swings.find(({ unit }) => unit === model.wheel!.member)!;
    expect(Math.abs(own.far_mm / model.shock!.travel_mm! - 1)).toBeLessThan(0.05);
    expect(own.toward_rad).toBeGreaterThan(Math.PI / 4);
    expect(own.toward_rad).toBeLessThan((3 * Math.PI) / 4);
    expect(bikes.length).toBeGreaterThan(2);
  });

  test.each(bikes)('$id seen in a mirror: as far, and as far round', (model) => {
    const of = (one: typeof model): unknown[] =>
      plannedOnce(analysed(one))
        .steps.flatMap((step) => step.swings ?? [])
        .map(({ unit, far_mm, turn_deg }) => `${unit} ${far_mm.toFixed(3)} ${turn_deg.toFixed(3)}`)
        .sort();
    expect(of(flippedModel(model))).toEqual(of(model));
  });
});
