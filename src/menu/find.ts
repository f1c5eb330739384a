/**
 * One search over all the page can lead to: pivots, parts, whole pieces, tools, words of the trade, and its own places.
 *
 * What is typed is parted into words; each has to be met by a word of the entry: whole, as its beginning, inside it, or
 * with a letter wrong. Sizes are met however they are typed: `15x32x9`, `15 × 32 × 9`, `6,5`. O(entries × words).
 */
import {
  accessTargets,
  capital,
  nameOf,
  TRADE_WORDS,
  wordAccessTarget,
  wordPlanTool,
  wordTask,
  wordTool,
  wordVerdict,
  wordWay,
  type Analysis,
  type DriveTool,
  type TradeSubject,
} from '../../shared/index.ts';
import type { Planned } from '../build/planned.ts';
import { canMove } from '../travel/travel.ts';

const FIND_GROUPS = ['pivot', 'part', 'piece', 'tool', 'word', 'place'] as const;
type FindGroup = (typeof FIND_GROUPS)[number];

/** Places of the page and sheets over it that can be gone to. */
const GO_PLACES = [
  'bike',
  'order',
  'access',
  'tray',
  'practice',
  'felt',
  'measure',
  'job',
  'torque-list',
  'travel',
  'legend',
  'safety',
  'keys',
  'share',
] as const;
export type GoPlace = (typeof GO_PLACES)[number];

/** Where an entry leads. */
export type Going =
  | { readonly to: 'pivot'; readonly pivot: string }
  | { readonly to: 'torque'; readonly pivot: string; readonly stack: string }
  | { readonly to: 'part'; readonly pivot: string; readonly part: string }
  | { readonly to: 'access'; readonly part: string }
  | { readonly to: 'step'; readonly at: number }
  | { readonly to: 'subject'; readonly subject: TradeSubject }
  | { readonly to: 'place'; readonly place: GoPlace };

/** One thing that can be found. */
export interface Entry {
  readonly id: string;
  readonly group: FindGroup;
  readonly name: string;
  /** What tells it from others of its name, and answers what is asked most. */
  readonly about: string;
  readonly going: Going;
  readonly words: readonly string[];
}

const PLACE_WORDS: Readonly<Record<GoPlace, readonly [name: string, also: string]>> = {
  bike: ['Whole bike', 'start home overview'],
  order: ['Build order', 'steps strip down job sheet'],
  access: ['What comes off to get at a part', 'access remove reach'],
  tray: ['Sorting tray', 'loose parts measure mat'],
  practice: ['Practice', 'learn drill train apprentice class quiz'],
  felt: ['What is wrong with it?', 'felt diagnosis notchy tight play rubs clicks trouble symptom cause'],
  measure: ['Measure up', 'own pivot draft calliper sizes new model'],
  job: ['Jobs', 'bike shop work-through condition hand-over open items order list'],
  'torque-list': ['Torque list', 'all torques wall print'],
  travel: ['Travel', 'suspension move linkage'],
  legend: ['Colours and marks', 'legend meaning signs'],
  safety: ['Before you start', 'cautions warnings'],
  keys: ['Keys', 'keyboard shortcuts remote'],
  share: ['Link, picture, paper', 'share copy save print sheet svg png pdf export gltf dxf stl csv 3d print'],
};

/** The words of a text as they are compared: small letters, no accents, sizes parted into numbers. */
export function wordsIn(text: string): string[] {
  return text
    .toLowerCase()
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/(\d),(?=\d)/g, '$1.')
    .replace(/(\d)\s*[x×*]\s*(?=\d)/g, '$1 ')
    .replace(/(\d)(?=\p{L})/gu, '$1 ')
    .split(/[^\p{L}\p{N}.]+/u)
    .map((word) => word.replace(/^\.+|\.+$/g, ''))
    .filter((word) => word !== '');
}

function entry(id: string, group: FindGroup, name: string, about: string, going: Going, also = ''): Entry {
  return { id, group, name, about, going, words: wordsIn(`${name} ${about} ${also}`) };
}

/** Everything that can be found in a build, group by group. */
export function entriesFor(analysis: Analysis, planned: Planned): readonly Entry[] {
  const pivots = analysis.pivots.map((pivot) => {
    const torques = [...new Set(pivot.stacks.map(({ tightening }) => `${tightening.torque_Nm} N·m`))].join(', ');
    return entry(
      `pivot ${pivot.id}`,
      'pivot',
      pivot.name,
      `${wordVerdict(pivot)}, ${torques}`,
      { to: 'pivot', pivot: pivot.id },
      'pivot joint',
    );
  });
  const parts = analysis.pivots.flatMap((pivot) =>
    pivot.stacks.flatMap(({ items }) =>
      items.map((item) =>
        entry(
          `part ${item.id}`,
          'part',
          capital(nameOf(item.id, analysis)),
          item.role === 'spacer' ? `${pivot.name}: ${wordWay(item)}` : pivot.name,
          { to: 'part', pivot: pivot.id, part: item.id },
          `${item.role === 'spacer' ? 'washer tube' : item.role === 'receiver' ? 'nut thread' : ''} ${item.role}`,
        ),
      ),
    ),
  );
  const isStill = (going: Going): boolean =>
    !canMove(analysis) &&
    (going.to === 'place' ? going.place === 'travel' : going.to === 'subject' && going.subject === 'travel');
  const always = [...TRADE, ...PLACES].filter(({ going }) => !isStill(going));
  return [...pivots, ...parts, ...piecesOf(analysis, planned), ...toolsOf(analysis, planned), ...always];
}

function piecesOf(analysis: Analysis, planned: Planned): Entry[] {
  if (planned.is !== 'done') return [];
  return accessTargets(planned.given.plan)
    .filter(({ kind }) => kind !== 'item')
    .map((target) =>
      entry(
        `piece ${target.id}`,
        'piece',
        wordAccessTarget(target, analysis),
        'what comes off to get at it',
        { to: 'access', part: target.id },
        'member',
      ),
    );
}

/** Keys and spanners at each axle they are for; what lies on the bench at the first step that wants it. */
function toolsOf(analysis: Analysis, planned: Planned): Entry[] {
  const drives = analysis.pivots.flatMap((pivot) =>
    pivot.stacks.flatMap((stack) => {
      const { tool, held, torque_Nm } = stack.tightening;
      const going = { to: 'torque', pivot: pivot.id, stack: stack.id } as const;
      const of = (which: DriveTool, what: string): Entry =>
        entry(
          `tool ${stack.id} ${what}`,
          'tool',
          capital(wordTool(which)),
          `${stack.name}, ${what}`,
          going,
          'tool key',
        );
      return [
        ...(tool ? [of(tool, `tightens to ${torque_Nm} N·m`)] : []),
        ...(held?.tool ? [of(held.tool, 'holds')] : []),
      ];
    }),
  );
  if (planned.is !== 'done') return drives;
  const bench = new Map<string, Entry>();
  for (const [k, step] of planned.given.plan.steps.entries()) {
    for (const tool of step.tools) {
      if (tool.kind !== 'bench' || bench.has(tool.what)) continue;
      const first = `first at step ${k + 1}: ${wordTask(step.taskId, analysis)}`;
      const going = { to: 'step', at: k + 1 } as const;
      bench.set(tool.what, entry(`tool ${tool.what}`, 'tool', capital(wordPlanTool(tool, analysis)), first, going));
    }
  }
  return [...drives, ...bench.values()];
}

const TRADE: readonly Entry[] = TRADE_WORDS.map(({ word, also, text, of }) =>
  entry(`word ${word}`, 'word', capital(word), text, { to: 'subject', subject: of }, also),
);
const PLACES: readonly Entry[] = GO_PLACES.map((place) =>
  entry(`place ${place}`, 'place', PLACE_WORDS[place][0], '', { to: 'place', place }, PLACE_WORDS[place][1]),
);

/** Entries of one group, best first. */
export interface Found {
  readonly group: FindGroup;
  readonly list: readonly Entry[];
  /** Those left out for length. */
  readonly more: number;
}

const MOST_OF_GROUP = 6;
/** What is offered before anything is typed. */
const FIRST: readonly FindGroup[] = ['pivot', 'place'];
/** What is told of an entry is met less well than its name; of two names the shorter is meant. */
const NOT_IN_NAME = 0.5;
const WORD_LEFT = 0.02;

/** What is meant by a text: groups by their best entry, entries by how well they are met; all pivots for no text. */
export function find(entries: readonly Entry[], text: string): readonly Found[] {
  const asked = wordsIn(text);
  const grouped = (list: readonly (readonly [Entry, number])[], most: number): Found[] =>
    FIND_GROUPS.map((group) => {
      const own = list.filter(([{ group: of }]) => of === group).sort(([, a], [, b]) => a - b);
      return {
        group,
        list: own.slice(0, most).map(([one]) => one),
        more: Math.max(0, own.length - most),
        best: own[0]?.[1],
      };
    })
      .filter(({ list: own }) => own.length > 0)
      .sort((a, b) => (a.best ?? 0) - (b.best ?? 0))
      .map(({ group, list: own, more }) => ({ group, list: own, more }));
  if (asked.length === 0)
    return grouped(
      entries.filter(({ group }) => FIRST.includes(group)).map((one) => [one, 0] as const),
      entries.length,
    );
  const scored = entries.flatMap((one) => {
    const cost = costOf(one, asked);
    return cost === undefined ? [] : [[one, cost] as const];
  });
  return grouped(scored, MOST_OF_GROUP);
}

/** How far what is asked lies from an entry; undefined where a word of it is not met at all. */
function costOf({ name, words }: Entry, asked: readonly string[]): number | undefined {
  const own = wordsIn(name).length;
  let cost = WORD_LEFT * Math.max(0, own - asked.length);
  for (const word of asked) {
    const costs = words.map((met, k) => {
      const off = wordCost(word, met);
      return off === undefined ? Infinity : off + (k < own ? 0 : NOT_IN_NAME);
    });
    const least = Math.min(...costs);
    if (least === Infinity) return undefined;
    cost += least;
  }
  return cost;
}

/** 0 whole, then its beginning, inside it, a letter wrong; numbers are met whole or by their beginning. */
function wordCost(asked: string, met: string): number | undefined {
  if (met === asked) return 0;
  if (met.startsWith(asked)) return 0.1;
  if (/\d/.test(asked)) return undefined;
  if (asked.length >= 3 && met.includes(asked)) return 0.3;
  const allowed = asked.length >= 8 ? 2 : asked.length >= 4 ? 1 : 0;
  const off = allowed === 0 ? Infinity : lettersOff(asked, met);
  return off <= allowed ? 0.6 + 0.2 * off : undefined;
}

/** Letters to change, add, leave out or change places so that `asked` becomes a beginning of `met`. */
function lettersOff(asked: string, met: string): number {
  let before: number[] = [];
  let row = Array.from({ length: met.length + 1 }, (_, k) => k);
  for (let i = 1; i <= asked.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= met.length; j += 1) {
      const isSame = asked[i - 1] === met[j - 1];
      const isTurned = i > 1 && j > 1 && asked[i - 1] === met[j - 2] && asked[i - 2] === met[j - 1];
      next[j] = Math.min(
        next[j - 1]! + 1,
        row[j]! + 1,
        row[j - 1]! + (isSame ? 0 : 1),
        isTurned ? before[j - 2]! + 1 : Infinity,
      );
    }
    [before, row] = [row, next];
  }
  return Math.min(...row);
}
