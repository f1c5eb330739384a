// The section drawing read back: well-formed, whole, its names clear of one another, its marks right.
import { describe, expect, it } from 'vitest';
import { LONG, someOf } from '../setup/series.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { readModel, type Analysis, type Finding, type StackAnalysis } from '../../shared/index.ts';
import { FACING } from '../../src/look.ts';
import type { SectionTheme } from '../../src/drawings/colours.ts';
import { drawSection } from '../../src/drawings/section.ts';
import type { SectionOptions } from '../../src/drawings/sheet.ts';
import { svg as svgOf } from '../../src/drawings/svg.ts';
import { fixtureAnalysis, fixtureStack } from './section-fixture.ts';
import {
  doCross,
  findAll,
  hasClass,
  leaders,
  nameBoxes,
  parseXml,
  pointsOf,
  segments,
  type Element,
} from './section-reading.ts';

const WIDTHS = [390, 700, 1024, 1920] as const;
const THEMES: readonly SectionTheme[] = ['dark', 'light', 'print'];

function draw(
  stack: StackAnalysis,
  options: Partial<SectionOptions> = {},
  findings: readonly Finding[] = [],
): { svg: string; root: Element } {
  const svg = svgOf(drawSection(stack, fixtureAnalysis(stack, findings), { theme: 'light', ...options }));
  return { svg, root: parseXml(svg) };
}

function itemGroups(root: Element): ReadonlyMap<string, Element> {
  return new Map(
    findAll(root, (element) => hasClass(element, 'aws-item')).map(
      (element) => [element.attributes['data-item']!, element] as const,
    ),
  );
}

/** Type that can be read from a step away, and nothing beyond the drawing's ends. */
function expectReadable(root: Element, what: string): void {
  const width = Number(root.attributes['width']);
  for (const text of findAll(root, (element) => element.name === 'text')) {
    expect(Number(text.attributes['font-size']), `${what}: ${text.text}`).toBeGreaterThanOrEqual(14);
    expect(text.text, what).not.toMatch(/…$/);
  }
  for (const part of findAll(root, (element) => hasClass(element, 'aws-o'))) {
    for (const [x, y] of pointsOf(part.attributes['d']!)) {
      expect(x, what).toBeGreaterThanOrEqual(0);
      expect(x, what).toBeLessThanOrEqual(width);
      expect(y, what).toBeGreaterThanOrEqual(0);
    }
  }
}

function texts(root: Element): readonly string[] {
  return findAll(root, (element) => element.name === 'text').map((element) => element.text);
}

describe('section: one drawing', () => {
  it('is the stored drawing', async () => {
    const { svg } = draw(fixtureStack(), { width_px: 1024, heading: true });
    // One element a line, so that a change shows where it is.
    await expect(`${svg.replaceAll('><', '>\n<')}\n`).toMatchFileSnapshot('section-fixture.svg');
  });

  it('is the same text for the same input', () => {
    expect(draw(fixtureStack(), { apart: 0.37 }).svg).toBe(draw(fixtureStack(), { apart: 0.37 }).svg);
  });

  it.each(THEMES)('is well-formed and free of NaN in theme %s at every width and apart-ness', (theme) => {
    for (const width_px of WIDTHS) {
      for (const apart of [0, 0.25, 1]) {
        const { svg, root } = draw(fixtureStack(), { theme, width_px, apart });
        expect(root.name).toBe('svg');
        expect(root.attributes['viewBox']).toBe(`0 0 ${width_px} ${root.attributes['height']}`);
        expect(svg).not.toMatch(/NaN|Infinity|undefined/);
      }
    }
  });

  it('escapes names that would break it', () => {
    const name = 'Boss "A" <b>&amp; \u0007 ünï 前';
    const { root } = draw(fixtureStack({ frameName: name }), { width_px: 1400 });
    const title = itemGroups(root)
      .get('rocker-axle/frame')!
      .children.find((child) => child.name === 'title')!;
    expect(title.text).toContain('Boss "A" <b>&amp;  ünï 前');
    expect(findAll(root, (element) => element.name === 'b')).toHaveLength(0);
  });

  it('says in words what it shows', () => {
    const { root } = draw(fixtureStack({ gap_mm: 0.4 }));
    const desc = root.children.find((child) => child.name === 'desc')!.text;
    expect(root.attributes['role']).toBe('img');
    expect(desc).toContain('The axle goes in from the non-drive side.');
    expect(desc).toContain('clockwise, seen from the non-drive side');
    expect(desc).toMatch(/broken between Tapered spacer.* and Bearing.*: a gap of 0\.40 mm/);
  });

  it('keeps to a height by shrinking the parts, and uses the height it is given', () => {
    const heightOf = (options: Partial<SectionOptions>) =>
      Number(draw(fixtureStack(), options).root.attributes['height']);
    const free = heightOf({ width_px: 1024 });
    for (const height_px of [free - 60, 330, 280, 262]) {
      expect(heightOf({ width_px: 1024, height_px })).toBeLessThanOrEqual(height_px);
      expect(heightOf({ width_px: 1024, height_px })).toBeGreaterThan(height_px - 30);
    }
    // More room makes the parts larger until they fill the width.
    const widest = heightOf({ width_px: 1024, height_px: 4000 });
    expect(widest).toBeGreaterThan(free);
    expect(heightOf({ width_px: 1024, height_px: 8000 })).toBe(widest);
  });

  it('gives up names for numbers, then the lower half, then all but the column; type and room are kept to', () => {
    const formAt = (width_px: number, height_px: number): string => {
      const { root } = draw(fixtureStack(), { width_px, height_px, apart: width_px === 700 ? 1 : 0 });
      const what = `${width_px} by ${height_px}`;
      expect(Number(root.attributes['height']), what).toBeLessThanOrEqual(height_px);
      expectReadable(root, what);
      return root.attributes['data-form']!;
    };
    expect([600, 292, 175, 110, 90].map((height_px) => formAt(1024, height_px))).toEqual([
      'whole names',
      'whole numbers',
      'whole none',
      'half none',
      'none none',
    ]);
    for (const width_px of [320, 390, 500, 700, 760, 1450])
      for (let height_px = 90; height_px < 700; height_px += LONG ? 45 : 250) formAt(width_px, height_px);
    expect(formAt(390, 340)).toMatch(/whole/);
    expect(formAt(390, 560)).toBe('whole numbers');
  });

  it('has of a half section only what lies over the axis', () => {
    const { root } = draw(fixtureStack(), { width_px: 1024, height_px: 110 });
    const clip = findAll(root, (element) => element.name === 'clipPath')[0]!.children[0]!;
    const axis = findAll(root, (element) => hasClass(element, 'aws-axis'))[0]!;
    const axis_px = pointsOf(axis.attributes['d']!)[0]![1];
    expect(Number(clip.attributes['y']) + Number(clip.attributes['height'])).toBeCloseTo(axis_px, 1);
    expect(axis_px).toBeGreaterThan(34);
    expect(itemGroups(root).size).toBe(fixtureStack().items.length);
  });

  it('stands in line with the picture above, in its scale and where it has the parts, while all of it fits', () => {
    const stack = fixtureStack();
    const offsets_mm = Object.fromEntries(stack.items.map(({ id }, k) => [id, 14 * (k - 4)]));
    const at = (line: { zero_px: number; px_per_mm: number }, height_px = 300) =>
      draw(stack, { width_px: 1024, height_px, line, offsets_mm }).root;
    for (const line of [
      { zero_px: 490.25, px_per_mm: 2.5 },
      { zero_px: 560, px_per_mm: 3.1 },
    ]) {
      const root = at(line);
      expect(root.attributes['data-form']).toMatch(/in-line$/);
      for (const item of stack.items) {
        const shape = findAll(itemGroups(root).get(item.id)!, (element) => hasClass(element, 'aws-o'))[0]!;
        const xs = pointsOf(shape.attributes['d']!).map(([x]) => x);
        const from_mm = Math.min(...item.solids[0]!.polygon.map(([, z]) => z));
        const left_px = line.zero_px + line.px_per_mm * (from_mm + offsets_mm[item.id]!);
        expect(Math.min(...xs), item.id).toBeCloseTo(left_px, 1);
      }
      expectReadable(root, JSON.stringify(line));
    }
    // Nearer, or shifted to the edge, it would be cut: it stands by itself then.
    for (const line of [
      { zero_px: 490, px_per_mm: 9 },
      { zero_px: 30, px_per_mm: 2.5 },
    ])
      expect(at(line).attributes['data-form']).not.toMatch(/in-line/);
  });

  it('holds one scale along and across the axis', () => {
    const { root } = draw(fixtureStack(), { width_px: 1024 });
    const boss = itemGroups(root).get('rocker-axle/frame')!;
    const shape = findAll(boss, (element) => hasClass(element, 'aws-o'))[0]!;
    const points = pointsOf(shape.attributes['d']!);
    const span = (k: 0 | 1) =>
      Math.max(...points.map((point) => point[k])) - Math.min(...points.map((point) => point[k]));
    // The frame boss is 40 mm long and 32 mm across.
    expect(span(0) / 40).toBeCloseTo(span(1) / 32, 2);
  });
});

describe('section: every part', () => {
  const ids = fixtureStack().items.map((item) => item.id);

  it('appears once as a group with its name, and once as a place to touch', () => {
    const { root } = draw(fixtureStack());
    expect([...itemGroups(root).keys()].sort()).toEqual([...ids].sort());
    for (const [, group] of itemGroups(root)) expect(group.children[0]!.name).toBe('title');
    const hits = findAll(root, (element) => hasClass(element, 'aws-hit'));
    expect(hits.map((hit) => hit.attributes['data-item']!).sort()).toEqual([...ids].sort());
    for (const hit of hits) expect(Number(hit.attributes['height'])).toBeGreaterThanOrEqual(44);
  });

  it('stands farther apart with apart-ness, in axle order', () => {
    const middles = (apart: number) => {
      const { root } = draw(fixtureStack(), { apart });
      return new Map(
        findAll(root, (element) => hasClass(element, 'aws-hit')).map(
          (hit) =>
            [
              hit.attributes['data-item']!,
              [Number(hit.attributes['x']), Number(hit.attributes['x']) + Number(hit.attributes['width'])] as const,
            ] as const,
        ),
      );
    };
    const open = middles(1);
    const order = ids.map((id) => open.get(id)!);
    order.slice(1).forEach(([left], k) => expect(left).toBeGreaterThan(order[k]![1] - 0.5));
  });

  it('is a dashed ghost until a step has it on, or is left out on request', () => {
    const stack = fixtureStack();
    const places = Object.fromEntries(ids.map((id) => [id, { offset_mm: 0, on: !id.endsWith('spacer-drive') }]));
    const { root } = draw(stack, { places });
    const ghost = itemGroups(root).get('rocker-axle/spacer-drive')!;
    expect(hasClass(ghost, 'is-ghost')).toBe(true);
    const shape = findAll(ghost, (element) => element.name === 'path')[0]!;
    expect(shape.attributes['stroke-dasharray']).toBeDefined();
    expect(shape.attributes['fill']).toBe('none');
    expect(itemGroups(draw(stack, { places, ghosts: false }).root).has('rocker-axle/spacer-drive')).toBe(false);
  });

  it('wears its state as a class and an outline', () => {
    const id = 'rocker-axle/spacer-drive';
    const finding: Finding = {
      code: 'outer-ring-touched',
      severity: 'stop',
      pivot: 'rocker',
      parts: [id],
      numbers: {},
    };
    const { root, svg } = draw(
      fixtureStack(),
      { selectedId: id, litId: 'rocker-axle/frame', activeIds: ['rocker-axle/axle'] },
      [finding],
    );
    const groups = itemGroups(root);
    expect(hasClass(groups.get(id)!, 'is-troubled')).toBe(true);
    expect(hasClass(groups.get(id)!, 'is-selected')).toBe(true);
    expect(hasClass(groups.get('rocker-axle/frame')!, 'is-lit')).toBe(true);
    expect(hasClass(groups.get('rocker-axle/axle')!, 'is-active')).toBe(true);
    expect(svg).toContain('#D55E00');
    expect(draw(fixtureStack(), {}, [{ ...finding, severity: 'warn' }]).svg).not.toContain('is-troubled');
  });
});

describe('section: facing', () => {
  // The tip of each chevron is the middle one of its three points.
  const pointing = (root: Element, id: string): number => {
    const mark = findAll(
      root,
      (element) => hasClass(element, 'aws-mark') && element.attributes['data-item'] === id,
    )[0]!;
    const line = findAll(mark, (element) => element.name === 'path').at(-1)!;
    const [start, tip] = pointsOf(line.attributes['d']!);
    return Math.sign(tip![0] - start![0]);
  };
  const hueOf = (root: Element, id: string) =>
    findAll(
      findAll(root, (element) => hasClass(element, 'aws-mark') && element.attributes['data-item'] === id)[0]!,
      (element) => element.name === 'path',
    ).at(-1)!.attributes['stroke'];

  it.each([false, true])('marks and hues point to the small face (turned: %s)', (turned) => {
    const stack = fixtureStack({ turned });
    const { root } = draw(stack, { theme: 'dark' });
    for (const rowId of ['spacer-non-drive', 'spacer-drive']) {
      const item = stack.items.find((each) => each.rowId === rowId)!;
      const toDrive = item.smallFace === 'drive';
      expect(pointing(root, item.id)).toBe(toDrive ? 1 : -1);
      expect(hueOf(root, item.id)).toBe(toDrive ? FACING.drive : FACING['non-drive']);
      expect(itemGroups(root).get(item.id)!.attributes['data-facing']).toBe(item.smallFace);
      // The profile drawn agrees: the smaller half height is where the mark points.
      const shape = pointsOf(
        findAll(itemGroups(root).get(item.id)!, (element) => hasClass(element, 'aws-o'))[0]!.attributes['d']!,
      ).slice(0, 4);
      const top = (side: 1 | -1) => {
        const end = Math.max(...shape.map(([x]) => side * x));
        return Math.min(...shape.filter(([x]) => Math.abs(side * x - end) < 0.1).map(([, y]) => y));
      };
      expect(Math.sign(top(1) - top(-1))).toBe(toDrive ? 1 : -1);
    }
  });
});

describe('section: ends', () => {
  it('has the non-drive side left and the drive side right', () => {
    const { root } = draw(fixtureStack());
    const at = (text: string) =>
      Number(findAll(root, (element) => element.name === 'text' && element.text === text)[0]!.attributes['x']);
    expect(at('NON-DRIVE SIDE')).toBeLessThan(at('DRIVE SIDE'));
  });

  it.each(['non-drive', 'drive'] as const)('points the axle in from the %s side', (from) => {
    const { root } = draw({ ...fixtureStack(), from });
    const arrow = findAll(root, (element) => hasClass(element, 'aws-insert'))[0]!;
    const [tip, wing] = pointsOf(arrow.children[1]!.attributes['d']!);
    const hits = findAll(root, (element) => hasClass(element, 'aws-hit'));
    const left = Math.min(...hits.map((hit) => Number(hit.attributes['x'])));
    if (from === 'non-drive') {
      expect(tip![0]).toBeGreaterThan(wing![0]);
      expect(tip![0]).toBeLessThan(left + 1);
    } else {
      expect(tip![0]).toBeLessThan(wing![0]);
      expect(tip![0]).toBeGreaterThan(left + 1);
    }
  });

  it.each(['clockwise', 'anticlockwise'] as const)('draws the turn %s as the mechanic sees it', (turn) => {
    const stack = fixtureStack();
    const { root } = draw({ ...stack, tightening: { ...stack.tightening, turn } });
    const arrow = findAll(root, (element) => hasClass(element, 'aws-turn'))[0]!;
    // SVG draws an arc with sweep 1 clockwise on the screen.
    const sweep = /A[\d.]+ [\d.]+ 0 1 ([01])/.exec(arrow.children[0]!.attributes['d']!)![1];
    expect(sweep).toBe(turn === 'clockwise' ? '1' : '0');
    const [tip, a, b] = pointsOf(arrow.children[1]!.attributes['d']!);
    const [cx, cy] = [Number(arrow.children[2]!.attributes['cx']), Number(arrow.children[2]!.attributes['cy'])];
    const base = [(a![0] + b![0]) / 2 - cx, (a![1] + b![1]) / 2 - cy] as const;
    // Screen y runs down, so a positive cross product is a clockwise step.
    const cross = base[0] * (tip![1] - cy) - base[1] * (tip![0] - cx);
    expect(Math.sign(cross)).toBe(turn === 'clockwise' ? 1 : -1);
  });
});

describe('section: clamp column', () => {
  const pieceHeights = (root: Element) =>
    findAll(root, (element) => element.attributes['data-piece'] !== undefined).map((piece) => {
      const ys = pointsOf(piece.children[0]!.attributes['d']!).map(([, y]) => y);
      return Math.max(...ys) - Math.min(...ys);
    });

  it('runs unbroken from head to receiver and names its force', () => {
    const { root, svg } = draw(fixtureStack());
    expect(findAll(root, (element) => element.attributes['data-piece'] !== undefined)).toHaveLength(7);
    expect(texts(root)).toContain('7.6 kN');
    expect(svg).not.toContain('gap 0');
    expect(
      findAll(findAll(root, (element) => hasClass(element, 'aws-column'))[0]!, (element) => element.name === 'circle'),
    ).toHaveLength(0);
  });

  it('shows a break with its gap, once, where it is', () => {
    const { root } = draw(fixtureStack({ gap_mm: 0.4 }));
    const column = findAll(root, (element) => hasClass(element, 'aws-column'))[0]!;
    const label = findAll(column, (element) => element.text === 'gap 0.40 mm');
    expect(label).toHaveLength(1);
    const badge = findAll(column, (element) => element.name === 'circle')[0]!;
    const spacer = findAll(
      root,
      (element) => hasClass(element, 'aws-hit') && element.attributes['data-item'] === 'rocker-axle/bearing-drive',
    )[0]!;
    expect(Number(badge.attributes['cx'])).toBeCloseTo(Number(spacer.attributes['x']), -1);
    expect(texts(root).filter((text) => text.includes('kN'))).toHaveLength(0);
  });

  it('is as thick as the force', () => {
    const stack = fixtureStack();
    const column = stack.column.map((link, k) => ({ ...link, force_N: k < 3 ? 7600 : 3800 }));
    const heights = pieceHeights(draw({ ...stack, column }).root);
    expect(heights[1]).toBeCloseTo(16, 1);
    expect(heights[5]).toBeCloseTo(8, 1);
  });

  it('is an outline without figures when nothing is tight yet', () => {
    const stack = fixtureStack();
    const places = Object.fromEntries(
      stack.items.map((item) => [item.id, { offset_mm: item.rowId === 'receiver' ? 6 : 0, on: true }]),
    );
    for (const options of [{ places }, { forces: false }]) {
      const { root } = draw(stack, options);
      expect(texts(root)).toContain('Clamp column, not tight');
      expect(texts(root).some((text) => text.includes('kN'))).toBe(false);
    }
  });
});

/** Names clear of one another and of the parts, leaders clear of other names and of one another. */
function expectClearNames(root: Element, what: string): void {
  const boxes = nameBoxes(root);
  const lines = leaders(root);
  const width = Number(root.attributes['width']);
  boxes.forEach((box, k) => {
    expect(box.left, what).toBeGreaterThanOrEqual(0);
    expect(box.right, what).toBeLessThanOrEqual(width);
    for (const other of boxes.slice(k + 1)) {
      const isClear =
        box.right <= other.left ||
        other.right <= box.left ||
        box.bottom <= other.top + 0.5 ||
        other.bottom <= box.top + 0.5;
      expect(isClear, `${what}: ${box.id} over ${other.id}`).toBe(true);
    }
  });
  lines.forEach((line, k) => {
    boxes.forEach((box, j) => {
      if (j === k) return;
      for (const [[x0, y0], [x1, y1]] of segments(line)) {
        const isClear =
          Math.max(x0, x1) <= box.left ||
          Math.min(x0, x1) >= box.right ||
          Math.max(y0, y1) <= box.top ||
          Math.min(y0, y1) >= box.bottom;
        expect(isClear, `${what}: leader ${k} through ${box.id}`).toBe(true);
      }
    });
    for (const other of lines.slice(k + 1)) {
      for (const own of segments(line))
        for (const theirs of segments(other)) expect(doCross(own, theirs), `${what}: leaders cross`).toBe(false);
    }
  });
  const tops = findAll(root, (element) => hasClass(element, 'aws-hit')).map((hit) => Number(hit.attributes['y']));
  for (const box of boxes)
    expect(box.bottom, `${what}: ${box.id} over the parts`).toBeLessThanOrEqual(Math.max(...tops));
}

describe('section: names', () => {
  it.each(WIDTHS)('are clear of one another at %i px', (width_px) => {
    for (const apart of [0, 0.3, 1])
      expectClearNames(draw(fixtureStack(), { width_px, apart }).root, `fixture at ${apart}`);
  });

  it('are numbers with a list where the drawing is narrow, left to right', () => {
    const { root } = draw(fixtureStack(), { width_px: 390 });
    const list = findAll(root, (element) => hasClass(element, 'aws-list'));
    expect(list).toHaveLength(fixtureStack().items.length);
    const boxes = nameBoxes(root);
    expect(boxes.map((box) => box.id)).toEqual(list.map((entry) => entry.attributes['data-item']));
    expect([...boxes].sort((a, b) => a.left + a.right - b.left - b.right)).toEqual(boxes);
    expect(
      findAll(draw(fixtureStack(), { width_px: 1024 }).root, (element) => hasClass(element, 'aws-list')),
    ).toHaveLength(0);
    expect(
      findAll(draw(fixtureStack(), { width_px: 1024, names: false }).root, (element) => hasClass(element, 'aws-list')),
    ).not.toHaveLength(0);
  });
});

const MODELS = new URL('../../models/', import.meta.url);

function demoStacks(): { name: string; analysis: Analysis; stack: StackAnalysis }[] {
  if (!existsSync(MODELS)) return [];
  return readdirSync(MODELS)
    .filter((file) => file.endsWith('.json') && !file.endsWith('.schema.json'))
    .sort()
    .flatMap((file) => {
      const reading = readModel(readFileSync(new URL(file, MODELS), 'utf8'));
      if (!reading.ok) throw new Error(`${file} does not read`);
      const analysis = analysed(reading.model);
      return analysis.pivots.flatMap((pivot) =>
        pivot.stacks.map((stack) => ({ name: `${file} ${stack.id}`, analysis, stack })),
      );
    });
}

describe('section: demo stacks', () => {
  const stacks = demoStacks();

  it('are there', () => {
    expect(stacks.length).toBeGreaterThan(0);
  });

  it.each(stacks)('$name draws clear at every width, apart-ness and step', ({ name, analysis, stack }) => {
    for (const width_px of WIDTHS) {
      // A step is no harder on a wide screen than on a tablet's.
      const steps =
        width_px === 1024
          ? someOf(
              plannedOnce(analysis).steps.filter(({ stackId }) => stackId === stack.id),
              7,
            ).map((step) => ({ places: step.places, activeIds: step.items }))
          : [];
      const pictures: Partial<SectionOptions>[] = [
        { apart: 0 },
        ...(LONG ? [{ apart: 0.5 }] : []),
        { apart: 1 },
        ...steps,
      ];
      for (const options of pictures) {
        const root = parseXml(svgOf(drawSection(stack, analysis, { theme: 'dark', width_px, ...options })));
        expect(itemGroups(root).size).toBe(stack.items.length);
        expectClearNames(root, `${name} at ${width_px} px, ${JSON.stringify(options).slice(0, 40)}`);
      }
    }
  });
});
