/**
 * What the picture costs: the built app in the browser of the tests, at the window sizes named in the rows.
 *
 * The app is built anew first. First picture: the first frame of the picture has been drawn and the row stands, from
 * the start of a cold load from a server on the same machine. JavaScript before it: every script the page had asked for
 * until then, each gzipped as a web server would, the open model's own file among them. Counts are the renderer's, over
 * a whole frame with the shadow's pass. Only what is built from the analysis is timed outside the browser.
 */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { CDPSession, Page } from 'playwright-core';
import { analyse, type Analysis } from '../../shared/index.ts';
import { lineGeometry, toPaintedGeometry } from '../../src/scene/geometry.ts';
import { FACETS, itemLines, paintItems } from '../../src/scene/item.ts';
import { memberSurface } from '../../src/scene/members.ts';
import { anchorsOf, itemsOf, rubbingPairs } from '../../src/scene/placement.ts';
import { closeAll, openApp, waitReady, type OpenedApp, type Opening } from '../browser/harness.ts';
import { rendererOf } from '../browser/pictures.ts';
import { frameCost, goTo, settled, type FrameCost } from '../browser/picture-view.ts';
import { demoModels } from './models.ts';
import type { TheRow, FigureRow } from './row.ts';

const top = fileURLToPath(new URL('../..', import.meta.url));
const ROUNDS = 50;
/** After so many rounds every cache that is meant to fill has filled. */
const WARM_ROUNDS = 5;
const COLD_LOADS = 5;
const RUN_s = 4;
const REST_s = 2;

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
const kB = (bytes: number): string => `${(bytes / 1000).toFixed(0)} kB`;
const MB = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

async function withApp<T>(opening: Opening, look: (app: OpenedApp) => Promise<T>): Promise<T> {
  const app = await openApp({ ...opening, isPainted: true });
  try {
    await waitReady(app.page);
    return await look(app);
  } finally {
    await app.close();
  }
}

/** Build time of everything that is drawn of a model's parts and members with every pivot opened, ms; no drawing. */
function sceneTime(analysis: Analysis): number {
  const rubs = rubbingPairs(analysis);
  const build = (): void => {
    const anchors = anchorsOf(analysis.model);
    for (const [id, member] of Object.entries(analysis.model.members)) memberSurface(member, anchors[id] ?? {});
    for (const pivot of analysis.pivots) {
      for (const item of itemsOf(pivot)) {
        const material = item.member === undefined ? undefined : analysis.model.members[item.member]?.material;
        toPaintedGeometry(paintItems([item], { facets: FACETS.open, rubs, hasBands: true }, () => material)).dispose();
        lineGeometry(itemLines(item, FACETS.open)).dispose();
      }
    }
  };
  build();
  return median(
    Array.from({ length: 5 }, () => {
      const from = performance.now();
      build();
      return performance.now() - from;
    }),
  );
}

/** Scripts in the built folder, gzipped, by file name; bytes. */
function scripts(): ReadonlyMap<string, number> {
  const folder = join(top, 'dist', 'assets');
  return new Map(
    readdirSync(folder)
      .filter((name) => name.endsWith('.js'))
      .map((name) => [name, gzipSync(readFileSync(join(folder, name))).length]),
  );
}

async function firstPicture(model: string): Promise<{ readonly time_ms: number; readonly loaded: readonly string[] }> {
  const loads: number[] = [];
  let loaded: string[] = [];
  for (let k = 0; k < COLD_LOADS; k += 1) {
    const app = await openApp({ width: 1280, height: 720, stillness: true, isPainted: true, path: `#model=${model}` });
    loads.push(
      await app.page.evaluate<number>(
        'new Promise((done) => { const look = () => (document.documentElement.dataset.ready === "true" ? done(performance.now()) : requestAnimationFrame(look)); look(); })',
      ),
    );
    loaded = await app.page.evaluate<string[]>(
      'performance.getEntriesByType("resource").map(({ name }) => new URL(name).pathname.split("/").at(-1)).filter((name) => name.endsWith(".js"))',
    );
    await app.close();
  }
  return { time_ms: median(loads), loaded };
}

/** The dearest frame of each of the models' views: the whole bike, and its pivots fully apart. */
async function dearest(page: Page, analyses: readonly Analysis[]): Promise<FigureRow[]> {
  const rows: FigureRow[] = [];
  for (const { model } of analyses) {
    const costs: { readonly name: string; readonly cost: FrameCost }[] = [];
    await goTo(page, `#model=${model.id}`);
    const bike = await frameCost(page);
    for (const pivot of model.pivots) {
      await goTo(page, `#model=${model.id}&pivot=${pivot.id}&apart=1`);
      costs.push({ name: pivot.name, cost: await frameCost(page) });
    }
    const most = (of: (cost: FrameCost) => number): { readonly name: string; readonly cost: FrameCost } =>
      costs.reduce((a, b) => (of(b.cost) > of(a.cost) ? b : a));
    const [calls, triangles] = [most((cost) => cost.calls), most((cost) => cost.triangles)];
    rows.push(
      {
        what: `${model.id}, whole bike`,
        figure: `${bike.calls} draw calls, ${bike.triangles} triangles`,
        goal: '≤ 120, ≤ 400000',
      },
      { what: `${model.id}, a pivot apart: ${calls.name}`, figure: `${calls.cost.calls} draw calls`, goal: '≤ 120' },
      {
        what: `${model.id}, a pivot apart: ${triangles.name}`,
        figure: `${triangles.cost.triangles} triangles`,
        goal: '≤ 400000',
      },
    );
  }
  return rows;
}

interface Kept {
  readonly heap_bytes: number;
  readonly geometries: number;
  readonly textures: number;
}

/**
 * Bytes that a page's objects hold, garbage collected. Compiled code is left out: the engine makes more of it, and
 * better, for as long as anything is run, and a page has no hand in it.
 */
async function heldBytes(session: CDPSession): Promise<number> {
  const chunks: string[] = [];
  const add = ({ chunk }: { readonly chunk: string }): void => void chunks.push(chunk);
  for (let k = 0; k < 3; k += 1) await session.send('HeapProfiler.collectGarbage');
  session.on('HeapProfiler.addHeapSnapshotChunk', add);
  await session.send('HeapProfiler.takeHeapSnapshot', { reportProgress: false });
  session.off('HeapProfiler.addHeapSnapshotChunk', add);
  const { snapshot, nodes } = JSON.parse(chunks.join('')) as HeapSnapshot;
  const { node_fields: fields, node_types: types } = snapshot.meta;
  const [type, size] = [fields.indexOf('type'), fields.indexOf('self_size')];
  let bytes = 0;
  for (let at = 0; at < nodes.length; at += fields.length)
    if (types[0][nodes[at + type]!] !== 'code') bytes += nodes[at + size]!;
  return bytes;
}

/** The part of Chromium's heap snapshot that is read here: nodes as rows of numbers, one for each field. */
interface HeapSnapshot {
  readonly snapshot: {
    readonly meta: {
      readonly node_fields: readonly string[];
      readonly node_types: readonly [readonly string[], ...unknown[]];
    };
  };
  readonly nodes: readonly number[];
}

/** What is held after so many rounds through all models, each opened with a pivot apart and left again. */
async function memory(analyses: readonly Analysis[]): Promise<readonly [warm: Kept, end: Kept]> {
  return withApp({ width: 480, height: 320, stillness: true }, async ({ page, context }) => {
    const session = await context.newCDPSession(page);
    const stops = JSON.stringify(
      analyses.map(({ model }) => ({
        hash: `#model=${model.id}&pivot=${model.pivots[0]!.id}&apart=1`,
        name: model.name,
      })),
    );
    const open = async (rounds: number): Promise<Kept> => {
      // One script for all rounds: each would leave something of its own behind.
      await page.evaluate(`(async () => {
        for (let round = 0; round < ${rounds}; round += 1) {
          for (const { hash, name } of ${stops}) {
            await new Promise((done) => {
              location.hash = hash;
              const look = () => (document.title.includes(name) && document.documentElement.dataset.ready === 'true' && document.querySelector('.scene')?.dataset.moving === 'false' ? done() : requestAnimationFrame(look));
              requestAnimationFrame(() => requestAnimationFrame(look));
            });
          }
        }
      })()`);
      await settled(page);
      const { geometries, textures } = await frameCost(page);
      return { heap_bytes: await heldBytes(session), geometries, textures };
    };
    return [await open(WARM_ROUNDS), await open(ROUNDS - WARM_ROUNDS)];
  });
}

/** Frames a second while a hand pulls a pivot apart and together, and frames in a while of rest. */
async function frames(model: string, pivot: string): Promise<FigureRow[]> {
  return withApp({ width: 1280, height: 720, path: `#model=${model}&pivot=${pivot}&apart=1` }, async ({ page }) => {
    await settled(page);
    const idle = (await frameCost(page)).frames;
    await page.waitForTimeout(1000 * REST_s);
    const rested = (await frameCost(page)).frames - idle;
    const moved = await page.evaluate<number>(`new Promise((done) => {
      const input = document.querySelector('.apart input[type="range"]');
      const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
      const frames = () => Number(document.querySelector('.scene').dataset.frames);
      const [from, begun] = [frames(), performance.now()];
      const pull = (now) => {
        const time_s = (now - begun) / 1000;
        if (time_s > ${RUN_s}) return done((frames() - from) / time_s);
        set.call(input, 0.5 + 0.5 * Math.cos(time_s * 2));
        input.dispatchEvent(new Event('input', { bubbles: true }));
        requestAnimationFrame(pull);
      };
      requestAnimationFrame(pull);
    })`);
    const box = (await page.locator('.scene').boundingBox())!;
    return [
      {
        what: `a hand pulls a pivot apart, ${RUN_s} s, window 1280 × 720, picture ${box.width.toFixed(0)} × ${box.height.toFixed(0)}, drawn by ${await rendererOf(page)}`,
        figure: `${moved.toFixed(1)} frames/s`,
      },
      { what: `frames in ${REST_s} s of rest`, figure: String(rested), goal: '0' },
    ];
  });
}

/** A task that takes this long holds up a hand, ms. */
const STALL_ms = 50;

interface TraceEvent {
  readonly ph: string;
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  /** Processor time of the thread, µs. */
  readonly tdur?: number;
  readonly args: { readonly name?: string };
}

/**
 * Tasks of the page's own thread while something is done, ms each: what they take of the processor, so that a busy
 * machine, and a renderer that draws beside the page, change nothing.
 */
async function tasksOf({ page, context }: OpenedApp, act: () => Promise<void>): Promise<readonly number[]> {
  const browser = context.browser()!;
  await browser.startTracing(page, { categories: ['toplevel', 'devtools.timeline'] });
  await act();
  await settled(page);
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] };
  const threads = new Set(
    traceEvents.flatMap(({ name, args, pid, tid }) =>
      name === 'thread_name' && args.name === 'CrRendererMain' ? [`${pid} ${tid}`] : [],
    ),
  );
  return traceEvents.flatMap(({ ph, name, pid, tid, tdur = 0 }) =>
    ph === 'X' && name === 'ThreadControllerImpl::RunTask' && threads.has(`${pid} ${tid}`) ? [tdur / 1000] : [],
  );
}

/** What holds up a hand that goes from pivot to pivot, pulls one apart and steps, the first time and once more. */
async function stalls(model: string, pivots: readonly string[]): Promise<FigureRow[]> {
  return withApp({ width: 1024, height: 768, path: `#model=${model}` }, async (app) => {
    const { page } = app;
    await settled(page);
    const to = (hash: string): Promise<void> =>
      page.evaluate((next) => {
        window.location.hash = next;
      }, hash);
    const row = async (what: string, act: () => Promise<void>): Promise<FigureRow> => {
      const tasks = await tasksOf(app, act);
      const long = tasks.filter((time_ms) => time_ms > STALL_ms).length;
      return {
        what: `${what}: tasks of the page, processor time`,
        figure: `${tasks.length}, the longest ${Math.max(0, ...tasks).toFixed(0)} ms, ${long} over ${STALL_ms} ms`,
        goal: `none over ${STALL_ms} ms`,
      };
    };
    const rows: FigureRow[] = [];
    for (const time of ['first', 'again']) {
      rows.push(
        await row(`${model}, from pivot to pivot, ${time}`, async () => {
          for (const pivot of pivots) {
            await to(`#model=${model}&pivot=${pivot}&apart=1`);
            await settled(page);
          }
        }),
        await row(`${model}, pulled apart and together, ${time}`, () =>
          page.evaluate<void>(`new Promise((done) => {
            const input = document.querySelector('.apart input[type="range"]');
            const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
            let turn = 0;
            const pull = () => {
              if (turn > 60) return done();
              set.call(input, 0.5 + 0.5 * Math.cos(turn++ / 5));
              input.dispatchEvent(new Event('input', { bubbles: true }));
              requestAnimationFrame(pull);
            };
            pull();
          })`),
        ),
        await row(`${model}, twelve steps, ${time}`, async () => {
          for (let step = 0; step < 12; step += 1) {
            await page.getByRole('button', { name: 'Next', exact: true }).click();
            await settled(page);
          }
        }),
      );
    }
    return rows;
  });
}

/** The rows: times of ours, and figures of the built app. */
export async function benchPicture(): Promise<{
  readonly times: readonly TheRow[];
  readonly figures: readonly FigureRow[];
}> {
  const built = spawnSync(
    process.execPath,
    [join(top, 'node_modules/vite/bin/vite.js'), 'build', '--logLevel', 'warn'],
    { cwd: top, stdio: 'inherit' },
  );
  if (built.status !== 0) throw new Error('bench picture: the app did not build');
  const analyses = demoModels().map((model) => analyse(model));
  const largest = analyses.reduce((most, analysis) =>
    analysis.pivots.flatMap(itemsOf).length > most.pivots.flatMap(itemsOf).length ? analysis : most,
  );
  const { id } = largest.model;
  try {
    const first = await firstPicture(id);
    const sizes = scripts();
    const before = first.loaded.reduce((sum, name) => sum + (sizes.get(name) ?? 0), 0);
    const all = [...sizes.values()].reduce((sum, size) => sum + size, 0);
    const counts = await withApp({ width: 1024, height: 768, stillness: true }, ({ page }) => dearest(page, analyses));
    const run = await frames(id, largest.model.pivots[0]!.id);
    const held = await stalls(
      id,
      largest.model.pivots.map((pivot) => pivot.id),
    );
    const [warm, end] = await memory(analyses);
    return {
      times: [
        ...analyses.map((analysis) => ({
          what: `${analysis.model.id}: every part and member built from its analysis, all pivots opened, no drawing`,
          ours_ms: sceneTime(analysis),
        })),
        {
          what: `${id}: first picture of the built app, cold, median of ${COLD_LOADS} loads at 1280 × 720`,
          ours_ms: first.time_ms,
        },
      ],
      figures: [
        {
          what: 'JavaScript before the first picture, gzip',
          figure: `${kB(before)} in ${first.loaded.length} files`,
          goal: '≤ 450 kB',
        },
        { what: 'JavaScript loaded later, when asked for, gzip', figure: kB(all - before) },
        ...counts,
        ...run,
        ...held,
        {
          what: `JavaScript objects held after ${WARM_ROUNDS} and ${ROUNDS} rounds through all models, compiled code left out`,
          figure: `${MB(warm.heap_bytes)}, ${MB(end.heap_bytes)}: ${kB((end.heap_bytes - warm.heap_bytes) / ((ROUNDS - WARM_ROUNDS) * analyses.length))} an opening`,
          goal: 'no growth',
        },
        { what: 'geometries held then', figure: `${warm.geometries}, ${end.geometries}`, goal: 'no growth' },
        { what: 'textures held then', figure: `${warm.textures}, ${end.textures}`, goal: 'no growth' },
      ],
    };
  } finally {
    await closeAll();
  }
}
