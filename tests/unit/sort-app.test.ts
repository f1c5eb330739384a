/**
 * The tray as typed, kept and drawn: nothing typed is lost, drawings are to scale, the mat holds every part of the
 * build.
 */
import { describe, expect, it, test } from 'vitest';
import {
  analyse,
  DEFAULT_SETTING,
  kindOf,
  listed,
  PART_KINDS,
  partProfile,
  readReadings,
  joined,
  logOf,
  nextCounter,
  settingOver,
  sortTray,
  sumOf,
  type FieldValue,
  type LinkageModel,
  type Log,
} from '../../shared/index.ts';
import { readRoute, writeRoute, PLACES } from '../../src/page/route.ts';
import { USUAL_SETTINGS } from '../../src/page/settings.ts';
import { firstState, goToPlace, isReady, routeOf, show } from '../../src/page/state.ts';
import {
  draftOf,
  EMPTY_TRAY,
  FIELDS,
  fieldsOf,
  isMeasured,
  padded,
  clashOf,
  keptDraft,
  keptField,
  keptTray,
  readTray,
  settingOf,
  shownFields,
  sortDrafts,
  understand,
  takenOff,
  trayFrom,
  type Draft,
  type TrayState,
} from '../../src/tray/tray.ts';
import { askedField, drawnPart, fieldHow, fieldOfNext, fieldWord, standingOf } from '../../src/tray/trayWords.ts';
import { matRows, scaleBar } from '../../src/drawings/mat.ts';
import { drawPart, partExtent, silhouette } from '../../src/drawings/part.ts';
import { svg as svgOf } from '../../src/drawings/svg.ts';
import { demoModels } from '../bench/models.ts';

const MODELS = demoModels();
const SKARN = MODELS.find(({ id }) => id === 'skarn-140')!;
const CONE = SKARN.parts['rocker-cone-short'] as Extract<LinkageModel['parts'][string], { kind: 'tapered-spacer' }>;

const tray = (drafts: readonly Draft[], more: Partial<TrayState> = {}): TrayState => ({
  ...EMPTY_TRAY,
  drafts,
  ...more,
});

describe('what a draft says', () => {
  it('reads texts with point or comma, mm or inch, and names of threads and tools', () => {
    const draft: Draft = {
      key: 1,
      kind: 'axle',
      texts: { length: '84,5', outside: '0.59 in', thread: 'm12x1', drive: 'hex 6', count: '2', label: ' A ' },
    };
    const { reading } = understand(draft, 'mm');
    expect(reading).toMatchObject({
      kind: 'axle',
      length_mm: 84.5,
      thread_mm: 12,
      pitch_mm: 1,
      drive: { tool: 'hex-key', size_mm: 6 },
      count: 2,
      label: 'A',
    });
    expect(reading!.outside_mm).toBeCloseTo(14.986, 3);
    expect(understand({ key: 1, kind: 'spacer', texts: { length: '0,25' } }, 'in').reading!.length_mm).toBeCloseTo(
      6.35,
      9,
    );
    // A pitch gauge speaks mm even beside an inch calliper.
    expect(understand({ key: 1, kind: 'nut', texts: { pitch: '1' } }, 'in').reading!.pitch_mm).toBe(1);
  });
  it('tells what cannot be read beside its field, and keeps it', () => {
    const draft: Draft = { key: 1, kind: 'spacer', texts: { length: '5,5,5', bore: '15,2' } };
    expect(understand(draft, 'mm')).toEqual({
      troubles: [{ field: 'length', words: '“5,5,5” is not a number, such as 5.5.' }],
    });
    expect(understand({ key: 1, kind: 'spacer', texts: { length: '900' } }, 'mm').troubles).toEqual([
      { field: 'length', words: 'Out of range: at most 400.' },
    ]);
  });
  it('leaves bad drafts out of the sort and sorts the rest', () => {
    const state = tray([
      { key: 3, kind: 'spacer', texts: { outside: '15', bore: '20' } },
      {
        key: 7,
        kind: 'tapered-spacer',
        texts: { large: String(CONE.large_mm), length: String(CONE.length_mm).replace('.', ',') },
      },
      { key: 9, texts: {} },
      { key: 11, texts: { length: 'x' } },
      { key: 12, kind: 'spacer', texts: { slides: 'B', length: '6' } },
    ]);
    const sorted = sortDrafts(SKARN, state);
    expect(sorted.keyOf).toEqual([7]);
    expect(sorted.tray.rows[0]!.placements[0]!.candidate).toBe('rocker-cone-short');
    expect([...sorted.troubles.keys()].sort((a, b) => a - b)).toEqual([3, 11, 12]);
    expect(sorted.troubles.get(3)).toEqual([{ field: 'bore', words: 'The bore cannot be as wide as the outside.' }]);
    expect(sorted.troubles.get(12)![0]!.field).toBe('slides');
  });
  it('drops a reading that names an axle which itself cannot be right', () => {
    const drafts: Draft[] = [
      { key: 1, kind: 'axle', texts: { label: 'B', outside: '24', head: '12' } },
      { key: 2, kind: 'spacer', texts: { slides: 'B' } },
    ];
    expect([...sortDrafts(SKARN, tray(drafts)).troubles.keys()].sort()).toEqual([1, 2]);
    expect(
      sortDrafts(SKARN, tray([{ ...drafts[0]!, texts: { label: 'B', outside: '14,98' } }, drafts[1]!])).troubles.size,
    ).toBe(0);
  });
  it('offers every kind its fields, and never hides one that is filled in', () => {
    for (const kind of PART_KINDS) {
      expect(fieldsOf(kind).length).toBeGreaterThan(4);
      for (const field of fieldsOf(kind)) {
        expect(fieldWord(field, kind)).not.toBe('');
        expect(fieldHow(field, kind)).toMatch(/[.?]$/);
      }
    }
    expect(shownFields({ key: 1, kind: 'spacer', texts: { head: '20' } })).toContain('head');
    expect(fieldOfNext('small_mm')).toBe('small');
    expect(fieldOfNext('drive')).toBe('drive');
    expect(fieldOfNext('kind')).toBeUndefined();
  });
});

/** A log with fields set on top. */
function put(log: Log, fields: Readonly<Record<string, FieldValue>>, device = 'dev0'): Log {
  const counter = nextCounter(log);
  const event = { id: `${device}-${counter}`, device, counter, at_ms: 0, what: settingOver(log, fields) };
  return joined(log, logOf([event]));
}

describe('the pad and the fields', () => {
  test.each([
    ['1', '5', '15'],
    ['15', '.', '15.'],
    ['15,2', '.', '15,2'],
    ['15.2', '.', '15.2'],
    ['15', '⌫', '1'],
    ['', '⌫', ''],
  ])('%s and %s make %s', (text, key, made) => {
    expect(padded(text, key)).toBe(made);
  });
  it('an emptied field is gone, a long text is cut', () => {
    let log = put(logOf([]), keptDraft({ key: 1, texts: { bore: '15' } }));
    log = put(log, keptField(1, 'bore', ''));
    expect(trayFrom(sumOf(log)).drafts).toEqual([{ key: 1, texts: {} }]);
    log = put(log, keptField(1, 'label', 'x'.repeat(99)));
    expect(trayFrom(sumOf(log)).drafts[0]!.texts.label).toHaveLength(60);
  });
});

describe('what is kept', () => {
  const full = tray(
    [
      { key: 1, kind: 'nut', texts: { thread: 'M15x1', outside: 'tw' } },
      { key: 2, texts: { length: '5,5' } },
    ],
    { unit: 'in', accuracy: '0,02', wear: false },
  );
  it('comes back as it was, bad texts too', () => {
    expect(trayFrom(sumOf(put(logOf([]), keptTray(full))))).toEqual(full);
  });
  test.each([[null], [''], ['{'], ['[]'], ['{"version":3,"drafts":[{}]}'], ['{"version":1,"drafts":"x"}'], ['7']])(
    'is an empty tray where %s was kept',
    (text) => {
      expect(readTray(text)).toEqual(EMPTY_TRAY);
    },
  );
  it('what was kept under the old key of the accuracy is taken over', () => {
    const old = JSON.stringify({ version: 1, drafts: [{ texts: { bore: '15' } }], doubt: '0.02', wear: false });
    const tray = readTray(old);
    expect(settingOf(tray)).toEqual({ ...settingOf(EMPTY_TRAY), accuracy_mm: 0.02, wear: false });
    expect(trayFrom(sumOf(put(logOf([]), keptTray(tray))))).toEqual(tray);
  });
  it('loses no part that one hand takes off while another measures it, and shows both', () => {
    const begun = put(logOf([]), keptTray(full));
    const off = put(begun, takenOff(sumOf(begun), [1]), 'dev0');
    expect(trayFrom(sumOf(off)).drafts.map(({ key }) => key)).toEqual([2]);
    const both = joined(off, put(begun, keptField(1, 'outside', '21'), 'dev1'));
    expect(trayFrom(sumOf(both)).drafts[0]).toEqual({ key: 1, texts: { outside: '21' } });
    expect(clashOf(sumOf(both), 1, 'outside')).toEqual([undefined, '21']);
  });
  it('keeps what is sound of a damaged tray', () => {
    const text = JSON.stringify({
      version: 1,
      drafts: [
        null,
        { kind: 'wheel', texts: { length: 5, bore: '15', other: 'x' } },
        { kind: 'spacer', texts: { label: 'y'.repeat(999) } },
      ],
      unit: 'ell',
      doubt: 5,
      wear: 'no',
    });
    expect(readTray(text)).toMatchObject({
      unit: 'mm',
      accuracy: '0.05',
      wear: true,
      drafts: [
        { key: 1, texts: { bore: '15' } },
        { key: 2, kind: 'spacer' },
      ],
    });
    expect(readTray(text).drafts[1]!.texts.label).toHaveLength(60);
  });
  test.each([
    ['0,02', 0.02],
    ['0.1', 0.1],
    ['', 0.05],
    ['much', 0.05],
    ['9', 0.05],
  ])('an accuracy of “%s” counts as %f', (accuracy, value) => {
    expect(settingOf(tray([], { accuracy })).accuracy_mm).toBe(value);
  });
  it('a table becomes drafts that say the same again', () => {
    const result = readReadings(
      'label;kind;outside mm;bore mm;length in;thread;turns in 10 mm;socket;alike\nA;tapered spacer;27;slides on main-axle;0,25;;;;2\nB;axle;;;;M12x1;10;hex 6;',
    );
    if (!result.ok) throw new Error('fixture');
    for (const unit of ['mm', 'in'] as const) {
      const again = result.readings.map((reading, k) => understand(draftOf(reading, k + 1, unit), unit).reading!);
      again.forEach((reading, k) => {
        const { length_mm, outside_mm, thread_mm, ...rest } = result.readings[k]!;
        expect(reading).toMatchObject(rest);
        if (length_mm !== undefined) expect(reading.length_mm).toBeCloseTo(length_mm, 3);
        if (outside_mm !== undefined) expect(reading.outside_mm).toBeCloseTo(outside_mm, 3);
        if (thread_mm !== undefined) expect(reading.thread_mm).toBeCloseTo(thread_mm, 3);
      });
    }
    expect(FIELDS.length).toBe(13);
  });
});

describe('the address', () => {
  it('holds the place, and an unknown one is the bench', () => {
    for (const place of PLACES)
      expect(readRoute(writeRoute({ ...readRoute(''), model: 'skarn-140', place })).place).toBe(place);
    expect(readRoute('#model=skarn-140&place=moon').place).toBeUndefined();
  });
  it('goes there and back; the picture must draw again', () => {
    const bench = {
      ...firstState(USUAL_SETTINGS, 'ok'),
      opened: { analysis: analyse(SKARN), text: '', source: { kind: 'bundled', id: 'skarn-140' } as const, count: 1 },
      isOpening: false,
      planned: { is: 'failed', message: '' } as const,
      drawn: 1,
    };
    const there = { ...bench, ...goToPlace(bench, 'tray') };
    expect(routeOf(there)).toMatchObject({ model: 'skarn-140', place: 'tray' });
    expect(isReady({ ...there, drawn: 0 })).toBe(true);
    const back = { ...there, ...show(there, routeOf(bench)) };
    expect(back.place).toBeUndefined();
    expect(isReady(back)).toBe(false);
    expect(goToPlace(bench, undefined)).toEqual({});
  });
});

describe('drawings', () => {
  const parts = [
    ...MODELS.flatMap((model) => Object.values(model.parts)),
    ...PART_KINDS.map((kind) => kindOf({ kind }).sample),
  ];
  const number = (svg: string, name: string): number => Number(new RegExp(`${name}="([\\d.]+)`).exec(svg)![1]);
  it('are at the scale they say, for every part', () => {
    for (const part of parts) {
      const { from_mm, to_mm, radius_mm } = partExtent(part);
      const svg = svgOf(drawPart({ part, scale: 3 }));
      // One mm of edge all round.
      expect(number(svg, 'width')).toBeCloseTo(3 * (to_mm - Math.min(0, from_mm) + 2), 0);
      expect(number(svg, 'height')).toBeCloseTo(3 * 2 * (radius_mm + 1), 0);
      expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    }
  });
  it('show the silhouette: as long and as wide as the profile', () => {
    for (const part of parts) {
      const upper = silhouette(part);
      const { from_mm, to_mm, radius_mm } = partExtent(part);
      expect(Math.max(...upper.map(([r]) => r))).toBeCloseTo(radius_mm, 3);
      expect(upper[0]![1]).toBeCloseTo(from_mm, 6);
      expect(upper.at(-1)![1]).toBeCloseTo(to_mm, 6);
      expect(partProfile(part).solids.length).toBeGreaterThan(0);
    }
  });
  it('line up on their face, with the look-alike and the difference between the two', () => {
    const [short, long] = [SKARN.parts['rocker-cone-short']!, SKARN.parts['rocker-cone-long']!];
    const [from_mm, to_mm] = [short, long].map((part) => partExtent(part).to_mm) as [number, number];
    const svg = svgOf(drawPart({ part: short, ghost: long, telling: 'length_mm', lead_mm: 4, scale: 1 }));
    expect(svg).toContain('viewBox="-5 ');
    const band = /class="part-telling" x="([\d.-]+)" y="[\d.-]+" width="([\d.]+)"/.exec(svg)!;
    expect(Number(band[1])).toBeCloseTo(from_mm, 6);
    expect(Number(band[2])).toBeCloseTo(to_mm - from_mm, 6);
    expect(to_mm - from_mm).toBeGreaterThan(1);
    expect(svg).toContain('part-ghost');
  });
  it('draw what lies on the tray: the match, a standard bearing, a stranger by its sizes', () => {
    const readings = [
      { kind: 'tapered-spacer', length_mm: CONE.length_mm, outside_mm: CONE.large_mm, count: 1 },
      { kind: 'bearing', bore_mm: 17, outside_mm: 30, length_mm: 7, count: 1 },
      { kind: 'spacer', outside_mm: 40, length_mm: 3.3, count: 1 },
      { kind: 'spacer', outside_mm: 40, count: 1 },
    ] as const;
    const { rows, ...rest } = sortTray(SKARN, { readings, setting: DEFAULT_SETTING });
    const drawn = rows.map((row) => drawnPart(row, { rows, ...rest }));
    expect(drawn.map((part) => part?.kind)).toEqual(['tapered-spacer', 'bearing', 'spacer', undefined]);
    expect(rows.map(standingOf)).toEqual(['sure', 'sure', 'nothing', 'nothing']);
  });
});

describe('the mat', () => {
  test.each(MODELS.map((model) => [model.id, model] as const))(
    '%s: every part of the build has its outline, at 1:1',
    (_, model) => {
      const analysis = analyse(model);
      const rows = matRows(analysis);
      expect(rows.flatMap(({ cells }) => cells).length).toBe(listed(model).reduce((sum, { used }) => sum + used, 0));
      for (const { id, drawing, words, name } of rows.flatMap(({ cells }) => cells)) {
        const svg = svgOf(drawing);
        const part =
          model.parts[
            analysis.pivots
              .flatMap(({ stacks }) => stacks.flatMap(({ items }) => items))
              .find((item) => item.id === id)!.part!
          ]!;
        const { from_mm, to_mm, radius_mm } = partExtent(part);
        expect(svg).toMatch(/width="[\d.]+mm" height="[\d.]+mm"/);
        const box = /viewBox="([\d. -]+)" width="([\d.]+)mm" height="([\d.]+)mm"/.exec(svg)!;
        const [, , boxWidth, boxHeight] = box[1]!.split(' ').map(Number);
        expect(boxWidth).toBeCloseTo(Number(box[2]), 2);
        expect(boxHeight).toBeCloseTo(Number(box[3]), 2);
        if (!('shank' in part))
          expect(Number(/class="mat-line" cx="[\d.]+" cy="[\d.]+" r="([\d.]+)"/.exec(svg)![1])).toBeCloseTo(
            radius_mm,
            2,
          );
        expect(drawing.width_mm).toBeGreaterThan(to_mm - from_mm);
        expect(`${name}${words}`).not.toMatch(/undefined|NaN/);
      }
    },
  );
  it('has a bar of 100 mm to check the printer', () => {
    expect(svgOf(scaleBar())).toContain('width="102mm"');
    expect(svgOf(scaleBar())).toContain('M1 7L101 7');
  });
});

describe('what is asked for next', () => {
  const skarn = demoModels().find(({ id }) => id === 'skarn-140')!;
  const sortOne = (draft: Draft) => sortDrafts(skarn, { ...EMPTY_TRAY, drafts: [draft] });

  test('is the size that settles most about the part in the hand, and nothing once it is found', () => {
    const begun: Draft = { key: 1, kind: 'tapered-spacer', texts: {} };
    // Both tapered spacers of this bike have the same faces and differ in their length alone.
    expect(askedField(sortOne(begun), begun)).toBe('length');
    const found: Draft = { ...begun, texts: { length: '6,5' } };
    expect(askedField(sortOne(found), found)).toBeUndefined();
    expect(askedField(sortOne({ key: 1, texts: {} }), { key: 1, texts: {} })).toBeUndefined();
  });

  test('a kind alone is no measurement', () => {
    expect(isMeasured({ key: 1, kind: 'bearing', texts: { count: '2', label: 'left' } })).toBe(false);
    expect(isMeasured({ key: 1, texts: { bore: '15' } })).toBe(true);
  });
});
