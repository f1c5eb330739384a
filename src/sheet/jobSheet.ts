/**
 * The sheet of a job: what the bike is, every task in the plan's order with its tools and torque, every row with its
 * facings and its section, what is checked before it is handed over, and the half page for the owner.
 */
import {
  capital,
  CAUTIONS,
  HAND_OVER_LINES,
  JOB_DRAFT_WORDS,
  OWNER_LINES,
  SHEET_WORDS,
  sheetCautions,
  sideWord,
  torqueList,
  wordBlock,
  wordChange,
  wordFault,
  wordFinding,
  wordHabit,
  wordOtherUnits,
  wordPlanStep,
  wordPlanTool,
  wordTask,
  wordTightening,
  wordTorque,
  wordVerdict,
  type Analysis,
  type Plan,
  type PlanTask,
  type TorqueRow,
} from '../../shared/index.ts';
import { altOf, bikeName, facings, hasCarbon, sidedSection, stackOf, toolsOf } from './common.ts';
import {
  asItCame,
  conditions,
  headFields,
  openItems,
  ownerLines,
  taskState,
  wrenches,
  type JobOfSheet,
} from './jobPart.ts';
import type { Block, Field, Line, Row, SheetText } from './blocks.ts';
import { A4 } from './pages.ts';

/** Height of one row's section, mm: three of them stand on a page with their words. */
const SECTION_mm = 50;

/** The sheet of a plan, and of a job where there is one. */
export function jobSheet(plan: Plan, of?: JobOfSheet): SheetText {
  const { analysis } = plan;
  const name = bikeName(analysis);
  return {
    title: `${name}: ${SHEET_WORDS.sheet.toLowerCase()}`,
    foot: CAUTIONS.defer,
    blocks: [
      { kind: 'title', text: name, under: [`${SHEET_WORDS.sheet}. ${SHEET_WORDS.about}`] },
      { kind: 'fields', fields: of ? headFields(of) : toWrite(SHEET_WORDS.fields) },
      ...(of?.job.is_draft ? [lines([{ text: JOB_DRAFT_WORDS.came, mark: 'look' }])] : []),
      ...lookFirst(plan),
      ...(of ? [...openItems(of), ...asItCame(of), ...conditions(of), ...wrenches(of)] : []),
      { kind: 'heading', text: SHEET_WORDS.before },
      {
        kind: 'lines',
        lines: sheetCautions(hasCarbon(analysis)).map((text): Line => ({ text, mark: 'caution' })),
        isList: true,
      },
      { kind: 'heading', text: SHEET_WORDS.tools },
      { kind: 'lines', lines: [{ text: toolsOf(plan) }] },
      { kind: 'heading', text: SHEET_WORDS.steps },
      taskTable(plan, of),
      { kind: 'heading', text: SHEET_WORDS.rows },
      { kind: 'lines', lines: [{ text: `${SHEET_WORDS.key.small} ${SHEET_WORDS.key.same}`, isSmall: true }] },
      ...torqueList(plan).map((row): Block => rowBlock(row, analysis)),
      { kind: 'heading', text: SHEET_WORDS.after },
      {
        kind: 'lines',
        isList: true,
        lines: [...HAND_OVER_LINES, CAUTIONS.after].map((text): Line => ({ text, mark: 'box' })),
      },
      { kind: 'fields', fields: toWrite(SHEET_WORDS.signatures) },
      ownerPart(name, of),
    ],
  };
}

const lines = (all: readonly Line[]): Block => ({ kind: 'lines', lines: all });

const toWrite = (names: readonly string[]): Field[] => names.map((name) => ({ name }));

/** The half page that goes home with the bike. */
function ownerPart(name: string, of?: JobOfSheet): Block {
  const { done, back } = of ? ownerLines(of) : { done: [], back: [] };
  return {
    kind: 'together',
    blocks: [
      { kind: 'cut', text: SHEET_WORDS.cut },
      { kind: 'heading', text: `${SHEET_WORDS.owner}: ${name}` },
      { kind: 'fields', fields: toWrite(SHEET_WORDS.workshop) },
      toldOrWritten(SHEET_WORDS.done[0], done),
      toldOrWritten(SHEET_WORDS.done[1], back),
      { kind: 'lines', lines: OWNER_LINES.map((text): Line => ({ text, mark: 'dot' })), isList: true },
    ],
  };
}

/** What is known, or room to write it. */
function toldOrWritten(name: string, told: readonly string[]): Block {
  return told.length === 0
    ? { kind: 'fields', fields: [{ name }] }
    : { kind: 'lines', lines: [{ text: `${name}: ${told.join('; ')}.`, isStrong: true }] };
}

/** What is wrong with the build or with its order. */
function lookFirst(plan: Plan): Block[] {
  const { analysis } = plan;
  const found = [
    ...analysis.findings.map((finding) => ({ finding, at: '' })),
    ...analysis.pivots.flatMap((pivot) => pivot.findings.map((finding) => ({ finding, at: `${pivot.name}: ` }))),
  ];
  const lines = [
    ...found.flatMap(({ finding, at }): Line[] => {
      if (finding.severity === 'note') return [];
      const { title, text } = wordFinding(finding, analysis);
      return [{ text: `${at}${title}. ${text}`, mark: finding.severity === 'stop' ? 'stop' : 'look' }];
    }),
    ...plan.blocks.map((block): Line => ({ text: wordBlock(block, analysis), mark: 'stop' })),
    ...plan.stuck.map(
      (fault): Line => ({
        text: `${wordTask(fault.task, analysis)}: ${wordFault(fault, analysis).text}`,
        mark: 'stop',
      }),
    ),
  ];
  const verdict: Line = { text: `${SHEET_WORDS.verdict}: ${wordVerdict(analysis)}`, isStrong: true, isLarge: true };
  if (lines.length === 0) return [{ kind: 'lines', lines: [verdict] }];
  return [
    { kind: 'heading', text: SHEET_WORDS.findings },
    { kind: 'lines', lines: [verdict, ...lines] },
  ];
}

function taskTable(plan: Plan, of?: JobOfSheet): Block {
  const { tasks } = plan;
  const pulls = new Map(torqueList(plan).map((row) => [row.stackId, row]));
  const rows: Row[] = [];
  let stand: PlanTask['side'];
  tasks.forEach((task, k) => {
    if (task.side !== undefined && task.side !== stand)
      rows.push({ isAcross: true, cells: [[{ text: wordChange(task.side), isStrong: true }]] });
    stand = task.side ?? stand;
    const pull = task.kind === 'tighten' ? pulls.get(task.stackId ?? '') : undefined;
    rows.push(taskRow(task, k + 1, pull, plan, of));
  });
  const { number, task, torque, reached, initials } = SHEET_WORDS.columns;
  const shares = [
    [number, 12],
    [task, 111],
    [torque, 26],
    [reached, 18],
    [initials, 15],
  ] as const;
  return { kind: 'table', columns: shares.map(([name, share]) => ({ name, share })), rows, written: [3, 4] };
}

const NOTHING: readonly Line[] = [{ text: '' }];

function taskRow(
  task: PlanTask,
  place: number,
  pull: TorqueRow | undefined,
  { analysis, steps }: Plan,
  of?: JobOfSheet,
): Row {
  const state = of && taskState(task, of);
  const own = task.steps.map((id) => steps.find((step) => step.id === id)!);
  const worded = own.map((step) => wordPlanStep(step, analysis));
  const general = Object.values<string>(CAUTIONS);
  const cautions = [...new Set(worded.flatMap((step) => step.cautions))].filter((text) => !general.includes(text));
  const titles = [...new Set(worded.map(({ title }) => title))];
  const ways = task.kind === 'fit' ? waysOf(task.stackId, analysis) : [];
  const drives = task.tools.map((drive) => `${wordPlanTool(drive, analysis)}, ${sideWord(drive.side)}`);
  return {
    cells: [
      [{ text: String(place), mark: state?.isDone ? 'ticked' : 'box' }],
      [
        { text: wordTask(task.id, analysis), isStrong: true },
        ...(titles.length > 1 ? [{ text: `${titles.join(' · ')}.`, isSmall: true }] : []),
        ...drives.map((text): Line => ({ text: capital(text), mark: 'dot', isSmall: true })),
        ...ways.map((line): Line => ({ ...line, isSmall: true })),
        ...(pull?.isAgainstHabit ? [{ text: wordHabit(pull), mark: 'caution' as const, isSmall: true }] : []),
        ...cautions.map((text): Line => ({ text, mark: 'caution', isSmall: true })),
      ],
      pull
        ? [
            { text: wordTorque(pull.torque['N·m']), isStrong: true, isLarge: true },
            ...wordOtherUnits(pull.torque['N·m'])
              .split(', ')
              .map((text): Line => ({ text, isSmall: true })),
          ]
        : [],
      // Nothing is written where nothing is pulled tight or can stand the wrong way round.
      state?.reached_Nm !== undefined ? [{ text: wordTorque(state.reached_Nm), isStrong: true }] : pull ? [] : NOTHING,
      state && state.signs.length > 0
        ? [{ text: state.signs.join(', '), isStrong: true }]
        : pull || ways.length > 0
          ? []
          : NOTHING,
    ],
  };
}

/** Which way round each loose part of a row goes, those that have one. */
function waysOf(stackId: string | undefined, analysis: Analysis): Line[] {
  return facings(stackOf(stackId ?? '', analysis)?.stack, analysis).filter(({ mark }) => mark !== 'same');
}

function rowBlock(row: TorqueRow, analysis: Analysis): Block {
  const { pivot, stack } = stackOf(row.stackId, analysis)!;
  const drawing = sidedSection(stack, analysis, {
    width_mm: A4.width_mm - 2 * A4.margin_mm,
    height_mm: SECTION_mm,
    apart: 0,
  });
  const ways = facings(stack, analysis);
  const told = pivot.findings.some(({ severity }) => severity !== 'note') ? `, ${wordVerdict(pivot)}` : '';
  return {
    kind: 'together',
    blocks: [
      { kind: 'heading', text: `${row.place}. ${stack.name}, ${wordTorque(row.torque['N·m'])}${told}` },
      { kind: 'lines', lines: [{ text: wordTightening(stack, analysis), isSmall: true }] },
      ...(ways.length === 0 ? [] : [{ kind: 'lines', lines: ways, isList: true } as const]),
      ...(row.fitted_for_now === undefined
        ? []
        : [{ kind: 'lines', lines: [{ text: `Will be opened again: ${row.fitted_for_now}`, mark: 'look' }] } as const]),
      { kind: 'drawing', drawing, alt: altOf(drawing) },
    ],
  };
}
