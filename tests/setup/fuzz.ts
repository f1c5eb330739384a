/**
 * Inputs that nobody would write on purpose: what a file, a link or a paste may hold, bent a little or a lot, read as
 * the program reads it. Whatever comes, reading does not throw, what it tells is one harmless line, and what it takes
 * says the same again when it is written out and read once more. A model that is taken is also analysed: every number
 * of the result is one.
 *
 * Every input has its own seed: `--seed S --count 1` repeats the one that a fault names.
 */
import { readFileSync } from 'node:fs';
import {
  analyse,
  draftOf,
  emptyJob,
  fieldsOfJob,
  harmless,
  jobFrom,
  lessonTroubles,
  readDraft,
  readEnvelope,
  readModel,
  readReadings,
  wordEnvelopeTrouble,
  wordProblem,
  wordReadingProblem,
  writeDraft,
  writeEnvelope,
  type Job,
  type Lesson,
  type LinkageModel,
} from '../../shared/index.ts';
import { readRoute, writeRoute } from '../../src/page/route.ts';
import { demoModels } from '../bench/models.ts';
import { MORNING_ms } from './jobs.ts';
import { random, type Random } from './random.ts';

/** What came of one input. */
interface Came {
  readonly isTaken: boolean;
  /** Sentences that a person would read of it. */
  readonly told: readonly string[];
  /** What was found wrong with the program. */
  readonly fault?: string;
}

interface Target {
  /** How often it is drawn, beside the others. */
  readonly weight: number;
  readonly make: (draw: Random) => string;
  readonly read: (text: string) => Came;
}

const APP = 'fuzz';
const models = demoModels();
const rig = models.find(({ id }) => id === 'class-rig')!;
const data = (path: string): object =>
  JSON.parse(readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8')) as object;
const LESSONS = ['why-a-spacer', 'bearing-fitted', 'turned-at-its-tip'].map((id) => data(`models/lessons/${id}.json`));
const TRAY = readFileSync(new URL('../fixtures/sort/skarn-tray.csv', import.meta.url), 'utf8');
const SOME_READINGS = [
  { label: '1', kind: 'spacer', length_mm: 6, outside_mm: 26, bore_mm: 15.2 },
  { label: '2', kind: 'tapered-spacer', length_mm: 5, outside_mm: 26, small_mm: 18, count: 2 },
  { label: '3', kind: 'axle', length_mm: 84, thread_mm: 15, pitch_mm: 1, drive: { tool: 'hex-key', size_mm: 8 } },
  { label: '4', kind: 'spacer', length_mm: 5, slides_on: '3' },
];
const LINKS = [
  '#model=skarn-140',
  '#model=skarn-140&pivot=rocker-frame&apart=0.6&step=3&view=above&cut=yes',
  '#model=fjordside-150&variant=second-series&pivot=seatstay-rocker&mistake=turned:seatstay-rocker/inner-left',
  '#model=holt-120&travel=0.5&shock=out&reached=main:24,shock-rocker-left:8&follow=makers&do=strip&all=yes',
  '#file=my-bike&place=measure&draft=my-draft&part=main/axle',
  '#model=skarn-140&place=order&tab=own&own=2-1-3',
  '#place=job&job=a-1',
];
const JPEG = 'data:image/jpeg;base64,/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAP==';

const someJob: Job = {
  ...emptyJob({ model: rig.id, key: 'k' }),
  reference: '2026-17',
  date: '2026-11-30',
  remarks: 'Creaks on the climb.',
  as_it_came: { air: '165 psi', clicks: '8', spacers: '2', sag: '28 %', runs: 'stiff' },
  steps: {
    'fit:rig-axle:1': { is: 'done', at_ms: MORNING_ms },
    grease: { is: 'not-yet', at_ms: MORNING_ms, why: 'Out' },
  },
  parts: { 'rig-axle/bearing-left': { condition: ['notchy', 'rust'], renewed: 'new', measured: { length_mm: 7 } } },
  seats: { 'rig-axle/bearing-left': { condition: ['oval'], measured: { across_mm: 28, other_way_mm: 28.05 } } },
  axles: { 'rig-axle': { reached_Nm: 13, set_Nm: 13, wrench: 'a' } },
  wrenches: { a: { name: 'Click, 5 to 25', least_Nm: 5, most_Nm: 25, calibrated: '2026-05-31' } },
  felt: { 'rig-axle': { before: { is: ['notch'], words: 'at the top' }, after: { is: ['good'] } } },
  signs: { ready: { by: 'kv', at_ms: MORNING_ms } },
  decisions: { 'rig-axle/axle/seized-axle': { tried: 2, came: 'mended' } },
  photos: { p: { jpeg: JPEG, at_ms: MORNING_ms } },
};

const NUMBERS = [0, -0, 1, -1, 0.5, 1e-9, 1e-300, 1e9, 1e308, 12.000000000000002, 2 ** 53, 360];
const TEXTS = [
  '',
  ' ',
  '\u0000',
  '\u001b[2J',
  '\u202eelxa',
  '\ud800',
  'constructor',
  '__proto__',
  'toString',
  '<img src=x onerror=alert(1)>',
  '../../etc',
  '=1+1',
  'axle\r\naxle',
  '𝔸'.repeat(40),
  'a'.repeat(5000),
];
const SIGNS = [...'{}[]",:;\t\n\r\\/#&=%+-.0123456789eE∞\u0000\u001b\u202e\ufeff\ud800'];

/** A value bent somewhere inside: a number moved, a text swapped, a thing left out, said twice, or put elsewhere. */
function bend(value: object, draw: Random): object {
  const copy = structuredClone(value) as Record<string, unknown>;
  const places: { readonly in: Record<string, unknown>; readonly key: string }[] = [];
  const walk = (at: Record<string, unknown>): void => {
    for (const key of Object.keys(at)) {
      places.push({ in: at, key });
      const own = at[key];
      if (typeof own === 'object' && own !== null) walk(own as Record<string, unknown>);
    }
  };
  walk(copy);
  for (let left = draw.whole(1, 3); left > 0; left--) {
    const place = draw.pick(places);
    const own = place.in[place.key];
    if (draw.chance(0.75) && typeof own === 'number') place.in[place.key] = otherNumber(own, draw);
    else if (draw.chance(0.4) && typeof own === 'string') place.in[place.key] = draw.pick(TEXTS);
    else breakAt(place, own, draw.pick(places), draw);
  }
  return copy;
}

function otherNumber(own: number, draw: Random): unknown {
  return draw.chance(0.7)
    ? own * draw.pick([0.5, 0.9, 0.99, 1.01, 1.1, 2, -1, 1 + draw()])
    : draw.pick<unknown>([...NUMBERS, String(own), null, [own]]);
}

function breakAt(
  place: { readonly in: Record<string, unknown>; readonly key: string },
  own: unknown,
  other: { readonly in: Record<string, unknown>; readonly key: string },
  draw: Random,
): void {
  switch (draw.whole(0, 5)) {
    case 0:
      if (Array.isArray(place.in)) place.in.splice(Number(place.key), 1);
      else delete place.in[place.key];
      return;
    case 1:
      if (Array.isArray(place.in)) place.in.push(structuredClone(own));
      else place.in[`${place.key}2`] = structuredClone(own);
      return;
    case 2:
      place.in[place.key] = structuredClone(other.in[other.key]);
      return;
    case 3:
      place.in[place.key] = draw.pick<unknown>([null, true, [], {}, '', 0]);
      return;
    case 4:
      if (!Array.isArray(place.in)) place.in[draw.pick(['notes', 'turned', 'bore_mm', 'x', 'toString'])] = own;
      return;
    default:
      place.in[place.key] = draw.chance(0.5) ? own : [own, own];
  }
}

/** A text with a few of its signs lost, changed, or said twice. */
function blur(text: string, draw: Random): string {
  let made = text;
  for (let left = draw.whole(1, 4); left > 0; left--) {
    const at = draw.whole(0, made.length);
    const to = Math.min(made.length, at + draw.whole(0, draw.chance(0.1) ? 400 : 3));
    const put = draw.pick(['', draw.pick(SIGNS), draw.pick(TEXTS), made.slice(at, to).repeat(2)]);
    made = made.slice(0, at) + put + made.slice(to);
  }
  return made;
}

/** A file of data: mostly bent inside, sometimes as written, sometimes broken as a text. */
function file(base: object, draw: Random): string {
  const text = JSON.stringify(draw.chance(0.9) ? bend(base, draw) : base);
  return draw.chance(0.15) ? blur(text, draw) : text;
}

const saysSame = (once: string, again: string | undefined): { readonly fault?: string } =>
  once === again
    ? {}
    : { fault: `written out and read again it says otherwise: ${firstDifference(once, again ?? '')}` };

function firstDifference(one: string, other: string): string {
  let at = 0;
  while (at < one.length && one[at] === other[at]) at++;
  return `${one.slice(Math.max(0, at - 20), at + 40)} | ${other.slice(Math.max(0, at - 20), at + 40)}`;
}

/** What an analysis says in numbers, all of which must be some. */
function analysed(model: LinkageModel): { readonly fault?: string } {
  let found: string | undefined;
  for (const { id: variant } of [{ id: undefined }, ...(model.variants ?? [])]) {
    const { pivots, findings } = analyse(model, variant === undefined ? {} : { variant });
    JSON.stringify({ pivots, findings }, (key, own: unknown) => {
      if (typeof own === 'number' && !Number.isFinite(own)) found ??= `${key} is ${own}`;
      return own;
    });
  }
  return found === undefined ? {} : { fault: `the analysis holds what is no number: ${found}` };
}

/** Every kind of input there is. */
const FUZZED = {
  model: {
    weight: 3,
    make: (draw) => file(draw.chance(0.85) ? rig : draw.pick(models), draw),
    read: (text) => {
      const reading = readModel(text);
      if (!reading.ok) return { isTaken: false, told: reading.problems.map(wordProblem) };
      const once = JSON.stringify(reading.model);
      const again = readModel(once);
      const same = saysSame(once, again.ok ? JSON.stringify(again.model) : undefined);
      // The fit check of a whole bike takes a tenth of a second; the rig has all it needs.
      return {
        isTaken: true,
        told: [],
        ...same,
        ...(reading.model.pivots.length === 1 ? analysed(reading.model) : {}),
      };
    },
  },
  draft: {
    weight: 2,
    make: (draw) => file({ kind: 'draft', schema: 1, app: APP, body: draftBase(draw) }, draw),
    read: (text) => {
      const reading = readDraft(text);
      if (!reading.ok) return { isTaken: false, told: reading.problems.map(wordProblem) };
      const once = writeDraft(reading.draft, APP);
      const again = readDraft(once);
      return { isTaken: true, told: [], ...saysSame(once, again.ok ? writeDraft(again.draft, APP) : undefined) };
    },
  },
  job: {
    weight: 2,
    make: (draw) => file({ kind: 'job', schema: 1, app: APP, body: someJob }, draw),
    read: readJob,
  },
  photo: {
    weight: 1,
    make: (draw) => {
      const jpeg = draw.chance(0.2) ? draw.pick(TEXTS) : blur(JPEG, draw);
      const photos = { p: { jpeg, at_ms: MORNING_ms } };
      return JSON.stringify({ kind: 'job', schema: 1, app: APP, body: { ...someJob, photos } });
    },
    read: (text) => {
      const came = readJob(text);
      const { jpeg } = (JSON.parse(text) as { body: Job }).body.photos['p']!;
      // What is shown as a picture can be nothing but one, whatever it is put into.
      const isPlain = /^data:image\/jpeg;base64,[A-Za-z0-9+/=]+$/.test(jpeg) && jpeg.length <= 400_000;
      return came.isTaken === isPlain
        ? came
        : { ...came, fault: `a photo ${came.isTaken ? '' : 'not '}taken: ${jpeg}` };
    },
  },
  lesson: {
    weight: 2,
    make: (draw) => file(draw.pick(LESSONS), draw),
    read: (text) => {
      const reading = readEnvelope(text, 'lesson');
      if (!reading.ok) return { isTaken: false, told: [wordEnvelopeTrouble(reading.trouble)] };
      lessonTroubles(reading.body, rig);
      const write = (body: Lesson): string => writeEnvelope('lesson', APP, body);
      const again = readEnvelope(write(reading.body), 'lesson');
      return { isTaken: true, told: [], ...saysSame(write(reading.body), again.ok ? write(again.body) : undefined) };
    },
  },
  readings: {
    weight: 3,
    make: (draw) =>
      draw.chance(0.5)
        ? blur(TRAY, draw)
        : file(draw.chance(0.5) ? SOME_READINGS : { readings: SOME_READINGS, accuracy_mm: 0.02, wear: true }, draw),
    read: (text) => {
      const reading = readReadings(text);
      if (!reading.ok) return { isTaken: false, told: reading.problems.map(wordReadingProblem) };
      const write = ({ setting, readings }: { setting: object; readings: readonly object[] }): string =>
        JSON.stringify({ ...setting, readings });
      const again = readReadings(write(reading));
      return { isTaken: true, told: [], ...saysSame(write(reading), again.ok ? write(again) : undefined) };
    },
  },
  link: {
    weight: 3,
    make: (draw) => (draw.chance(0.8) ? blur(draw.pick(LINKS), draw) : `#${draw.pick(TEXTS)}=${draw.pick(TEXTS)}`),
    read: (text) => {
      const once = writeRoute(readRoute(text));
      return { isTaken: once !== '#', told: [], ...saysSame(once, writeRoute(readRoute(once))) };
    },
  },
} as const satisfies Readonly<Record<string, Target>>;

const bases = models.map((model) => draftOf(model));
function draftBase(draw: Random): object {
  return draw.chance(0.5)
    ? bases.find(({ model }) => model.id === rig.id)!
    : draw.chance(0.8)
      ? FRESH
      : draw.pick(bases);
}
const FRESH = (data('tests/fixtures/draft-axle-and-nut.json') as { body: object }).body;

function readJob(text: string): Came {
  const reading = readEnvelope(text, 'job');
  if (!reading.ok) return { isTaken: false, told: [wordEnvelopeTrouble(reading.trouble)] };
  const write = (body: Job): string => writeEnvelope('job', APP, body);
  const again = readEnvelope(write(reading.body), 'job');
  const same = saysSame(write(reading.body), again.ok ? write(again.body) : undefined);
  if (same.fault !== undefined) return { isTaken: true, told: [], ...same };
  // In the browser a job is kept field by field: it comes back as the job it was.
  const kept = jobFrom({ fields: new Map(Object.entries(fieldsOfJob(reading.body))) });
  return { isTaken: true, told: [], ...saysSame(sorted(reading.body), kept && sorted(kept)) };
}

/** A job as a text in which the order of keys does not count, nor that nothing is said of a thing. */
function sorted(job: Job): string {
  const bare = (value: unknown): unknown => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
    const said = Object.entries(value).map(([key, own]) => [key, bare(own)] as const);
    const kept = said.filter(([, own]) => own !== undefined).sort(([one], [other]) => (one < other ? -1 : 1));
    return kept.length === 0 ? undefined : Object.fromEntries(kept);
  };
  return JSON.stringify(bare(job));
}

/** What kind of input there is. */
type Fuzzed = keyof typeof FUZZED;
const KINDS = Object.keys(FUZZED) as Fuzzed[];
const DRAWN = KINDS.flatMap((kind) => Array.from({ length: FUZZED[kind].weight }, () => kind));

/** One input that the program did not stand. */
interface Fault {
  readonly seed: number;
  readonly kind: Fuzzed;
  readonly why: string;
  readonly text: string;
}

/** Counts of a run, and what it found. */
export interface Fuzzing {
  readonly made: Record<Fuzzed, number>;
  readonly taken: Record<Fuzzed, number>;
  readonly faults: Fault[];
  /** The input that took longest, by what the processor spent on it. */
  slowest: { readonly seed: number; readonly kind: Fuzzed; readonly cpu_ms: number };
}

const none = (): Record<Fuzzed, number> => Object.fromEntries(KINDS.map((kind) => [kind, 0])) as Record<Fuzzed, number>;

/** A run that nothing was put into. */
export function fuzzing(): Fuzzing {
  return { made: none(), taken: none(), faults: [], slowest: { seed: 0, kind: 'link', cpu_ms: 0 } };
}

/** The input of a seed. */
function inputOf(seed: number): { readonly kind: Fuzzed; readonly text: string } {
  const draw = random(seed);
  const kind = draw.pick(DRAWN);
  return { kind, text: FUZZED[kind].make(draw) };
}

/** Put the input of a seed into the program, and what came of it into the run. */
export function fuzz(seed: number, run: Fuzzing): void {
  const { kind, text } = inputOf(seed);
  const fault = (why: string): void => void run.faults.push({ seed, kind, why, text });
  const before = process.cpuUsage();
  run.made[kind]++;
  try {
    const came = (FUZZED[kind] as Target).read(text);
    if (came.isTaken) run.taken[kind]++;
    if (came.fault !== undefined) fault(came.fault);
    if (!came.isTaken && kind !== 'link' && came.told.length === 0) fault('refused without a word');
    const harmful = came.told.find((line) => harmless(line) !== line);
    if (harmful !== undefined) fault(`what is told is not harmless: ${JSON.stringify(harmful)}`);
  } catch (error) {
    fault(`thrown: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
  }
  const { user, system } = process.cpuUsage(before);
  const cpu_ms = (user + system) / 1000;
  if (cpu_ms > run.slowest.cpu_ms) run.slowest = { seed, kind, cpu_ms };
}
