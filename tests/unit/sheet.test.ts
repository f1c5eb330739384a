// The sheets as files: what a reader takes out of the PDF is what the model says, on paper of its size, the same bytes
// each time; and the text says the same.
import { inflateSync } from 'node:zlib';
import { extractText, getDocumentProxy, getResolvedPDFJS } from 'unpdf';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  CAUTIONS,
  emptyJob,
  jobView,
  OWNER_LINES,
  SHEET_WORDS,
  stripOf,
  torqueList,
  wordTask,
  wordWay,
  type Plan,
} from '../../shared/index.ts';
import { pdf } from '../../src/drawings/pdf.ts';
import { hatchLines } from '../../src/drawings/hatch.ts';
import type { Drawing, Look, Point, Shape } from '../../src/drawings/shapes.ts';
import { svg } from '../../src/drawings/svg.ts';
import { wallChart } from '../../src/sheet/chart.ts';
import { jobSheet } from '../../src/sheet/jobSheet.ts';
import { asOne, pagesOf, wrapped } from '../../src/sheet/pages.ts';
import { sheetText } from '../../src/sheet/text.ts';
import { demoModels } from '../bench/models.ts';
import { parseXml } from './section-reading.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

/** All white room is one space: where lines break is the composer's own. */
const plain = (text: string): string => text.replace(/\s+/g, ' ');

async function read(bytes: Uint8Array) {
  // The reader takes its bytes away.
  const document = await getDocumentProxy(bytes.slice());
  const { text } = await extractText(document, { mergePages: false });
  const sizes = await Promise.all(
    Array.from({ length: document.numPages }, async (_, k) => (await document.getPage(k + 1)).view.map(Math.round)),
  );
  const page = await document.getPage(1);
  const tree = await page.getStructTree();
  const { info } = await document.getMetadata();
  return { pages: text.map(plain), all: plain(text.join(' ')), sizes, tree, info };
}

const model = demoModels().find(({ id }) => id === 'fjordside-150')!;
let plan: Plan;
let pages: readonly Drawing[];
let bytes: Uint8Array;
let job: Awaited<ReturnType<typeof read>>;
beforeAll(async () => {
  plan = plannedOnce(analysed(model));
  pages = pagesOf(jobSheet(plan));
  bytes = await pdf(pages, { title: 'Sheet' });
  job = await read(bytes);
});

describe('the job sheet as a PDF', () => {
  test('is A4 throughout, and numbers its pages', () => {
    expect(job.sizes.length).toBe(pages.length);
    expect(job.sizes.length).toBeGreaterThan(3);
    for (const size of job.sizes) expect(size).toEqual([0, 0, 595, 842]);
    job.pages.forEach((text, k) => expect(text).toContain(`${k + 1} of ${pages.length}`));
  });

  test('has every task and every torque, in the order of the plan', () => {
    let at = 0;
    for (const { id } of plan.tasks) {
      const name = wordTask(id, plan.analysis);
      const next = job.all.indexOf(name, at);
      expect(next, name).toBeGreaterThanOrEqual(at);
      at = next + 1;
    }
    for (const row of torqueList(plan))
      expect(job.all).toContain(`${row.place}. ${row.stackName}, ${row.torque['N·m']} N·m`);
  });

  test('says of every loose part which way it goes', () => {
    const loose = plan.analysis.pivots.flatMap(({ stacks }) =>
      stacks.flatMap(({ items }) => items.filter(({ role }) => role === 'spacer')),
    );
    expect(loose.filter(({ smallFace }) => smallFace !== undefined).length).toBeGreaterThan(5);
    for (const item of loose) expect(job.all).toContain(`: ${wordWay(item)}`);
  });

  test('ends with the cautions, room to sign, and the half page for the owner', () => {
    for (const words of [CAUTIONS.carbon, CAUTIONS.torque, CAUTIONS.after, 'Work done by', ...OWNER_LINES])
      expect(job.all).toContain(words);
    expect(job.pages.at(-1)).toContain(OWNER_LINES.at(-1));
    for (const page of job.pages) expect(page).toContain('have the last word');
  });

  test('carries its language, its title, and a tree in the order it is read', () => {
    expect(job.info).toMatchObject({ Title: 'Sheet', Language: 'en-GB' });
    const tags = (node: unknown): string[] => {
      const { role, children = [] } = node as { role?: string; children?: unknown[] };
      return [...(role === undefined ? [] : [role]), ...children.flatMap(tags)];
    };
    const found = tags(job.tree);
    expect(found.filter((role) => role === 'H1')).toHaveLength(1);
    expect(found.indexOf('H1')).toBeLessThan(found.indexOf('H2'));
    expect(found).toEqual(expect.arrayContaining(['L', 'LI', 'Table', 'TR', 'TH', 'TD']));
  });

  test('is the same bytes each time', async () => {
    expect(await pdf(pagesOf(jobSheet(plan)), { title: 'Sheet' })).toEqual(bytes);
  });
});

test('no page draws over its margins, and no two lines of words lie on one another', () => {
  for (const page of pages) {
    const lines = wordsIn(page.shapes);
    for (const { x, y, text } of lines) {
      expect(x, text).toBeGreaterThanOrEqual(9);
      expect(x, text).toBeLessThanOrEqual(page.width_mm - 9);
      expect(y, text).toBeGreaterThanOrEqual(14);
      expect(y, text).toBeLessThanOrEqual(page.height_mm - 8);
    }
    const places = lines.filter(({ text }) => text !== '').map(({ x, y }) => `${x.toFixed(2)} ${y.toFixed(2)}`);
    expect(new Set(places).size).toBe(places.length);
  }
});

function wordsIn(shapes: readonly Shape[], x = 0, y = 0): { x: number; y: number; text: string }[] {
  return shapes.flatMap((shape) => {
    if (shape.kind === 'text') return [{ x: x + shape.at[0], y: y + shape.at[1], text: shape.text }];
    if (shape.kind === 'group') return wordsIn(shape.shapes, x + (shape.at?.[0] ?? 0), y + (shape.at?.[1] ?? 0));
    return [];
  });
}

test('the text and the SVG say what the pages say', () => {
  const text = sheetText(jobSheet(plan));
  const drawn = parseXml(svg(asOne(pages)));
  expect(drawn.name).toBe('svg');
  for (const row of torqueList(plan))
    expect(text).toContain(`${row.place}. ${row.stackName}, ${row.torque['N·m']} N·m`);
  const said = plain(
    wordsIn(pages.flatMap(({ shapes }) => shapes))
      .map(({ text: word }) => word)
      .join(' '),
  );
  for (const words of OWNER_LINES) {
    expect(plain(text)).toContain(words);
    expect(said).toContain(words);
  }
});

test('a job’s sheet says what was found, fitted, reached and signed, and what is open', () => {
  const bearing = plan.analysis.pivots[0]!.stacks[0]!.items.find(({ role }) => role === 'bearing')!;
  const [first] = torqueList(plan);
  const pull = plan.steps.find(({ kind, stackId }) => kind === 'torque' && stackId === first!.stackId)!;
  const job = {
    ...emptyJob({ model: model.id, key: plan.analysis.key }),
    frame: 'FJ 0099',
    remarks: 'Paint chipped.',
    parts: { [bearing.id]: { condition: ['notchy' as const], renewed: 'full complement', for_now: 'seals on order' } },
    seats: { [bearing.id]: { measured: { across_mm: 28.02, other_way_mm: 27.95 } } },
    wrenches: { blue: { name: 'Blue', least_Nm: 5, most_Nm: 25, calibrated: '2026-09-01' } },
    axles: { [first!.stackId]: { reached_Nm: 13.5, set_Nm: 14, wrench: 'blue' } },
    signs: { [pull.id]: { by: 'cd', at_ms: 1 } },
  };
  const bike = { plan, strip: stripOf(plan), silent: { torques: [first!.stackId], facings: [] } };
  const text = sheetText(jobSheet(plan, { job, view: jobView(bike, job, 0), time: String }));
  for (const words of [
    'FJ 0099',
    'Remarks: Paint chipped.',
    'notchy',
    'Renewed: full complement',
    '13.5 N·m',
    'Initials: cd',
    '28.02 and 27.95 mm',
    `Blue, 5 to 25 N·m, calibrated 2026-09-01: ${first!.stackName}`,
  ])
    expect(text).toContain(words);
  expect(text).toMatch(/Still open\n(.*\n)*.*Seals on order/i);
  expect(text).toMatch(/To come back for: .*seals on order/);
});

describe('pictures', () => {
  // Every line, outline and hatch that was drawn is taken out of the file again, with its ink, in its place.
  test('of the job sheet and of the wall chart stand in the file as they were drawn', async () => {
    for (const drawings of [pages, wallChart(plan)]) {
      const taken = await painted(await pdf(drawings, { title: 'Pictures' }));
      const drawn = drawings.map((page) => strokesOf(page.shapes));
      expect(drawn.flat().length).toBeGreaterThan(200);
      expect(taken.map(({ length }) => length)).toEqual(drawn.map(({ length }) => length));
      drawn.forEach((page, k) => {
        const wrong = page.flatMap((want, j) => whyNot(want, taken[k]![j]!));
        expect(wrong.slice(0, 5), `page ${k + 1}`).toEqual([]);
      });
    }
  });

  test('are missed where one is left out, moved by a tenth of a mm, or inked otherwise', async () => {
    const [page] = wallChart(plan);
    const [taken] = await painted(await pdf([page!], { title: 'Pictures' }));
    const drawn = strokesOf(page!.shapes);
    const at = drawn.findIndex(({ corners, ink }) => corners.length > 20 && ink.stroke !== undefined);
    const { corners, ink } = drawn[at]!;
    expect(whyNot({ corners: corners.map(([x, y]) => [x + 0.1, y] as const), ink }, taken![at]!)).not.toEqual([]);
    expect(whyNot({ corners, ink: { ...ink, stroke: '#123456' } }, taken![at]!)).not.toEqual([]);
    expect(whyNot(drawn[at + 1]!, taken![at]!)).not.toEqual([]);
  });
});

interface Stroke {
  readonly corners: readonly (readonly [number, number])[];
  readonly ink: { readonly fill?: string; readonly stroke?: string };
}

/** What is painted of shapes, in order, in mm of the page. */
function strokesOf(shapes: readonly Shape[], x = 0, y = 0): Stroke[] {
  const moved = (corners: readonly Point[], look: Look): Stroke[] => {
    const ink = {
      ...(look.fill !== undefined && look.fill !== 'none' && { fill: look.fill.toLowerCase() }),
      ...(look.stroke !== undefined && look.stroke !== 'none' && { stroke: look.stroke.toLowerCase() }),
    };
    const isSeen = corners.length > 0 && Object.keys(ink).length > 0;
    return isSeen ? [{ corners: corners.map((at) => [x + at[0], y + at[1]] as const), ink }] : [];
  };
  return shapes.flatMap((shape): Stroke[] => {
    switch (shape.kind) {
      case 'group':
        return strokesOf(shape.shapes, x + (shape.at?.[0] ?? 0), y + (shape.at?.[1] ?? 0));
      case 'path':
        return moved(
          shape.runs.flatMap((run) => run.map((corner) => ('to' in corner ? corner.to : corner))),
          shape,
        );
      case 'rect':
        return moved(
          shape.radius
            ? []
            : [
                [shape.x, shape.y],
                [shape.x + shape.width, shape.y + shape.height],
              ],
          shape,
        );
      case 'circle':
        return moved([[shape.middle[0] + shape.radius, shape.middle[1]]], shape);
      case 'hatch':
        return moved(shape.polygons.flatMap((polygon) => hatchLines(polygon, shape)).flat() as Point[], shape);
      case 'text':
        return [];
    }
  });
}

/** Why a stroke of the file is not the one that was drawn. */
function whyNot({ corners, ink }: Stroke, taken: Stroke): string[] {
  let next = 0;
  for (const [x, y] of corners) {
    while (next < taken.corners.length && Math.hypot(taken.corners[next]![0] - x, taken.corners[next]![1] - y) > 0.02)
      next += 1;
    if (next === taken.corners.length) return [`no corner at ${x.toFixed(2)}, ${y.toFixed(2)}`];
  }
  return (['fill', 'stroke'] as const).flatMap((what) =>
    ink[what] === taken.ink[what] ? [] : [`${what} ${taken.ink[what]} for ${ink[what]}`],
  );
}

/** What a file paints, page by page in order, in mm from the page's upper left. */
async function painted(bytes: Uint8Array): Promise<Stroke[][]> {
  const { OPS } = await getResolvedPDFJS();
  const document = await getDocumentProxy(bytes.slice());
  return Promise.all(
    Array.from({ length: document.numPages }, async (_, k) => {
      const page = await document.getPage(k + 1);
      const { fnArray, argsArray } = await page.getOperatorList();
      let [scale, left, top] = [25.4 / 72, 0, 0];
      let ink: { fill?: string; stroke?: string } = {};
      const kept: (readonly [number, number, number])[] = [];
      return fnArray.flatMap((what, j): Stroke[] => {
        const args = argsArray[j];
        if (what === OPS.save) kept.push([scale, left, top]);
        else if (what === OPS.restore) [scale, left, top] = kept.pop()!;
        else if (what === OPS.transform) {
          const [a, , , d, x, y] = args as number[];
          // The one that turns the page upside down is the writer's first, and that of type.
          if (d! > 0) [left, top] = [left + x! * scale, top + y! * scale];
          scale *= a!;
        } else if (what === OPS.setFillRGBColor) ink = { ...ink, fill: hex(args) };
        else if (what === OPS.setStrokeRGBColor) ink = { ...ink, stroke: hex(args) };
        else if (what === OPS.constructPath) {
          const [how, [data]] = args as [number, [Float32Array]];
          if (how === OPS.endPath) return [];
          const isFilled = how !== OPS.stroke && how !== OPS.closeStroke;
          const isDrawn = how !== OPS.fill && how !== OPS.eoFill;
          return [
            {
              corners: cornersOf(data).map(([x, y]) => [left + x * scale, top + y * scale] as const),
              ink: { ...(isFilled && { fill: ink.fill! }), ...(isDrawn && { stroke: ink.stroke! }) },
            },
          ];
        }
        return [];
      });
    }),
  );
}

const hex = (args: unknown): string =>
  typeof args === 'string' || (Array.isArray(args) && typeof args[0] === 'string')
    ? String(Array.isArray(args) ? args[0] : args)
    : `#${[...(args as Uint8ClampedArray)].map((part) => part.toString(16).padStart(2, '0')).join('')}`;

/** Ends of the lines and curves of a path as the reader gives it: a number for the kind, then its places. */
function cornersOf(data: Float32Array): [number, number][] {
  const places = [2, 2, 6, 0];
  const found: [number, number][] = [];
  for (let k = 0; k < data.length; k += 1 + places[data[k]!]!) {
    const many = places[data[k]!]!;
    if (many > 0) found.push([data[k + many - 1]!, data[k + many]!]);
  }
  return found;
}

test('letters: Latin, Greek and Cyrillic stand in the file; of any other the file says so and can be searched', async () => {
  const job = {
    ...emptyJob({ model: model.id, key: plan.analysis.key }),
    reference: 'Šárka Łuczak',
    frame: 'Ωμέγα 7',
    initials: 'Юрій',
    remarks: '自転車 no. 5',
  };
  const bike = { plan, strip: stripOf(plan), silent: { torques: [], facings: [] } };
  const sheet = pagesOf(jobSheet(plan, { job, view: jobView(bike, job, 0), time: String }));
  const { all, pages: texts } = await read(await pdf(sheet, { title: 'Sheet' }));
  for (const name of [job.reference, job.frame, job.initials]) expect(all).toContain(name);
  expect(all).toContain('Remarks: [?] no. 5');
  const told = texts.filter((text) => text.includes(SHEET_WORDS.lacking));
  expect(told).toEqual([expect.stringContaining('[?] no. 5')]);
  const whole = unpacked(await pdf(sheet, { title: 'Sheet' }));
  expect(whole.some((stream) => stream.includes(Buffer.from('自転車', 'utf16le').swap16()))).toBe(true);
});

/** The streams of a file, unpacked. */
function unpacked(bytes: Uint8Array): Buffer[] {
  const file = Buffer.from(bytes);
  const found: Buffer[] = [];
  for (let at = file.indexOf('>>\nstream\n'); at >= 0; at = file.indexOf('>>\nstream\n', at + 1))
    if (file.subarray(0, at).lastIndexOf('/FlateDecode') > file.subarray(0, at).lastIndexOf(' obj'))
      found.push(inflateSync(file.subarray(at + 10, file.indexOf('\nendstream', at))));
  return found;
}

test('a word longer than its column is cut, not set over the next', () => {
  expect(wrapped('x'.repeat(60), 3, 30, false).length).toBeGreaterThan(2);
  expect(wrapped('x'.repeat(60), 3, 30, false).join('')).toBe('x'.repeat(60));
});

test('more rows than one paper holds go on a second, each section as large as on the first', () => {
  const pulls = plan.steps.filter(({ kind }) => kind === 'torque');
  const many = { ...plan, steps: [...plan.steps, ...pulls, ...pulls] };
  const papers = wallChart(many);
  expect(papers.length).toBe(3);
  const all = papers.map(({ shapes }) => wordsIn(shapes).map(({ text }) => text));
  for (const row of torqueList(many))
    expect(all.filter((said) => said.includes(row.stackName)).length).toBeGreaterThan(0);
  papers.forEach(({ shapes, width_mm, height_mm }, k) => {
    expect(all[k]!.some((text) => text.endsWith(`${k + 1} of 3`))).toBe(true);
    for (const { corners } of strokesOf(shapes).slice(1))
      for (const [x, y] of corners) {
        expect(x).toBeLessThanOrEqual(width_mm);
        expect(y).toBeLessThanOrEqual(height_mm);
      }
  });
});

test('the wall chart is one A3 across with every row, its torque, its side and its number', async () => {
  const { sizes, all } = await read(await pdf(wallChart(plan), { title: 'Chart' }));
  expect(sizes).toEqual([[0, 0, 1191, 842]]);
  for (const { stackName, torque, stackId } of torqueList(plan)) {
    const stack = plan.analysis.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId)!;
    expect(all).toContain(stackName);
    expect(all).toContain(`${torque['N·m']} N·m`);
    expect(all).toContain(`in from the ${stack.from === 'drive' ? 'drive side' : 'non-drive side'}`);
  }
  expect(all).toContain('Compared with the frame maker’s instructions by');
});
