/**
 * What somebody has practised: a thing that is kept for each initials, with a line for every time a drill was done. When
 * each is due again is worked out from those. Plain functions; `practiceStore.ts` holds the one in hand.
 */
import {
  progressBody,
  RUN_FIELD,
  type DrillDone,
  type FieldValue,
  type PractisedBody,
  type Sum,
} from '../../shared/index.ts';
import { reviewed, type DrillCard } from './scheduler.ts';

/** What is kept of one person. */
export interface Progress {
  readonly cards: ReadonlyMap<string, DrillCard>;
  /** The first one first. */
  readonly done: readonly DrillDone[];
}

/** Initials as they are kept: one to four letters or digits, small. */
export function readInitials(text: string): string | undefined {
  const found = text.trim().toLowerCase();
  return /^[a-z0-9]{1,4}$/.test(found) ? found : undefined;
}

/** The runs that a kept thing holds, by the key each was given. */
function runsOf({ fields }: Sum): PractisedBody['people'][string]['runs'] {
  const runs: Record<string, DrillDone> = {};
  for (const [name, value] of fields) {
    if (!name.startsWith(RUN_FIELD)) continue;
    const key = name.slice(RUN_FIELD.length);
    const read = progressBody.safeParse({ people: { a: { runs: { [key]: value } } } });
    if (read.success) Object.assign(runs, read.data.people['a']!.runs);
  }
  return runs;
}

/** What a kept thing says. */
export function progressOf(sum: Sum): Progress {
  const done = Object.values(runsOf(sum)).sort((a, b) => a.at_ms - b.at_ms);
  const cards = new Map<string, DrillCard>();
  for (const run of done) cards.set(run.drill, reviewed(cards.get(run.drill), run.grade, run.at_ms));
  return { cards, done };
}

/** What a file of everybody's practice holds. */
export function practised(people: readonly { readonly initials: string; readonly sum: Sum }[]): PractisedBody {
  return { people: Object.fromEntries(people.map(({ initials, sum }) => [initials, { runs: runsOf(sum) }])) };
}

/** The field that keeps one more drill; `key` is one that no other device gives. */
export function keptDone(run: DrillDone, key: string): Readonly<Record<string, FieldValue>> {
  return { [`${RUN_FIELD}${run.at_ms}-${key}`]: { ...run } };
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
