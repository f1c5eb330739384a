/**
 * Opening models: those that come with Axlewright, and files of the user's own.
 *
 * A bundled model's text is loaded when it is wanted, its name is known beforehand. A file of the user's own is kept on
 * this device under the id of its model, before it is shown; one with the same id and other content is kept on top of
 * the earlier one, which can be brought back. Only one opening counts: the last one asked for. Nothing leaves the
 * machine.
 */
import {
  analyse,
  harmless,
  LARGEST_FILE,
  looksLikeEnvelope,
  readModel,
  spotsOf,
  type LinkageModel,
  type Problem,
} from '../../shared/index.ts';
import { entriesOf, openThing, recallOld, useKeep, type Thing } from './keep.ts';
import { readRoute, type Route } from './route.ts';

import type { Source } from './state.ts';
import { act, useApp } from './store.ts';

const texts = import.meta.glob<string>('../../models/*.json', { query: '?raw', import: 'default' });
const names = import.meta.glob<string>('../../models/*.json', { import: 'name', eager: true });

/** Id and name of every bundled model, by id. */
export const BUNDLED: readonly { readonly id: string; readonly name: string }[] = Object.entries(names)
  .map(([path, name]) => ({ id: idOf(path), name }))
  .sort((a, b) => a.id.localeCompare(b.id));

/** The bundled model shown when nothing else is asked for. */
const FIRST_MODEL = BUNDLED.find((model) => model.id === 'skarn-140')?.id ?? BUNDLED[0]?.id;

/** Where the first versions kept the last file, for the tab alone. */
const OLD_FILE = 'axlewright.file';
const NOTHING: Route = readRoute('');
let asked = 0;

/** Open what a route asks for: its bundled model, the kept file, or else the first model. */
export async function openRoute(route: Route): Promise<void> {
  if (route.file !== undefined) {
    const turn = ++asked;
    const kept = await keptModel(route.file);
    if (turn !== asked) return;
    const reading = kept && readModel(kept.text);
    if (kept && reading?.ok === true && reading.model.id === route.file)
      return openText(kept.text, { kind: 'file', name: kept.name }, route);
    await openBundled(FIRST_MODEL, NOTHING);
    return act.failed({ kind: 'not-here', name: route.file }, route);
  }
  const isKnown = BUNDLED.some((model) => model.id === route.model);
  await openBundled(isKnown ? route.model : FIRST_MODEL, isKnown || route.model === undefined ? route : NOTHING);
  if (!isKnown && route.model !== undefined) act.failed({ kind: 'not-here', name: route.model }, route);
}

/** Open a bundled model by its id. */
export async function openBundled(id: string | undefined, route: Route = NOTHING): Promise<void> {
  const load = Object.entries(texts).find(([path]) => idOf(path) === id)?.[1];
  if (id === undefined || !load) return;
  const turn = ++asked;
  act.opening();
  let text: string;
  try {
    text = await load();
  } catch {
    if (turn === asked) act.failed({ kind: 'not-sent', name: id, again: () => void openBundled(id, route) });
    return;
  }
  if (turn === asked) await openText(text, { kind: 'bundled', id }, route);
}

/** Whatever is being opened does not come any more. */
export function dropOpening(): void {
  asked += 1;
}

/** Open a file that the user picked or dropped. */
export async function openFile(file: File): Promise<void> {
  const turn = ++asked;
  // No character takes more than four bytes: a larger file need not be read to know that it is too large.
  if (file.size > 4 * LARGEST_FILE) {
    return refuse(file, {
      code: 'too-large',
      met: `${file.size} bytes`,
      allowed: `at most ${LARGEST_FILE} characters`,
    });
  }
  act.opening();
  try {
    const text = await file.text();
    if (turn !== asked) return;
    if (looksLikeDraft(text)) return act.gotDraft({ name: harmless(file.name), text });
    if (looksLikeEnvelope(text)) return act.gotFile({ name: harmless(file.name), text });
    await openText(text, { kind: 'file', name: harmless(file.name) }, NOTHING, () => void openFile(file));
  } catch {
    // Browsers give a file only as it was when it was picked.
    refuse(file, {
      code: 'not-json',
      met: 'a file that has changed or gone since it was picked',
      allowed: 'a file as it was picked: open it again',
    });
  }
}

/** The smallest model that comes with Axlewright, as a file to begin one's own from. */
export async function sampleFile(): Promise<{ readonly name: string; readonly text: string }> {
  const all = await Promise.all(
    Object.entries(texts).map(async ([path, load]) => ({ name: `${idOf(path)}.json`, text: await load() })),
  );
  return all.reduce((least, each) => (each.text.length < least.text.length ? each : least));
}

/** Whether a file means to be a draft: what reads it comes with the place that works it. */
function looksLikeDraft(text: string): boolean {
  return looksLikeEnvelope(text) && /"kind"\s*:\s*"draft"/.test(text.slice(0, 400));
}

function refuse(file: File, problem: Omit<Problem, 'path'>): void {
  act.failed({
    kind: 'file',
    name: harmless(file.name),
    problems: [{ path: '(the whole file)', ...problem }],
    more: 0,
  });
}

/** Open the model again as another of its variants, or as it is; what is shown stays. */
export async function openVariant(variant: string | undefined, route: Route): Promise<void> {
  const { opened } = useApp.getState();
  if (!opened) return;
  const { variant: _, ...rest } = route;
  await openText(opened.text, opened.source, { ...rest, ...(variant === undefined ? {} : { variant }) });
}

/** Open a model's text as what it comes from. */
export async function openText(
  text: string,
  source: Source,
  route: Route = NOTHING,
  again?: () => void,
): Promise<void> {
  const turn = ++asked;
  act.opening();
  await painted();
  if (turn !== asked) return;
  const name = source.kind === 'file' ? source.name : source.id;
  try {
    const reading = readModel(text);
    if (!reading.ok) {
      const { problems, more } = reading;
      const spots = problems[0]?.code === 'not-json' ? [] : spotsOf(text, problems);
      return act.failed({ kind: 'file', name, problems, more, spots, ...(again ? { again } : {}) });
    }
    const variant = reading.model.variants?.find((candidate) => candidate.id === route.variant)?.id;
    const analysis = analyse(reading.model, variant === undefined ? {} : { variant });
    if (source.kind === 'file') await keepModel(reading.model, source.name, text);
    if (turn !== asked) return;
    // What was asked for and not there has come: it opens where the address said.
    const { missing } = useApp.getState();
    const isMissing = source.kind === 'file' && missing?.route.file === reading.model.id && route === NOTHING;
    act.opened({ analysis, text, source, count: turn }, isMissing ? missing.route : route);
  } catch (error) {
    act.failed({ kind: 'program', name, message: error instanceof Error ? error.message : String(error) });
  }
}

/** Lets the browser draw the word 'opening' before the computing holds it up. */
function painted(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 30));
}

/** Open a model of the user's own that is kept here. */
export function openKept(id: string): Promise<void> {
  return openRoute({ ...NOTHING, file: id });
}

/** Name of the thing that a model of the user's own is, before its id. */
const MODEL_THING = 'model/';

async function keepModel(model: LinkageModel, file: string, text: string): Promise<void> {
  const thing = await openThing(MODEL_THING + model.id);
  const before = thing.sum.fields.get('text');
  if (before === text) return;
  await thing.set({ text, file, name: model.name });
  if (typeof before === 'string') useKeep.setState({ replaced: model.name });
}

async function keptModel(id: string): Promise<{ readonly name: string; readonly text: string } | undefined> {
  const thing = await openThing(MODEL_THING + id);
  return fileOf(thing) ?? (await oldFile(thing, id));
}

function fileOf({ sum }: Thing): { readonly name: string; readonly text: string } | undefined {
  const [name, text] = [sum.fields.get('file'), sum.fields.get('text')];
  return typeof name === 'string' && typeof text === 'string' ? { name, text } : undefined;
}

async function oldFile(thing: Thing, id: string): Promise<ReturnType<typeof fileOf>> {
  const { name, text } = entriesOf(recallOld('sessionStorage', OLD_FILE));
  if (typeof name !== 'string' || typeof text !== 'string') return undefined;
  const reading = readModel(text);
  if (!reading.ok || reading.model.id !== id) return undefined;
  await keepModel(reading.model, name, text);
  return fileOf(thing);
}

function idOf(path: string): string {
  return path.replace(/^.*\//, '').replace(/\.json$/, '');
}

/** What a build is called among the names of things: its model and variant. */
export function buildName(modelId: string, variant: string | undefined): string {
  return variant === undefined ? modelId : `${modelId} ${variant}`;
}
