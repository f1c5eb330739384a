/**
 * What somebody has practised: a thing that is kept for each initials, with a card for every drill and a line for every
 * time it was done. Plain functions; `practiceStore.ts` holds the one in hand.
 */
import { GRADES, type FieldValue, type Grade, type Sum } from '../../shared/index.ts';
import { readCard, reviewed, type DrillCard } from './scheduler.ts';

/** One time a drill was done. */
export interface DrillDone {
  /** `lay/skarn-140/main`: kind, model, and what of it. */
  readonly drill: string;
  readonly at_ms: number;
  readonly grade: Grade;
  readonly tries: number;
  readonly minutes: number;
}

/** What is kept of one person. */
export interface Progress {
  readonly cards: ReadonlyMap<string, DrillCard>;
  /** The first one first. */
  readonly done: readonly DrillDone[];
}

const CARD = 'card/';
const RUN = 'run/';

/** Initials as they are kept: one to four letters or digits, small. */
export function readInitials(text: string): string | undefined {
  const found = text.trim().toLowerCase();
  return /^[a-z0-9]{1,4}$/.test(found) ? found : undefined;
}

/** What a kept thing says. */
export function progressOf({ fields }: Sum): Progress {
  const cards = new Map<string, DrillCard>();
  const done: DrillDone[] = [];
  for (const [name, value] of fields) {
    if (name.startsWith(CARD)) {
      const card = readCard(value);
      if (card) cards.set(name.slice(CARD.length), card);
    }
    if (name.startsWith(RUN)) {
      const run = readDone(value);
      if (run) done.push(run);
    }
  }
  return { cards, done: done.sort((a, b) => a.at_ms - b.at_ms) };
}

function readDone(value: unknown): DrillDone | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const { drill, at_ms, grade, tries, minutes } = value as Partial<DrillDone>;
  const isWhole =
    typeof drill === 'string' &&
    [at_ms, tries, minutes].every((number) => typeof number === 'number' && Number.isFinite(number)) &&
    GRADES.some((known) => known === grade);
  return isWhole ? (value as DrillDone) : undefined;
}

/** The fields that keep one more drill; `key` is one that no other device gives. */
export function keptDone(progress: Progress, run: DrillDone, key: string): Readonly<Record<string, FieldValue>> {
  const card = reviewed(progress.cards.get(run.drill), run.grade, run.at_ms);
  return { [CARD + run.drill]: { ...card }, [`${RUN}${run.at_ms}-${key}`]: { ...run } };
}

/** How often a drill was done: each time its seed is another. */
export function seedOf({ done }: Progress, drill: string): number {
  return done.filter((run) => run.drill === drill).length + 1;
}

/** How hard a drill is by now: one up each time it was right at the first try. */
export function levelOf({ done }: Progress, drill: string): number {
  return 1 + done.filter((run) => run.drill === drill && (run.grade === 'good' || run.grade === 'easy')).length;
}

/** How many of these drills are due, new ones counted. */
export function isDue({ cards }: Progress, drill: string, now_ms: number): boolean {
  const card = cards.get(drill);
  return card === undefined || card.due_ms <= now_ms;
}

const HEAD = ['initials', 'date', 'drill', 'model', 'of', 'grade', 'tries', 'minutes'];

/** A summary for the trainer: a line for every time, comma-separated, as a spreadsheet reads it. */
export function summaryOf(
  people: readonly { readonly initials: string; readonly done: readonly DrillDone[] }[],
): string {
  const rows = people.flatMap(({ initials, done }) =>
    done.map(({ drill, at_ms, grade, tries, minutes }) => {
      const [kind = '', model = '', ...of] = drill.split('/');
      const date = new Date(at_ms).toISOString().slice(0, 16).replace('T', ' ');
      return [initials.toUpperCase(), date, kind, model, of.join('/'), grade, tries, minutes.toFixed(1)];
    }),
  );
  return `${[HEAD, ...rows].map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`;
}

/** Nothing that a spreadsheet would take for a formula. */
function cell(value: string | number): string {
  const text = String(value).replace(/[",\r\n]/g, ' ');
  return /^[=+@-]/.test(text) ? `'${text}` : text;
}
