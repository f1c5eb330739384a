/**
 * What a job adds to its sheet: what was written down as the bike came, what was found and fitted, which torques were
 * reached and by whom they were checked, and what is still open.
 */
import {
  AS_IT_CAME_WORDS,
  SHEET_WORDS,
  wordFound,
  wordOpen,
  wordSubject,
  type Job,
  type JobSubject,
  type JobView,
  type PlanTask,
  type WordTime,
} from '../../shared/index.ts';
import type { Block, Field, Line, Row } from './blocks.ts';

/** A job and how it stands. */
export interface JobOfSheet {
  readonly job: Job;
  readonly view: JobView;
  readonly time: WordTime;
}

/** The fields of the sheet's head, with what the job knows of them. */
export function headFields({ job }: JobOfSheet): Field[] {
  const values = [job.frame, job.reference, job.date, job.initials];
  return SHEET_WORDS.fields.map((name, k) => ({ name, ...(values[k] ? { value: values[k] } : {}) }));
}

/** The bike as it came, and what a mechanic remarked. */
export function asItCame({ job }: JobOfSheet): Block[] {
  const words = AS_IT_CAME_WORDS as Readonly<Record<string, { readonly title: string }>>;
  const lines = [
    ...Object.entries(job.as_it_came).map(([name, value]) => [words[name]!.title, value] as const),
    [SHEET_WORDS.airBack, job.air_put_back] as const,
    [SHEET_WORDS.remarks, job.remarks] as const,
  ].flatMap(([name, value]): Line[] => (value === '' ? [] : [{ text: `${name}: ${value}`, mark: 'dot' }]));
  return section(SHEET_WORDS.came, lines);
}

/** Every part that was looked at, and what became of it. */
export function conditions({ job, view }: JobOfSheet): Block[] {
  const rows = view.subjects.flatMap((subject): Row[] => {
    const fate = fateOf(subject, job);
    const sizes = sizesOf(subject, job);
    if (subject.found.length === 0 && fate === '' && sizes.length === 0) return [];
    return [
      {
        cells: [
          [{ text: wordSubject(subject, view.analysis), isSmall: true }],
          [
            {
              text: [wordFound(subject.found), ...sizes].join('; '),
              isSmall: true,
              isStrong: subject.found.some((one) => one !== 'good'),
            },
          ],
          [{ text: fate, isSmall: true }],
        ],
      },
    ];
  });
  if (rows.length === 0) return [];
  const { part, found, fate } = SHEET_WORDS.conditions;
  return [
    { kind: 'heading', text: SHEET_WORDS.conditions.title },
    {
      kind: 'table',
      columns: [
        { name: part, share: 62 },
        { name: found, share: 42 },
        { name: fate, share: 78 },
      ],
      rows,
    },
  ];
}

function sizesOf({ of, id }: JobSubject, job: Job): string[] {
  const { length_mm, across_mm, other_way_mm } = (of === 'seat' ? job.seats : job.parts)[id]?.measured ?? {};
  const sizes = [length_mm, across_mm, other_way_mm].filter((size) => size !== undefined);
  return sizes.length === 0 ? [] : [`${sizes.join(' and ')} mm`];
}

/** The wrenches in hand, each with its range, its calibration and what was tightened with it. */
export function wrenches({ job, view }: JobOfSheet): Block[] {
  const lines = Object.entries(job.wrenches).map(([key, wrench]): Line => {
    const stacks = view.analysis.pivots.flatMap((pivot) => pivot.stacks);
    const pulled = stacks.filter(({ id }) => job.axles[id]?.wrench === key).map(({ name }) => name);
    const { calibrated, range } = SHEET_WORDS.wrenches;
    const about = [
      `${wrench.least_Nm} ${range} ${wrench.most_Nm} N·m`,
      ...(wrench.calibrated === '' ? [] : [`${calibrated} ${wrench.calibrated}`]),
    ];
    return {
      text: `${wrench.name}, ${about.join(', ')}${pulled.length > 0 ? `: ${pulled.join('; ')}` : ''}`,
      mark: 'dot',
    };
  });
  return section(SHEET_WORDS.wrenches.title, lines);
}

function fateOf({ of, id }: JobSubject, job: Job): string {
  const mark = of === 'part' ? job.parts[id] : undefined;
  const { renewed, awaited, forNow } = SHEET_WORDS.conditions;
  return [
    [renewed, mark?.renewed],
    [awaited, mark?.awaited],
    [forNow, mark?.for_now],
  ]
    .flatMap(([name, value]) => (value ? [`${name}: ${value}`] : []))
    .join('; ');
}

/** What is not finished, so that none of it is forgotten. */
export function openItems({ view, time }: JobOfSheet): Block[] {
  const lines = view.open.map((open): Line => {
    const { title, text } = wordOpen(open, view.analysis, time);
    return { text: `${title}. ${text}`, mark: open.is === 'to-maker' || open.is === 'decide' ? 'stop' : 'look' };
  });
  return section(SHEET_WORDS.open, lines);
}

/** What an owner is told of it: the parts that are new, and what to come back for. */
export function ownerLines({ job, view }: JobOfSheet): {
  readonly done: readonly string[];
  readonly back: readonly string[];
} {
  const told = view.subjects.map((subject) => ({
    name: wordSubject(subject, view.analysis),
    mark: subject.of === 'part' ? job.parts[subject.id] : undefined,
  }));
  return {
    done: told.flatMap(({ name, mark }) =>
      mark?.renewed === undefined ? [] : [`${name}: ${SHEET_WORDS.conditions.renewed.toLowerCase()}`],
    ),
    back: told.flatMap(({ name, mark }) => [
      ...(mark?.for_now === undefined
        ? []
        : [`${name}: ${SHEET_WORDS.conditions.forNow.toLowerCase()}, ${mark.for_now}`]),
      ...(mark?.awaited === undefined ? [] : [`${name}: ${SHEET_WORDS.conditions.awaited.toLowerCase()}`]),
    ]),
  };
}

/** How far a task of the plan is: whether all of it is done, what torque was reached, who has signed. */
export function taskState(task: PlanTask, { job, view }: JobOfSheet) {
  const own = view.steps.filter(({ way, step }) => way === 'build' && step.taskId === task.id);
  const reached = task.kind === 'tighten' ? job.axles[task.stackId ?? ''] : undefined;
  return {
    isDone: own.length > 0 && own.every(({ state }) => state === 'done' || state === 'not-here'),
    reached_Nm: reached?.reached_Nm,
    signs: [...new Set(own.flatMap(({ sign }) => sign?.by ?? []))],
  };
}

function section(title: string, lines: readonly Line[]): Block[] {
  return lines.length === 0
    ? []
    : [
        { kind: 'heading', text: title },
        { kind: 'lines', lines, isList: true },
      ];
}
