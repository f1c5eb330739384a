/**
 * Words for a job: what a step wants before it closes, what was found, what is open, what to order and what may stand in
 * for it, and what is tried before a workshop stops.
 *
 * What may be tried on a stuck fastener, which seal or clearance stands in for which and how long a step takes is common
 * practice, no source. Nothing here says that a bike may be ridden.
 */
import type { Condition, Job, JobFeel, StopCode } from '../envelope/job.ts';
import type { Learned } from '../job/learned.ts';
import { JOB_LIMITS } from '../job/limits.ts';
import type { JobSubject } from '../job/condition.ts';
import type { CalendarEntry } from '../job/calendar.ts';
import type { Consumable, JobTool, OrderLine } from '../job/supplies.ts';
import type { JobDecision, JobStep, JobView, Need, OpenItem } from '../job/view.ts';
import { figure } from '../numbers/figures.ts';
import { kindNamed } from '../parts/kinds.ts';
import { judgeWrench } from '../torque/wrench.ts';
import type { Analysis } from '../types.ts';
import { capital, list, lower } from './figures.ts';
import { CAUTIONS, nameOf, wordMeasure, wordTool, type Worded } from './fit.ts';
import { count, pieceName, stackName, toldOf } from './pieces.ts';
import { wordPlanStep, type WordedStep } from './steps.ts';
import { wordStripStep } from './taking-apart.ts';

/** What a hand and an eye find, in a word or two. */
export const CONDITION_WORDS: Readonly<Record<Condition, string>> = {
  good: 'good',
  notchy: 'notchy',
  play: 'play',
  rust: 'rust',
  groove: 'groove',
  bent: 'bent',
  'thread-torn': 'torn thread',
  'socket-rounded': 'rounded socket',
  seized: 'seized',
  loose: 'loose',
  oval: 'oval',
  crack: 'crack',
  pitted: 'pitted',
  'faces-marked': 'marked faces',
  short: 'worn short',
};

/** What is felt, in a word or two. */
export const JOB_FEEL_WORDS: Readonly<Record<JobFeel, string>> = {
  good: 'even, no play',
  notch: 'a notch',
  play: 'side play',
  stiff: 'stiff',
  grates: 'grates',
  noise: 'a noise',
};

/** How a step is marked. */
export const STEP_STATE_WORDS = { open: 'To do', done: 'Done', 'not-yet': 'Not yet', 'not-here': 'Not on this bike' };

/** What is written down before anything is opened. */
export const AS_IT_CAME_WORDS: Readonly<Record<keyof Job['as_it_came'], { title: string; hint: string }>> = {
  air: { title: 'Air, or spring and preload', hint: '165 psi, or 450 lb spring with 2 turns' },
  clicks: { title: 'Clicks of every knob', hint: 'rebound 7 from closed' },
  spacers: { title: 'Volume spacers', hint: '2 in the positive chamber' },
  sag: { title: 'Sag', hint: '28 %, rider seated' },
  runs: { title: 'Hose and cable runs', hint: 'brake hose outside the stay, photographed' },
};

/** Title, sentence and cautions of a step of a job. */
export function wordJobStep({ step, strip }: JobStep, analysis: Analysis): WordedStep {
  return strip ? wordStripStep(strip, analysis) : wordPlanStep(step, analysis);
}

/** A part, or its seat, as it stands at the start of a line. */
export function wordSubject({ of, item }: Pick<JobSubject, 'of' | 'item'>, analysis: Analysis): string {
  if (of === 'seat') return `Seat of ${lower(nameOf(item.id, analysis))}`;
  return item.role === 'boss' && item.member !== undefined
    ? `Thread in ${pieceName(item.member, analysis)}`
    : capital(nameOf(item.id, analysis));
}

/** What was found on it: `good`, `notchy, play`, or `not looked at`. */
export function wordFound(found: readonly Condition[]): string {
  return found.length === 0 ? 'not looked at' : found.map((one) => CONDITION_WORDS[one]).join(', ');
}

/** What a step wants before it closes. */
export function wordNeed(need: Need, analysis: Analysis, subjects: readonly JobSubject[]): string {
  const about = (asked: { of: string; id: string }): string => {
    const found = subjects.find(({ of, id }) => of === asked.of && id === asked.id);
    return found ? lower(wordSubject(found, analysis)) : asked.id;
  };
  switch (need.what) {
    case 'came':
      return 'Write down the air, or the spring and its turns, as the bike came.';
    case 'air':
      return 'Write down what was put back.';
    case 'torque':
      return `Write down the torque that was reached; set: ${figure(need.set_Nm, 1)} N·m.`;
    case 'felt':
      return `Say what is felt at ${stackName(need.stackId, analysis)}.`;
    case 'condition':
      return `Say how ${about(need.subject)} is.`;
    case 'fate':
      return `${capital(about(need.subject))} was found bad: renew it, mend it, or say why it is fitted for now.`;
    case 'cured':
      return 'The threadlocker is still setting.';
  }
}

/** Why a second person looks at a step and signs. */
export function wordSecond(second: NonNullable<JobStep['second']>): string {
  return second === 'torque'
    ? 'A second person reads the wrench and signs: a wrong torque here gives no sign at the bench.'
    : 'A second person looks which way round it goes and signs: turned round it gives no sign at the bench.';
}

const TOOL_USE = ['turn', 'hold'] as const;

/** A tool of the whole job, and what it does. */
export function wordJobTool({ tool, turns, holds, torques_Nm }: JobTool): Worded {
  const uses = [turns, holds].flatMap((does, k) => (does ? [TOOL_USE[k]!] : []));
  const torques = torques_Nm.map((torque) => figure(torque, 1));
  return {
    title: capital(wordTool(tool)),
    text: `to ${list(uses)}${torques.length > 0 ? `; on the torque wrench to ${list(torques)} N·m` : ''}`,
  };
}

const CONSUMABLE_WORDS: Readonly<Record<Consumable['what'], string>> = {
  threadlocker: 'threadlocker',
  'anti-seize': 'anti-seize paste',
  oil: 'oil',
  grease: 'grease',
  alcohol: 'isopropyl alcohol',
  cloth: 'clean white cloths',
};

/** A consumable with its estimated amount. */
export function wordConsumable({ what, strength, amount, unit }: Consumable): Worded {
  const digits = unit === 'pieces' ? 0 : 1;
  return {
    title: capital(`${CONSUMABLE_WORDS[what]}${strength === undefined ? '' : `, ${strength}`}`),
    text: unit === 'pieces' ? figure(amount, digits) : `about ${figure(Math.max(amount, 0.1), digits)} ${unit}`,
  };
}

/** A line of the order list: what, how many, and its size. */
export function wordOrderLine(line: OrderLine): Worded {
  const { bearing, items, needed, awaited, renewed, kind, name } = line;
  const states = [
    ...(needed > 0 ? [`${needed} to order`] : []),
    ...(awaited > 0 ? [`${awaited} awaited`] : []),
    ...(renewed > 0 ? [`${renewed} renewed`] : []),
  ];
  const state = states.length > 0 ? `: ${states.join(', ')}` : '';
  if (!bearing)
    return { title: name, text: `${count(items.length, kindNamed(kind)?.noun.one ?? kind)}${state || ': as it is'}` };
  const size = `${figure(bearing.bore_mm, 1)} × ${figure(bearing.outside_mm, 1)} × ${figure(bearing.width_mm, 1)} mm`;
  return {
    title: `${bearing.designation === undefined ? 'Bearing' : `Bearing ${bearing.designation}`}, ${size}`,
    text: `${items.length} on the bike, clearance ${bearing.group}${state}`,
  };
}

/** What the letters behind a bearing's number mean, and what may stand in for it; common practice, no source. */
export const STAND_INS: readonly Worded[] = [
  {
    title: '2RS: a rubber lip on both sides',
    text: 'What a pivot wants. 2RS may stand in for 2Z (ZZ), a metal shield on both sides; never the other way round: a shield lets water in.',
  },
  {
    title: 'One lip (RS) or none',
    text: 'Only where the other side is shut in by a cap or a second seal; else it stands dry after the first wash.',
  },
  {
    title: 'Full complement: balls without a cage',
    text: 'May stand in where the arm only swings: it carries more. Not in a wheel, where it would run. Fill it with grease.',
  },
  {
    title: 'Stainless (S or W before the number)',
    text: 'May stand in where salt or a pressure washer comes near. It carries a little less: not where the model is near its load.',
  },
  {
    title: 'CN or no mark, C3: clearance inside',
    text: 'C3 may stand in for CN where the seat presses the bearing tight and it would turn stiff. In a loose seat it adds play: stay with CN.',
  },
  {
    title: 'Same number, another maker',
    text: 'Size and number decide. Width and both diameters must be the same to 0.01 mm; a wider one of the same bore does not go in.',
  },
];

/** What may be tried before a workshop stops, what is never tried, and when the frame goes back to its maker. */
export interface WordedStop extends Worded {
  readonly tries: readonly string[];
  readonly never: readonly string[];
  readonly stop: string;
}

const STOP_WORDS: Readonly<Record<StopCode, WordedStop>> = {
  'seized-axle': {
    title: 'Seized axle',
    text: 'It does not turn or does not come out.',
    tries: [
      'Take off what holds it: nut, end cap, every bolt of the same axis. Let penetrating oil work in from both ends overnight.',
      'Warm the metal round it with hot air, never near carbon, shock, seals or paint. Let the oil draw in as it cools.',
      'Turn it a little each way with a new tool, fully seated. Stop before the tool twists.',
      'Hold the boss up close behind its bore and drive the axle from its tip with a soft drift of its size, in light blows.',
    ],
    never: [
      'No flame, no blow on a thread, no lever between two arms, no press across both arms.',
      'No drill in the axle while it is in the frame, without the maker’s word.',
    ],
    stop: 'It has not moved after the last of these, or an arm moves: stop. The frame goes back to its maker.',
  },
  'rounded-socket': {
    title: 'Rounded socket',
    text: 'The tool turns in the socket.',
    tries: [
      'Clean the socket to its bottom. Press in a new bit, and pull steadily while a second hand pushes it home.',
      'Warm old threadlocker first with hot air, where neither carbon nor the shock is near.',
      'Tap in a star bit of the next size, square, the boss held up from behind.',
      'A left-hand drill and extractor, smaller than the thread’s core, where the hole stays in the bolt.',
    ],
    never: ['No weld on the frame, no grinder near it, no hole wider than the bolt’s core.'],
    stop: 'The drill leaves the middle, or the extractor breaks: stop. The frame goes back to its maker.',
  },
  'torn-thread': {
    title: 'Torn thread in the frame or a member',
    text: 'Crests are torn or flattened in what stays.',
    tries: [
      'Brush and wash it, and run the right axle in by hand: a bruised first turn gives way without force.',
      'Only the first turn is bruised: follow the thread once with a tap of its size, by hand, started square.',
      'More is torn: ask the maker whether a thread insert is allowed there, and which.',
    ],
    never: [
      'No larger thread cut, no threadlocker as filler, no longer bolt to find thread further in.',
      'No torque below the set one to spare it.',
    ],
    stop: 'More than the first turn is torn and the maker allows no insert: stop. The frame goes back to its maker.',
  },
  'loose-seat': {
    title: 'Loose seat',
    text: 'The bearing drops in by its own weight, or has turned in its seat.',
    tries: [
      'Measure the old bearing and a new one across the outside: often it is the bearing that is worn.',
      'Only where the frame maker names it: its own retaining compound, within the gap it states, degreased, and set right through.',
    ],
    never: ['No punch marks, no foil, no knurling, no thick glue: the bearing stands crooked and the seat is lost.'],
    stop: 'A new bearing is loose too and the maker names no compound: stop. The frame goes back to its maker.',
  },
  'oval-seat': {
    title: 'Oval seat',
    text: `The two ways across differ by more than ${figure(JOB_LIMITS.oval_mm.value, 2)} mm.`,
    tries: ['Clean it, let frame and gauge take the room’s warmth, and measure again in three places.'],
    never: ['No reamer, no file, no bearing pressed in to make it round.'],
    stop: 'It is oval again: stop. The frame goes back to its maker.',
  },
  'cracked-arm': {
    title: 'Crack in an arm, a boss or a seat',
    text: 'A line that does not wipe off.',
    tries: [
      'Wipe it with alcohol and look with a lens and a light from the side: a crack in paint alone ends at the paint.',
    ],
    never: ['No weld, no filler, no wrap, no drilled end.', 'No parts fitted over it to hand the bike back meanwhile.'],
    stop: 'It goes into the metal or the fibres, or you cannot tell: stop. The frame goes back to its maker.',
  },
};

/** Trouble with a stop point, in words. */
export function wordStop(stop: StopCode): WordedStop {
  return STOP_WORDS[stop];
}

/** A decision as one line: the trouble, where, and how far it has come. */
export function wordDecision({ stop, subject, tried, tries, came }: JobDecision, analysis: Analysis): string {
  const name = `${STOP_WORDS[stop].title}, ${lower(wordSubject(subject, analysis))}`;
  if (came === 'mended') return `${name}: mended.`;
  if (came === 'to-maker') return `${name}: the frame goes back to its maker.`;
  return `${name}: ${tried} of ${tries} tried.`;
}

/** Day and hour as a shop writes them; the page gives its own clock. */
export type WordTime = (at_ms: number) => string;

/** One open item: what is open, then what to do. */
export function wordOpen(open: OpenItem, analysis: Analysis, time: WordTime): Worded {
  switch (open.is) {
    case 'to-maker':
      return {
        title: `${STOP_WORDS[open.decision.stop].title}: to the maker`,
        text: `${wordDecision(open.decision, analysis)} Hang a note on the bike: not finished, not to be ridden.`,
      };
    case 'decide':
      return { title: `${STOP_WORDS[open.decision.stop].title}: decide`, text: wordDecision(open.decision, analysis) };
    case 'bad':
      return {
        title: `${wordSubject(open.subject, analysis)}: ${wordFound(open.subject.found)}`,
        text: 'Renew it, order it, or say why it is fitted for now.',
      };
    case 'awaited':
      return { title: `Awaited: ${open.what}`, text: `For ${lower(wordSubject(open.subject, analysis))}.` };
    case 'for-now': {
      const opens = open.opens.map((id) => stackName(id, analysis));
      return {
        title: `Fitted for now: ${lower(nameOf(open.id, analysis))}`,
        text: `${capital(open.why.replace(/\.$/, ''))}. ${opens.length === 0 ? 'No pivot is opened for it.' : `When the right part goes in, ${list(opens)} ${opens.length === 1 ? 'is' : 'are'} opened again.`}`,
      };
    }
    case 'torque-off':
      return {
        title: `Torque not reached: ${lower(toldOf(open.stackId, analysis)?.stack.name)}`,
        text: `Reached ${figure(open.reached_Nm, 1)} N·m, set ${figure(open.set_Nm, 1)} N·m. ${open.reached_Nm < open.set_Nm ? 'Tighten it to the set torque.' : 'Loosen it, look at thread and faces, and tighten it anew.'}`,
      };
    case 'wrench':
      return {
        title: `Torque wrench “${open.wrench}”: ${open.why}`,
        text:
          open.why === 'range'
            ? `Tighten ${stackName(open.stackId, analysis)} again with a wrench that has the torque in its good range.`
            : `Its last calibration is unknown or older than ${JOB_LIMITS.calibration_d.value} days: check ${stackName(open.stackId, analysis)} with another wrench.`,
      };
    case 'felt':
      return {
        title: `Felt: ${lower(toldOf(open.stackId, analysis)?.stack.name)}`,
        text: `Open ${stackName(open.stackId, analysis)} again and look, before anything covers it.`,
      };
    case 'put-off':
      return {
        title: `Not yet: ${lower(wordJobStep(open.step, analysis).title)}`,
        text: open.why === '' ? 'No reason given.' : capital(open.why),
      };
    case 'unsigned':
      return {
        title: `Not countersigned: ${lower(wordJobStep(open.step, analysis).title)}, ${stackName(open.step.step.stackId, analysis)}`,
        text: wordSecond(open.step.second ?? 'torque'),
      };
    case 'cures':
      return {
        title: `Threadlocker setting until ${time(open.until_ms)}`,
        text: `${capital(list(open.stacks.map((id) => stackName(id, analysis))))}. Until then the bike stays in the workshop, with a note on it.`,
      };
    case 'first-ride':
      return { title: 'Check after the first ride', text: CAUTIONS.after };
    case 'check-again':
      return { title: 'Check every torque once more', text: 'With the torque list, every axle by name.' };
    case 'feel-again':
      return {
        title: 'Feel the pivots',
        text: 'Shock out: move and rock every arm. A notch or play: open that pivot.',
      };
    case 'strip-again':
      return { title: 'Strip down, clean and look', text: 'Once a season; twice where it is ridden in the wet.' };
  }
}

/** Open items as entries of a calendar; what has no time of its own is told at the first of the others. */
export function wordCalendar(view: JobView, job: Job, id: string, time: WordTime): CalendarEntry[] {
  const about = [view.analysis.model.name, job.reference, job.frame].filter((word) => word !== '').join(', ');
  const dated = view.open.flatMap((open): CalendarEntry[] => {
    if (open.due_ms === undefined) return [];
    const which = open.is === 'awaited' ? `-${open.subject.id.replaceAll('/', '-')}` : '';
    const { title, text } = wordOpen(open, view.analysis, time);
    return [{ uid: `${id}-${open.is}${which}@axlewright`, at_ms: open.due_ms, title: `${title} (${about})`, text }];
  });
  const first_ms = Math.min(...dated.map(({ at_ms }) => at_ms));
  const rest = view.open.filter(({ due_ms }) => due_ms === undefined);
  const also = rest.map((open) => `${wordOpen(open, view.analysis, time).title}.`).join(' ');
  const first = dated.findIndex(({ at_ms }) => at_ms === first_ms);
  return dated.map((entry, k) =>
    k === first && also !== '' ? { ...entry, text: `${entry.text} Still open: ${also}` } : entry,
  );
}

/** What a job on a draft is told where it matters. */
export const JOB_DRAFT_WORDS = {
  came: 'This job’s model is a draft: sizes nobody has read are guesses. Read them at the bike before you trust a step.',
  order: 'Sizes here may be guesses: read the part itself before you order one.',
} as const;

/** Minutes as a shop says them, always as an estimate: `about 1 h 20 min`. */
export function wordMinutes(minutes: number): string {
  const whole = Math.max(5, 5 * Math.round(minutes / 5));
  const [hours, rest] = [Math.floor(whole / 60), whole % 60];
  return minutes === 0
    ? 'nothing left'
    : `about ${[...(hours > 0 ? [`${hours} h`] : []), ...(rest > 0 ? [`${rest} min`] : [])].join(' ')}`;
}

/** How a wrench suits a torque; nothing where it does well. */
export function wordWrenchFit(wrench: Job['wrenches'][string], torque_Nm: number): string | undefined {
  if (!(wrench.most_Nm > wrench.least_Nm)) return undefined;
  const { fit } = judgeWrench(torque_Nm, [wrench.least_Nm, wrench.most_Nm]);
  return {
    good: undefined,
    'lowest-fifth': 'in the lowest fifth of its range, where it is least true',
    'below-range': 'below its range: take a smaller one',
    'above-range': 'above its range: take a larger one',
  }[fit];
}

/** One line of what the shop learns. */
export function wordLearned({ looked, bad, renewed, found, torques, off_Nm }: Learned): string {
  const what = found.map(({ condition, count: times }) => `${CONDITION_WORDS[condition]} ${times}`);
  const worn = looked === 0 ? 'nobody has looked' : `bad in ${bad} of ${count(looked, 'job')}`;
  return [
    `${worn}${what.length > 0 ? ` (${what.join(', ')})` : ''}`,
    ...(renewed > 0 ? [`renewed in ${renewed}`] : []),
    ...(off_Nm
      ? [
          `torque ${off_Nm.mean < 0 ? '−' : '+'}${wordMeasure({ value: Math.abs(off_Nm.mean), unit: 'N·m' })} from set on average over ${torques}`,
        ]
      : []),
  ].join('; ');
}
