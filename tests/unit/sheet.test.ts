// The sheets as files: what a reader takes out of the PDF is what the model says, on paper of its size, the same bytes
// each time; and the text says the same.
import { extractText, getDocumentProxy } from 'unpdf';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  analyse,
  CAUTIONS,
  emptyJob,
  jobView,
  OWNER_LINES,
  planOf,
  stripOf,
  torqueList,
  wordTask,
  wordWay,
  type Plan,
} from '../../shared/index.ts';
import { pdf } from '../../src/drawings/pdf.ts';
import type { Drawing, Shape } from '../../src/drawings/shapes.ts';
import { svg } from '../../src/drawings/svg.ts';
import { wallChart } from '../../src/sheet/chart.ts';
import { jobSheet } from '../../src/sheet/jobSheet.ts';
import { asOne, pagesOf } from '../../src/sheet/pages.ts';
import { sheetText } from '../../src/sheet/text.ts';
import { demoModels } from '../bench/models.ts';
import { parseXml } from './section-reading.ts';

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
  plan = planOf(analyse(model));
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
    axles: { [first!.stackId]: { reached_Nm: 13.5, set_Nm: 14 } },
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
  ])
    expect(text).toContain(words);
  expect(text).toMatch(/Still open\n(.*\n)*.*Seals on order/i);
  expect(text).toMatch(/To come back for: .*seals on order/);
});

test('the wall chart is one A3 across with every row, its torque, its side and its number', async () => {
  const chart = wallChart(plan);
  const { sizes, all } = await read(await pdf([chart], { title: 'Chart' }));
  expect(sizes).toEqual([[0, 0, 1191, 842]]);
  for (const { stackName, torque, stackId } of torqueList(plan)) {
    const stack = plan.analysis.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId)!;
    expect(all).toContain(stackName);
    expect(all).toContain(`${torque['N·m']} N·m`);
    expect(all).toContain(`in from the ${stack.from === 'drive' ? 'drive side' : 'non-drive side'}`);
  }
  expect(all).toContain('Compared with the frame maker’s instructions by');
});
