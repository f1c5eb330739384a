/**
 * Words for everything the core finds: findings, facings, turning directions and file problems; steps are told in
 * `words/order.ts`.
 *
 * The only place where sentences are made, so that screen, command line and report say the same thing. Numbers come
 * with their unit, forces as kN from 1 kN up. Nothing here promises more than was computed, and nothing says that a
 * bike may be ridden.
 */
import { toldVerdict, type Told } from '../findings/told.ts';
import type { Problem, ProblemCode } from '../model/problems.ts';
import type { DriveTool, LinkageModel, Side } from '../model/schema.ts';
import { lookAlikes } from '../parts/look-alike.ts';
import type { ToolFault } from '../torque/tools.ts';
import { kindNamed } from '../parts/kinds.ts';
import type {
  Analysis,
  Bears,
  FaceReading,
  Finding,
  FindingCode,
  Measure,
  PlacedItem,
  StackAnalysis,
  Tightening,
  Verdict,
} from '../types.ts';
import { figure } from '../numbers/figures.ts';
import { LEAST_STATIC_SAFETY } from '../standards/static-load.ts';
import { capital, few, list, lower } from './figures.ts';

export interface Worded {
  readonly title: string;
  readonly text: string;
}

/** What to heed whatever the model says; common workshop practice, no source. */
export const CAUTIONS = {
  air: 'Let all air out of the shock before you open a pivot, and support the frame so that nothing drops.',
  body: 'Wear eye protection and gloves. Use solvents with the window open and away from flames.',
  carbon:
    'Carbon parts crack without warning: never pry on them, never force a bearing, stop if an arm moves while you tighten.',
  torque: 'The torque in the frame maker’s manual for this year and size comes before the figure shown here.',
  after: 'Check every torque again after the first ride, and test the bike at walking pace before anyone rides it.',
  defer:
    'Axlewright checks fit on paper. The frame maker’s instructions, local rules and a qualified mechanic have the last word.',
} as const;

/** `drive side` or `non-drive side`. */
export function sideWord(side: Side): string {
  return side === 'drive' ? 'drive side' : 'non-drive side';
}

/** What the least clamp of a stack is read on. */
export function wordWeakest(stackId: string, { pivots }: Pick<Analysis, 'pivots'>): string {
  const own = pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId);
  return own?.items.some(({ role }) => role === 'bearing') === false ? 'weakest face' : 'weakest inner ring';
}

/** What each verdict is called, everywhere. */
export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  sound: 'Fits',
  faulty: 'Does not fit',
  unsure: 'Look again',
};

/** The words of a verdict as it is told. */
export function wordVerdict(judged: Told): string {
  return VERDICT_WORDS[toldVerdict(judged)];
}

/** A number with its unit, rounded as a mechanic would read it. */
export function wordMeasure({ value, unit }: Measure): string {
  switch (unit) {
    case 'N':
      return wordForce(value);
    case 'mm':
      return `${figure(value, Math.abs(value) >= 10 ? 1 : 2)} mm`;
    case 'MPa':
      return `${figure(value, 0)} MPa`;
    case 'N·m':
      // As a wrench is read, and as the torque card says it.
      return `${figure(value, 1)} N·m`;
    case '1':
      return figure(value, 2);
  }
}

/** A force, N below 1 kN, kN above. */
export function wordForce(force_N: number): string {
  return Math.abs(force_N) >= 999.5 ? `${figure(force_N / 1000, 1)} kN` : `${figure(force_N, 0)} N`;
}

function allItems(analysis: Analysis): readonly PlacedItem[] {
  return analysis.pivots.flatMap((pivot) => pivot.stacks.flatMap((stack) => stack.items));
}

/**
 * What an item is called before it is told from its twins; of a member's name what stands behind a comma is left out.
 */
function plainName({ role, name }: PlacedItem): string {
  return role === 'boss' ? `${name.split(',')[0]} boss` : name;
}

/** Name of an item as a mechanic would say it: told from its twins by its member, and by its side of the row. */
export function nameOf(id: string, analysis: Analysis): string {
  const item = allItems(analysis).find((candidate) => candidate.id === id);
  if (!item) return id;
  if (item.role === 'axle' || item.role === 'receiver') return item.name;
  const name = plainName(item);
  const twins = allItems(analysis).filter(
    (other) => other.stackId === item.stackId && other.role === item.role && plainName(other) === name,
  );
  if (twins.length < 2) return name;
  const owner = item.seat && new Set(twins.map((twin) => twin.seat?.member)).size > 1 ? item.seat.member : undefined;
  const alike = owner === undefined ? twins : twins.filter((twin) => twin.seat?.member === owner);
  const words = owner === undefined ? [] : [lower(memberName(analysis.model, owner))];
  if (alike.length > 1)
    words.push(
      placeWord(
        alike.findIndex((other) => other.id === id),
        alike.length,
      ),
    );
  return `${name} (${words.join(', ')})`;
}

function placeWord(place: number, count: number): string {
  if (place === 0) return 'non-drive';
  return place === count - 1 ? 'drive' : count === 3 ? 'middle' : `no. ${place + 1} from non-drive`;
}

function names(finding: Finding, analysis: Analysis): string[] {
  return finding.parts.map((id) => nameOf(id, analysis));
}

/** Names of all parts of a finding inside a sentence. */
function listed(finding: Finding, analysis: Analysis): string {
  return list(names(finding, analysis).map(lower));
}

type FindingWords = (finding: Finding, analysis: Analysis) => Worded;

/** A finding of the fit check or of the travel, as its words read it. */
type Numbered = Pick<Finding, 'numbers' | 'limit'> & { readonly code: string };

/** A number of a finding; one that lacks it is a fault of the program. */
export function measureOf(finding: Numbered, key: string): Measure {
  const measure = finding.numbers[key];
  if (!measure) throw new Error(`words: ${finding.code}: no number "${key}"`);
  return measure;
}

/** A number of a finding with its unit. */
export const num = (finding: Numbered, key: string): string => wordMeasure(measureOf(finding, key));

/** The limit of a finding with its unit. */
export const limit = (finding: Numbered): string => {
  if (!finding.limit) throw new Error(`words: ${finding.code}: no limit`);
  return wordMeasure(finding.limit);
};

/** A diameter to the hundredth, however large: fits are told apart by it. */
const fit = (finding: Finding, key: string): string => `${figure(measureOf(finding, key).value, 2)} mm`;
/** A fit to the thousandth, as a micrometer reads it. */
const micron = (finding: Finding, key: string): string => micrometre(measureOf(finding, key).value);
const micrometre = (value_mm: number): string => `${figure(value_mm, 3)} mm`;
const limitMicron = (finding: Finding): string => micrometre(finding.limit?.value ?? NaN);
/** Below this a gap reads as none and a force is not worth a number. */
const NOTHING = { mm: 0.005, N: 1 } as const;
const isPressed = (finding: Finding): boolean => (finding.numbers['force_N']?.value ?? 0) >= NOTHING.N;
const isUnheld = (finding: Finding): boolean => (finding.numbers['least_N']?.value ?? 0) < NOTHING.N;
const isNoGap = (finding: Finding): boolean => (finding.numbers['gap_mm']?.value ?? 0) < NOTHING.mm;
const isStop = (finding: Finding): boolean => finding.severity === 'stop';

const FINDING_WORDS: Readonly<Record<FindingCode, FindingWords>> = {
  'inner-ring-loose': (f, a) => ({
    title: f.parts.length === 1 ? 'Inner ring not clamped' : 'Inner rings not clamped',
    text: `Check the row and the torque at ${listed(f, a)}. ${f.parts.length === 1 ? 'A face of its inner ring' : 'The weakest inner-ring face'} carries ${isUnheld(f) ? 'nothing' : `only ${num(f, 'least_N')}`}; every face must carry at least ${limit(f)}. A loose inner ring turns on the axle and wears it.`,
  }),
  'outer-ring-touched': (f, a) => {
    const [ring, bearing] = names(f, a);
    const drags =
      'The outer ring turns with its arm, so this drags, and what presses here does not clamp the inner ring.';
    if (isPressed(f))
      return {
        title: 'Bears on the outer ring',
        text: `${ring} presses on the outer ring of ${lower(bearing)} with ${num(f, 'force_N')}; at least ${limit(f)} must stay free. ${drags}`,
      };
    if (isNoGap(f))
      return {
        title: 'Bears on the outer ring',
        text: `${ring} touches the outer ring of ${lower(bearing)}; at least ${limit(f)} must stay free. ${drags}`,
      };
    return isStop(f)
      ? {
          title: 'Too close to the outer ring',
          text: `${ring} stands ${num(f, 'gap_mm')} from the outer ring of ${lower(bearing)}; at least ${limit(f)} must stay free. Play in the bearing closes a smaller gap.`,
        }
      : {
          title: 'Runs close to the outer ring',
          text: `${ring} stands ${num(f, 'gap_mm')} from the outer ring of ${lower(bearing)}; a comfortable gap is more than ${limit(f)}.`,
        };
  },
  'seal-rubbed': (f, a) => {
    const [ring, bearing] = names(f, a);
    if (f.about?.['rule'] === 'abutment') {
      return {
        title: 'Reaches past the inner ring’s face',
        text: `${ring} bears out to ${num(f, 'reach_mm')} across on ${lower(bearing)}, whose seal lip is safe up to ${limit(f)}. Turn the arm by hand and feel whether it drags.`,
      };
    }
    const gap = f.numbers['gap_mm']?.value ?? 0;
    const depth =
      gap < 0 ? `pressed ${wordMeasure({ value: -gap, unit: 'mm' })} into it` : `${num(f, 'gap_mm')} from it`;
    const cover =
      (f.numbers['cover_mm']?.value ?? 0) < NOTHING.mm
        ? 'stands over the edge of the seal'
        : `covers ${num(f, 'cover_mm')} of the seal`;
    return {
      title: isStop(f) ? 'Rubs the seal' : 'May rub the seal',
      text: `${ring} ${cover} of ${lower(bearing)}, ${depth}; ${limit(f)} must stay free. ${isStop(f) ? 'It drags, and the lip soon lets water in.' : 'Turn the arm by hand and feel whether it drags.'}`,
    };
  },
  'seal-misfitted': (f, a) => {
    const [seal, by] = names(f, a);
    switch (f.about?.['how']) {
      case 'turned':
        return {
          title: 'Lip looks inward',
          text: `Turn ${lower(seal)} round: its lip must look away from the bearing. As it lies, it scoops dirt in.`,
        };
      case 'left-out':
        return {
          title: 'Seal left out',
          text: `Fit ${lower(seal)}: without it dirt and water get in.`,
        };
      case 'off-face':
        return {
          title: 'Seal off its face',
          text: `Look for the right seal: ${lower(seal)} hangs over the edge of ${lower(by)}, so dirt gets in.`,
        };
      case 'dry':
        return {
          title: 'Seal fitted dry',
          text: `Grease ${lower(seal)} before you fit it: a dry seal tears, and drags.`,
        };
      case 'slack':
        return {
          title: 'Seal hardly squeezed',
          text: `Look for a thicker seal than ${lower(seal)}, or one less worn. ${by} pushes it together by ${num(f, 'squeeze_mm')}; it wants at least ${limit(f)} to keep dirt out.`,
        };
      case 'crushed':
        return {
          title: 'Seal crushed',
          text: `Look for a thinner seal than ${lower(seal)}, or a part that is too short beside it. ${by} pushes it together by ${num(f, 'squeeze_mm')}; beyond ${limit(f)} it tears.`,
        };
      default:
        return {
          title: 'Seal open',
          text: f.numbers['gap_mm']
            ? `Look for the right seal: ${num(f, 'gap_mm')} stays open between ${lower(seal)} and ${lower(by)}, so dirt gets in.`
            : `Look where ${lower(seal)} belongs: nothing lies against it here, so it keeps nothing out.`,
        };
    }
  },
  'spring-misfitted': (f, a) => ({
    title: f.about?.['how'] === 'flat' ? 'Spring pressed flat' : 'Spring hardly pressed',
    text:
      f.about?.['how'] === 'flat'
        ? `Check the torque, and which springs lie at ${listed(f, a)}. Pressed by ${num(f, 'pressed_mm')} of ${num(f, 'flat_mm')}: beyond ${limit(f)} a spring cannot give any more.`
        : `Look for a part left out, or a worn spring, at ${listed(f, a)}. Pressed by ${num(f, 'pressed_mm')} of ${num(f, 'flat_mm')}: from ${limit(f)} on it holds its neighbours still.`,
  }),
  'circlip-misfitted': (f, a) => {
    const [clip, bearing] = names(f, a);
    const isOnShaft = f.about?.['on'] === 'shaft';
    switch (f.about?.['how']) {
      case 'left-out':
        if (isOnShaft)
          return {
            title: 'Circlip missing',
            text: `Snap the circlip into the groove at the tip of ${lower(clip!)}. Without it nothing keeps the axle in once its thread works loose.`,
          };
        return {
          title: 'Circlip missing',
          text: `Snap the circlip into its groove before ${lower(clip!)}. Without it only the press of the seat keeps the bearing in.`,
        };
      case 'other-size':
        return {
          title: 'Another circlip',
          text: `Take another circlip than ${lower(clip!)}: it is made for a groove of ${num(f, 'ring_mm')}, and this one has ${num(f, 'groove_mm')}.`,
        };
      case 'too-thick':
        return {
          title: 'Circlip too thick',
          text: `Take a thinner circlip than ${lower(clip!)}, ${num(f, 'thickness_mm')} thick: the groove is ${num(f, 'width_mm')} wide, and it cannot snap in.`,
        };
      case 'no-room':
        if (isOnShaft)
          return {
            title: 'Circlip does not snap in',
            text: `Look for what holds ${lower(bearing!)} ${num(f, 'over_mm')} too far out: its groove is covered, and ${lower(clip!)} cannot snap in.`,
          };
        return {
          title: 'Circlip does not snap in',
          text: `Press ${lower(bearing!)} home, or look for a narrower one: it stands ${num(f, 'over_mm')} in the way of ${lower(clip!)}.`,
        };
      case 'play':
        if (isOnShaft)
          return {
            title: 'Circlip too far out',
            text: `Look for the right axle: ${lower(clip!)} leaves ${lower(bearing!)} ${num(f, 'play_mm')}, more than the ${limit(f)} of thread that hold it.`,
          };
        return {
          title: 'Bearing may wander',
          text: `Look for a thicker circlip, or a wider bearing: ${lower(clip!)} leaves ${lower(bearing!)} ${num(f, 'play_mm')}; ${limit(f)} is usual.`,
        };
      case 'turned':
        return {
          title: 'Circlip back to front',
          text: `Turn ${lower(clip!)} round: its sharp edge bites on the wall of the groove only when it looks ${isOnShaft ? 'to the tip' : 'away from the bearing'}.`,
        };
      default:
        return {
          title: 'Circlip overloaded',
          text: `Find out what pushes ${lower(bearing!)} with ${num(f, 'push_N')}: ${lower(clip!)} in its groove carries ${limit(f)}.`,
        };
    }
  },
  'tip-misfitted': (f, a) => {
    const [part = '', axle = ''] = names(f, a).map(lower);
    const pinch = isPinched(f.parts[0]!, a);
    switch (f.about?.['how']) {
      case 'left-out':
        return { title: 'Lock left out', text: `Fit ${part} and tighten it: without it the axle may work loose.` };
      case 'left-loose':
        return {
          title: 'Left loose',
          text: `Tighten ${pinch ? `the pinch bolt of ${part}` : part} to its own torque, once ${axle} has its: nothing holds it as it is.`,
        };
      case 'other-thread':
        return {
          title: 'Lock nut of another thread',
          text: `Look for the right lock nut: ${part} is cut M${num(f, 'thread_mm')}, ${axle} M${num(f, 'axle_mm')}, or their pitch or hand differs. It would strip both.`,
        };
      case 'little-thread':
        return {
          title: 'Too little thread for the lock nut',
          text: `Check which nut went on first: ${axle} reaches ${num(f, 'has_mm')} into ${part}, and ${limit(f)} is the least that holds it.`,
        };
      case 'on-shoulder':
        return {
          title: 'Lock nut on a shoulder',
          text: `Look for a part too little in the row: ${part} stands ${num(f, 'room_mm')} before the shoulder of ${axle}; with less than ${limit(f)} it locks nothing.`,
        };
      case 'too-narrow':
        return {
          title: 'Clamp too narrow',
          text: `Take another clamp: the bore of ${part} is ${num(f, 'bore_mm')}, and ${axle} is ${num(f, 'axle_mm')} thick there. Never wedge a slot open.`,
        };
      case 'will-not-close':
        return {
          title: pinch ? 'Boss too wide for its bolt' : 'Clamp too wide',
          text: pinch
            ? `Look for wear: ${part} has ${num(f, 'room_mm')} of room on ${axle}, and its slot closes by ${limit(f)} at the most. Never force its bolt.`
            : `Take another clamp, or look for wear: ${part} has ${num(f, 'room_mm')} of room on ${axle}, and its slot closes by ${limit(f)} at the most.`,
        };
      case 'off-the-tip':
        return {
          title: 'Clamp off the tip',
          text: `Look for a part too much in the row: ${axle} reaches ${num(f, 'on_mm')} into ${part}, which is ${num(f, 'length_mm')} long. It has to hold on half of that at least.`,
        };
      default:
        return {
          title: 'Expander does not spread the tip',
          text: `Take another expander: its cone runs from ${num(f, 'small_mm')} to ${num(f, 'large_mm')} in a hole of ${num(f, 'hole_mm')}, and the tip of ${axle} has ${num(f, 'room_mm')} to fill.`,
        };
    }
  },
  'arm-rubbed': (f, a) => {
    const [still, free] = names(f, a);
    const rest = isStop(f)
      ? `it must turn free, with at least ${limit(f)}`
      : `a comfortable gap is more than ${limit(f)}`;
    if (isPressed(f))
      return { title: 'An arm rubs', text: `${free} presses on ${lower(still)} with ${num(f, 'force_N')}; ${rest}.` };
    if (isNoGap(f)) return { title: 'An arm rubs', text: `${free} touches ${lower(still)}; ${rest}.` };
    return {
      title: isStop(f) ? 'Too little room for an arm' : 'An arm runs close',
      text: `${free} stands ${num(f, 'gap_mm')} from ${lower(still)}; ${rest}.`,
    };
  },
  'arm-drawn': (f, a) => ({
    title: `${f.parts.length > 1 ? 'Arms' : 'Arm'} ${f.about?.['way'] === 'out' ? 'pushed out' : 'drawn in'}`,
    text: `Look for a spacer that is ${f.about?.['way'] === 'out' ? 'too long' : 'missing or too short'}. Tightening bends ${listed(f, a)} ${f.about?.['way'] === 'out' ? 'outward' : 'inward'} by ${f.parts.length > 1 ? 'up to ' : ''}${num(f, 'bend_mm')}; ${limit(f)} is the most a ${f.about?.['material'] === 'carbon' ? 'carbon' : 'metal'} arm should see. That takes ${num(f, 'force_N')} of the clamp, and the axle comes up tight all the same.`,
  }),
  'member-off-line': (f, a) => ({
    title: 'A member sits off its line',
    text: `${capital(memberName(a.model, f.about?.['member']))} is pulled ${num(f, 'shift_mm')} to the ${sideWord(f.about?.['side'] === 'drive' ? 'drive' : 'non-drive')} against ${f.about?.['anchor'] === undefined ? 'its neighbours' : lower(memberName(a.model, f.about['anchor']))}; ${limit(f)} is the most. Other pivots that hold it will pull it back and load their bearings sideways.`,
  }),
  'bearing-side-loaded': (f, a) => ({
    title: f.parts.length > 1 ? 'Bearings carry a side load' : 'Bearing carries a side load',
    text: `Tightening alone pushes ${listed(f, a)} sideways with ${f.parts.length > 1 ? 'up to ' : ''}${num(f, 'load_N')}; ${limit(f)} is the limit. ${isStop(f) ? (measureOf(f, 'safety').value < LEAST_STATIC_SAFETY ? 'The balls dent their tracks: it will feel notchy.' : 'It drags a little, and wears out early.') : 'More than half of it is used up before anyone sits on the bike.'}`,
  }),
  'bearing-not-home': (f, a) => ({
    title: 'Bearing not home',
    text: `Press ${lower(names(f, a)[0])} home before you build on: it stands ${num(f, 'proud_mm')} off its shoulder; ${limit(f)} is the most.`,
  }),
  'side-play': (f, a) => ({
    title: 'Column not closed',
    text: `${num(f, 'play_mm')} stays open in the clamp column at ${listed(f, a)}. ${f.about?.['held'] === 'balls' ? 'Only the balls hold the inner rings: no play is felt while the axle is tight, and they wear fast.' : 'The pivot has side play however tight the axle is.'}`,
  }),
  'bottoms-before-clamp': (f, a) => {
    const [axle, receiver] = names(f, a).map(lower);
    const [own, other] = f.about?.['of'] === 'receiver' ? [receiver, axle] : [axle, receiver];
    const where: Readonly<Record<string, string>> = {
      thread: 'at the end of its thread',
      shank: 'with its shank',
      tip: 'with its tip',
      head: 'with its head',
    };
    return {
      title: 'Bottoms before it clamps',
      text: `${capital(own ?? '')} meets ${other} ${where[f.about?.['where'] ?? 'thread']} first, which takes ${num(f, 'lost_N')} of the ${num(f, 'preload_N')}. The wrench clicks all the same; that much never reaches the rings.`,
    };
  },
  'thread-mismatch': (f, a) => ({
    title: 'Threads do not match',
    text: `${names(f, a)[0]} has ${threadWord(f, 'axle')}, ${f.about?.['against'] === 'spec' ? `and so has ${lower(names(f, a)[1])}; the pivot calls for` : `${lower(names(f, a)[1])} has`} ${threadWord(f, 'receiver')}. Never force a thread.`,
  }),
  'thread-too-short': (f, a) => ({
    title: f.about?.['starts'] === 'no' ? 'Thread does not reach' : 'Too little thread engaged',
    text: `${capital(listed(f, a))} share ${num(f, 'engagement_mm')} of thread; ${limit(f)} are needed.`,
  }),
  'axle-will-not-pass': (f, a) => {
    const side = sideWord(f.about?.['side'] === 'drive' ? 'drive' : 'non-drive');
    const why =
      f.about?.['reason'] === 'thread-opens-other-side'
        ? 'the thread it must reach opens to the other side'
        : f.about?.['reason'] === 'receiver-is-here'
          ? 'the thread it must reach is on this side'
          : `it is ${fit(f, 'axle_mm')} thick. The bore of ${few(names(f, a).slice(1).map(lower))} is ${f.parts.length > 2 ? 'as little as ' : ''}${fit(f, 'bore_mm')}`;
    return { title: 'Axle will not pass', text: `${names(f, a)[0]} cannot go in from the ${side}: ${why}.` };
  },
  'row-too-long': (f, a) => ({
    title: isStop(f) ? 'Too long to go together' : 'Goes together only by force',
    text: `Between ${listed(f, a)} the row is too long for its place. It presses with ${num(f, 'push_N')} before the axle is tight; ${isStop(f) ? `a lever or a mallet gives ${limit(f)}, and the thread only pulls together` : `a hand gives ${limit(f)}`}. ${isStop(f) ? 'Nothing is clamped until it is mended' : 'Do not force it'}: look for a wrong spacer, or a bearing that is not home.`,
  }),
  'bore-mismatch': (f, a) =>
    f.about?.['what'] === 'seat'
      ? {
          title: 'Bearing does not suit its seat',
          text: `${names(f, a)[0]} is ${fit(f, 'outside_mm')} outside, its seat ${fit(f, 'seat_mm')}; they must agree within ${limit(f)}.`,
        }
      : {
          title: 'Bore too wide for the axle',
          text: `${names(f, a)[0]} has a bore of ${fit(f, 'bore_mm')} where ${lower(names(f, a)[1])} is ${fit(f, 'axle_mm')} thick; ${limit(f)} of clearance is the most.`,
        },
  'fit-too-tight': (f, a) => wordTight(f, names(f, a).map(lower)),
  'fit-too-loose': (f, a) => wordLoose(f, names(f, a).map(lower)),
  'bearing-recessed': (f, a) => ({
    title: 'Bearing narrower than its seat',
    text: `${names(f, a)[0]} is ${fit(f, 'width_mm')} wide, its seat ${fit(f, 'depth_mm')} deep: it ends ${fit(f, 'below_mm')} below the face. Check that nothing is missing above it.`,
  }),
  'part-missing': (f, a) => {
    if (f.numbers['used']) {
      return {
        title: 'Fewer on the list than in the rows',
        text: `The rows use ${num(f, 'used')} × ${f.about?.['name'] ?? ''}; the parts list has ${num(f, 'listed')}.`,
      };
    }
    if (f.about?.['cause'] === 'seat')
      return {
        title: 'An empty seat',
        text: `Press a bearing into ${lower(names(f, a)[0])} from the ${sideWord(f.about['side'] === 'drive' ? 'drive' : 'non-drive')} first: its seat there, ${num(f, 'seat_mm')} wide, is empty.`,
      };
    const [first, ...more] = names(f, a);
    const between = more.slice(0, -1);
    const beside = between.length > 0 ? `, beside ${few(between.map(lower))}` : '';
    const { title, text } = gapWords(f.about ?? {}, a);
    const gap = `${num(f, 'free_mm')} stands open between ${lower(first)} and ${lower(more.at(-1))}${beside}.`;
    return { title, text: text === '' ? gap : `${text} ${gap}` };
  },
  'part-left-over': (f) => ({
    title: 'Left over in the tray',
    text: `The parts list has ${num(f, 'listed')} × ${f.about?.['name'] ?? ''}; the rows use ${num(f, 'used')}. Find out whether it was forgotten or belongs to another variant of the frame.`,
  }),
  'face-crushed': (f, a) => ({
    title: isStop(f) ? 'Face crushed' : 'Face pressed hard',
    text: `${names(f, a)[0]} presses on ${lower(names(f, a)[1])} with up to ${num(f, 'pressure_MPa')} at this torque. ${capital(f.about?.['material'] ?? 'the softer part')} takes ${limit(f)}.`,
  }),
  'axle-overstressed': (f, a) => ({
    title: isStop(f) ? 'Axle overstressed' : 'Axle near its yield',
    text: `${names(f, a)[0]} is stressed to ${num(f, 'stress_MPa')} at the most that this torque pulls; ${limit(f)} is the most while tightening, and it yields at ${num(f, 'yield_MPa')}.`,
  }),
  'clamp-too-low': (f, a) => ({
    title: 'Clamp too low',
    text: `Of the ${num(f, 'preload_N')} that ${lower(names(f, a)[0])} pulls with, only ${num(f, 'clamp_N')} reach the weakest inner ring; at least ${limit(f)} should. The rest bends arms or is lost on the way.`,
  }),
  'edge-contact': (f, a) => ({
    title: 'Bears on an edge',
    text: `${capital(listed(f, a))} meet only on an edge at radius ${num(f, 'radius_mm')}, with ${num(f, 'force_N')}. An edge digs in, and the clamp fades.`,
  }),
  'turns-against-habit': (f, a) => ({
    title: 'Tightens anticlockwise',
    text: `Seen from where you stand, on the ${sideWord(f.about?.['side'] === 'drive' ? 'drive' : 'non-drive')}, ${lower(names(f, a)[0])} tightens anticlockwise. It looks like undoing; it is not.`,
  }),
  'torque-too-low': torqueLow,
  'torque-too-high': torqueHigh,
  'tool-mismatch': (f, a) => {
    const tool = toolOf(f);
    const what = lower(names(f, a)[0]);
    return TOOL_WORDS[(f.about?.['why'] ?? 'no-such-size') as ToolFault](f, tool, what);
  },
  'size-doubtful': (f, a) => {
    const what = names(f, a)[0]!;
    switch (f.about?.['what']) {
      case 'pitch':
        return {
          title: 'A pitch no standard has',
          text: `${what} is given as ${threadWord(f, 'thread')}; the nearest standard pitch is ${limit(f)}. Put a pitch gauge on it and correct the file.`,
        };
      case 'size':
        return {
          title: 'A thread size no standard has',
          text: `${what} is given as ${threadWord(f, 'thread')}; the nearest standard size is ${limit(f)}. Measure across the crests and correct the file.`,
        };
      case 'bore-wide':
        return {
          title: 'Hole wider than its thread',
          text: `${what} has a hole of ${num(f, 'bore_mm')} for a thread of ${limit(f)}. No thread would be left: measure the hole again.`,
        };
      default:
        return {
          title: 'Hole too narrow for its thread',
          text: `${what} has a hole of ${num(f, 'bore_mm')}; its thread needs ${limit(f)} all the way through. Measure the hole again.`,
        };
    }
  },
  'estimate-used': (f) => ({
    title: f.about?.['decides'] === 'yes' ? 'An estimate decides' : 'Rests on estimates',
    text: `${(f.rests ?? []).map((what) => capital(wordEstimate(what))).join('. ')}. ${f.about?.['decides'] === 'yes' ? 'Within that spread the verdict changes: measure before you trust it.' : 'The verdict stays the same at both ends of that spread.'}`,
  }),
};

/** What a gap in the row comes from: what to do about it. */
function gapWords(about: Readonly<Record<string, string>>, analysis: Analysis): Worded {
  const nameAt = (key: string): string => lower(nameOf(about[key] ?? '', analysis));
  switch (about['cause']) {
    case 'swapped':
      return {
        title: 'Two spacers swapped',
        text: `Exchange ${nameAt('one')} and ${nameAt('other')}: each has the length that the other’s place calls for.`,
      };
    case 'short':
      return {
        title: 'Spacer too short for its place',
        text: `Try ${lower(about['name'])} in place of ${nameAt('one')}: it has the length that is called for.`,
      };
    case 'missing':
      return {
        title: 'A spacer seems to be missing',
        text: `Look in the tray for ${lower(about['name'])}: it has the length that is missing.`,
      };
    default:
      return { title: 'A gap in the row', text: 'Look for a spacer that is missing or too short.' };
  }
}

/** The class of a seat or a shank, where the drawing gives one. */
const fitClass = (f: Finding): string => (f.about?.['class'] === undefined ? '' : ` ${f.about['class']}`);
const MAKER_FIRST = 'The frame maker’s figure comes first.';

/** A press that takes too much; `whole` are the bearing and, on an axle, the axle. */
function wordTight(f: Finding, [bearing = '', axle = '']: readonly string[]): Worded {
  if (f.about?.['what'] === 'eye')
    return {
      title: isStop(f) ? 'Too thick for its bush' : 'Hardly any room in the bush',
      text: `${capital(axle)} is ${micron(f, 'axle_mm')} thick, the bore of ${bearing} ${micron(f, 'bore_mm')} once it is pressed in. ${isStop(f) ? 'Take the right size: forced in, the eye does not turn' : 'Feel whether the eye turns by itself'}. ${MAKER_FIRST}`,
    };
  if (f.about?.['what'] === 'lining')
    return {
      title: 'Bush too thick for its eye',
      text: `Measure again before you press: ${bearing} is ${micron(f, 'outside_mm')} outside, its bore ${micron(f, 'eye_mm')}. A press of ${micron(f, 'press_mm')} crushes it; ${limitMicron(f)} is the most. ${MAKER_FIRST}`,
    };
  const onAxle = f.about?.['what'] === 'axle';
  const sizes = onAxle
    ? `${capital(axle)} is ${micron(f, 'axle_mm')}${fitClass(f)} thick in the ${micron(f, 'bore_mm')} bore of ${bearing}`
    : `${capital(bearing)} is ${micron(f, 'outside_mm')} outside, its seat ${micron(f, 'seat_mm')}${fitClass(f)}`;
  if (f.about?.['rule'] === 'press')
    return {
      title: 'Axle is a press fit',
      text: `${sizes}. It takes about ${num(f, 'push_N')}: press it with the inner ring held, never through the balls. ${MAKER_FIRST}`,
    };
  if (f.about?.['rule'] === 'carbon')
    return {
      title: isStop(f) ? 'Seat too tight for carbon' : 'Tight in a carbon seat',
      text: `${sizes}: a press of ${micron(f, 'press_mm')}; carbon takes ${limitMicron(f)} at the most. ${isStop(f) ? 'Do not press it in' : 'Measure before you press'}: a split seat cannot be mended. ${MAKER_FIRST}`,
    };
  const group = f.about?.['group'] ?? '';
  return {
    title: onAxle ? 'Axle too tight for the bearing' : 'Seat too tight for the bearing',
    text: `${sizes}. The press takes ${micron(f, 'lost_mm')} of clearance; a ${group} bearing has ${isStop(f) ? 'at most' : 'about'} ${limitMicron(f)}. ${isStop(f) ? 'It would turn rough. Do not press it in' : 'Feel whether it still turns freely'}: check the size against the frame maker’s figure, or fit one with more clearance.`,
  };
}

/** A fit with room in it. */
function wordLoose(f: Finding, [item = '', axle = '']: readonly string[]): Worded {
  switch (f.about?.['what']) {
    case 'seat':
      return {
        title: isStop(f) ? 'Seat too wide for the bearing' : 'Bearing may turn in its seat',
        text: `The seat of ${item} is ${micron(f, 'seat_mm')}${fitClass(f)}, ${micron(f, 'wide_mm')} over the ring; ${limitMicron(f)} ${isStop(f) ? 'is the widest made for a bearing' : 'still holds it'}. ${isStop(f) ? 'Look for wear: the seat needs mending' : 'It may need retaining compound'}. ${MAKER_FIRST}`,
      };
    case 'axle':
      return {
        title: isStop(f) ? 'Axle loose in the bearing' : 'Axle thin for the bearing',
        text: `${capital(axle)} is ${micron(f, 'axle_mm')}${fitClass(f)} thick in the ${micron(f, 'bore_mm')} bore of ${item}: ${micron(f, 'play_mm')} of play, ${limitMicron(f)} at the most. ${isStop(f) ? 'Renew a worn axle' : 'Measure it with a micrometer, and look for wear'}. ${MAKER_FIRST}`,
      };
    case 'eye':
      return {
        title: isStop(f) ? 'Bush worn out' : 'Bush has much room',
        text: `${capital(item)} has a bore of ${micron(f, 'bore_mm')} on ${axle}, ${micron(f, 'axle_mm')} thick: ${micron(f, 'play_mm')} of play, ${limitMicron(f)} at the most. ${isStop(f) ? 'Renew the bush' : 'Measure both, and look for wear'}. ${MAKER_FIRST}`,
      };
    case 'lining':
      return {
        title: 'Bush loose in its eye',
        text: `Look for another bush, or wear of the eye: ${item} is ${micron(f, 'outside_mm')} outside, its bore ${micron(f, 'eye_mm')}. Nothing keeps it from turning and wandering there. ${MAKER_FIRST}`,
      };
    case 'bush':
      return {
        title: isStop(f) ? 'Bush loose on the axle' : 'Bush has much room on the axle',
        text: `${capital(item)} has a bore of ${micron(f, 'bore_mm')} on ${axle}, ${micron(f, 'axle_mm')}${fitClass(f)} thick: ${micron(f, 'play_mm')} of play, ${limitMicron(f)} at the most. ${isStop(f) ? 'Renew the bush' : 'Measure both, and look for wear'}. ${MAKER_FIRST}`,
      };
    default:
      return {
        title: isStop(f) ? 'Axle loose in its bore' : 'Axle has room in its bore',
        text: `${capital(axle)} is ${micron(f, 'axle_mm')}${fitClass(f)} thick in the ${micron(f, 'bore_mm')} bore of ${item}: ${micron(f, 'play_mm')} of play, ${limitMicron(f)} at the most. Look for wear in both. ${MAKER_FIRST}`,
      };
  }
}

/** What to do where the setting itself may be wrong: the maker's figure comes before ours. */
const READ_AGAIN = 'Read the torque in the frame maker’s manual again: that figure comes first.';

function torqueLow(f: Finding, a: Analysis): Worded {
  if (f.about?.['rule'] === 'reached')
    return {
      title: 'Too little torque reached',
      text: `${reachedWords(f, a)} Set the wrench to it and pull until it clicks.${lockWords(f)}`,
    };
  const axle = names(f, a)[0]!;
  if (f.about?.['rule'] === 'settles')
    return {
      title: 'The clamp may fade',
      text: `${axle} at ${num(f, 'torque_Nm')}: faces bed in and may take ${num(f, 'loss_N')} of the clamp. ${limit(f)} keeps enough, or a thread that is locked. ${READ_AGAIN}`,
    };
  if (f.about?.['rule'] === 'lost')
    return {
      title: isStop(f) ? 'Torque too low' : 'Torque perhaps too low',
      text: `${axle} at ${num(f, 'torque_Nm')}: faces bed in and may take ${num(f, 'loss_N')}, all there is of the clamp. ${num(f, 'possible_Nm')} is the least, ${limit(f)} is sure. ${READ_AGAIN}`,
    };
  return isStop(f)
    ? {
        title: 'Torque too low',
        text: `${axle} at ${num(f, 'torque_Nm')} cannot hold the inner rings, however little the thread rubs: ${num(f, 'possible_Nm')} is the least, ${limit(f)} is sure. ${READ_AGAIN}`,
      }
    : {
        title: 'Torque perhaps too low',
        text: `${axle} at ${num(f, 'torque_Nm')} holds the inner rings only if the thread rubs little; ${limit(f)} is sure. ${READ_AGAIN}`,
      };
}

/** What was reached where, beside the setting: two axles of a pivot may share a name, their stacks do not. */
function reachedWords(f: Finding, a: Analysis): string {
  const stack = a.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === f.stack);
  return `${stack?.name ?? names(f, a)[0]}: ${num(f, 'reached_Nm')} was reached, the setting is ${num(f, 'torque_Nm')}.`;
}

/** What too much torque does to one part, or somewhere in the row, by the limit it passes first. */
const WHAT_GIVES: Readonly<Record<string, (part: string) => string>> = {
  'axle-yield': (part) => `twists and stretches ${part} for good`,
  'axle-proof': (part) => `stretches ${part} for good`,
  'head-shears': (part) => `may shear off the head of ${part}`,
  'thread-strips': (part) => `may strip the thread of ${part}`,
  'face-pressed': () => 'presses faces out of shape',
  'carbon-pressed': () => 'crushes the carbon',
  'wall-pressed': () => 'may fold a thin wall',
};

/** Limits that the parts of a row share: where they give is a sentence of its own. */
const IN_THE_ROW: Readonly<Record<string, 'pair' | 'each'>> = {
  'face-pressed': 'pair',
  'carbon-pressed': 'pair',
  'wall-pressed': 'each',
};

/** Where several parts give at once: the first pair or the first two by name, and how many more there are. */
export function wordFirst(parts: readonly string[], kind: string, analysis: Analysis): string {
  const named = parts.slice(0, 2).map((id) => lower(nameOf(id, analysis)));
  const more = parts.length - named.length;
  const others =
    more === 0
      ? ''
      : `; ${more === 1 ? 'one more part gives' : `${more} more parts give`} with ${named.length > 1 ? 'them' : 'it'}`;
  return `${IN_THE_ROW[kind] === 'pair' ? `where ${named.join(' meets ')}` : `at ${list(named)}`}${others}`;
}

function torqueHigh(f: Finding, a: Analysis): Worded {
  if (f.about?.['rule'] === 'reached')
    return {
      title: 'Too much torque reached',
      text: `${reachedWords(f, a)} Take it out, look at thread, faces and head, and replace what is stretched or marked. A torque wrench cannot show this afterwards: it only shows too little.${lockWords(f)}`,
    };
  const first = f.about?.['first'] ?? '';
  const what = `${num(f, 'torque_Nm')} ${(WHAT_GIVES[first] ?? ((part) => `may harm ${part}`))(listed(f, a))}`;
  const where = IN_THE_ROW[first] === undefined ? '' : ` It begins ${wordFirst(f.parts, first, a)}.`;
  const most = `${limit(f)} is the most that is sure.`;
  return isStop(f)
    ? {
        title: 'Torque too high',
        text: `${READ_AGAIN} ${what}, however hard the thread rubs.${where} ${most}`,
      }
    : {
        title: 'Torque perhaps too high',
        text: `${READ_AGAIN} If the thread rubs little, ${what}.${where} ${most}`,
      };
}

/** A bond that has been moved holds no more; what comes out is cleaned in any case. */
function lockWords({ code, about }: Finding): string {
  if (about?.['lock'] !== 'yes') return '';
  return code === 'torque-too-high'
    ? ' Clean off the old threadlocker and lock it anew.'
    : ' If the threadlocker has begun to cure, take the thread out, clean it and lock it anew: a bond that was moved does not hold.';
}

function toolOf({ about }: Finding): string {
  const kind = about?.['tool'];
  return aTool(
    kind === undefined ? undefined : { tool: kind as DriveTool['tool'], size_mm: Number(about?.['size'] ?? 0) },
  );
}

const TOOL_WORDS: Readonly<Record<ToolFault, (f: Finding, tool: string, what: string) => Worded>> = {
  'no-such-size': (_, tool, what) => ({
    title: 'No such tool',
    text: `Nobody makes ${tool}. Measure what ${what} takes and correct the file.`,
  }),
  'wider-than-part': (f, tool, what) => ({
    title: 'The tool does not fit the part',
    text: `${capital(tool)} is wider than ${what}, which is ${num(f, 'across_mm')} across there. Measure again which tool it takes.`,
  }),
  'flats-in-thread': (f, tool, what) => ({
    title: 'The tool does not fit the part',
    text: `${capital(tool)} would grip inside the ${num(f, 'thread_mm')} thread of ${what}. Measure its flats again.`,
  }),
  'flats-thin': (f, tool, what) => ({
    title: 'Flats close to the thread',
    text: `Flats for ${tool} leave ${what} little wall round its ${num(f, 'thread_mm')} thread; standard nuts have ${limit(f)} and more. Measure its flats again.`,
  }),
  'key-in-bore': (f, tool, what) => ({
    title: 'The key finds no hold',
    text: `${capital(tool)}, ${num(f, 'corner_mm')} across its corners, turns free in the ${num(f, 'bore_mm')} bore of ${what}. Measure socket and bore again.`,
  }),
  'socket-shallow': (f, tool, what) => ({
    title: 'Head too thin for its socket',
    text: `The head of ${what} is ${num(f, 'height_mm')} thick; ${tool} needs a socket ${limit(f)} deep. A shallow socket rounds off: measure again.`,
  }),
  'key-weak': (f, tool, what) => ({
    title: 'More torque than the key takes',
    text: `${num(f, 'torque_Nm')} on ${what} is more than the ${limit(f)} that ${tool} is made for. Use a new bit, push it fully home, and read the manual again.`,
  }),
  'too-deep': (f, tool, what) => ({
    title: 'Too deep for the tool',
    text: `The end of ${what} lies ${num(f, 'depth_mm')} deep; ${tool} gets ${limit(f)} in. Measure again, or find a longer tool.`,
  }),
  'no-wrench': (f, _, what) => ({
    title: 'No torque wrench for this',
    text: `No wrench at hand can be set to ${num(f, 'torque_Nm')} for ${what}. ${f.limit ? `The nearest ends at ${limit(f)}. ` : ''}Find one that has it well inside its range.`,
  }),
};

function wordEstimate(what: string): string {
  const known: Record<string, string> = {
    shoulders: 'the ring faces of a bearing are estimated, not taken from its maker’s table',
    'axial-play': 'the axial play of the bearings is estimated from their size',
    'axial-stiffness': 'the axial stiffness of the bearings is estimated from their size',
    edges: 'broken edges that the file does not give are an estimate, 0.2 mm, on bosses 0.5 mm',
    'seal-recess': 'how far the seals stand below the ring faces is an estimate, 0.1 mm',
    'arm-stiffness': 'the stiffness of an arm is estimated from its web',
    'static-rating': 'the static rating of a bearing is estimated from its size',
    material: 'the strength of the material is an estimate',
  };
  return known[what] ?? what;
}

function threadWord(finding: Finding, which: 'axle' | 'receiver' | 'thread'): string {
  const size = finding.numbers[`${which}Size_mm`]?.value ?? 0;
  const pitch = finding.numbers[`${which}Pitch_mm`]?.value ?? 0;
  return `M${figure(size, 1)}×${figure(pitch, 2)}${finding.about?.[`${which}Hand`] === 'left' ? ' left-hand' : ''}`;
}

function memberName(model: LinkageModel, id: string | undefined): string {
  return (id !== undefined && model.members[id]?.name) || 'the member';
}

/** Title and sentence of a finding; one that rests on an estimate says so. */
export function wordFinding(finding: Finding, analysis: Analysis): Worded {
  const { title, text } = FINDING_WORDS[finding.code](finding, analysis);
  const rests = finding.code === 'estimate-used' ? [] : (finding.rests ?? []);
  const estimate = rests.map((what) => ` ${capital(wordEstimate(what))}.`).join('');
  return { title, text: `${text}${facingHint(finding, analysis)}${estimate}` };
}

const RUBS: readonly FindingCode[] = ['outer-ring-touched', 'seal-rubbed', 'arm-rubbed'];

/** Where a spacer with two ways rubs with its large face, say so: turning it round is the first thing to try. */
function facingHint({ code, parts }: Finding, analysis: Analysis): string {
  if (!RUBS.includes(code)) return '';
  const [spacer, free] = parts.map((id) => allItems(analysis).find((item) => item.id === id));
  if (!spacer?.smallFace || !free) return '';
  const side: Side = free.from_mm + free.to_mm > spacer.from_mm + spacer.to_mm ? 'drive' : 'non-drive';
  return spacer.smallFace === side ? '' : ' The large face looks this way: check that the spacer is not turned round.';
}

/** What a face bears on, in two or three words. */
export function wordBears(bears: Bears): string {
  return {
    'inner-ring': 'inner ring',
    'outer-ring': 'outer ring',
    seal: 'seal',
    arm: 'boss',
    land: 'head or nut face',
    ring: 'another part',
    nothing: 'nothing',
  }[bears];
}

/** One face in words: what it bears on and with what force, or how far the next thing is. */
export function wordFace(reading: FaceReading, analysis: Analysis): string {
  if (reading.bears === 'nothing') {
    return reading.nearest
      ? `bears on nothing; ${nameOf(reading.nearest.with, analysis)} is ${wordMeasure({ value: reading.nearest.gap_mm, unit: 'mm' })} away`
      : 'bears on nothing';
  }
  const worst = reading.touches.find((touch) => touch.bears === reading.bears) ?? reading.touches[0]!;
  const what =
    worst.bears === 'inner-ring' || worst.bears === 'outer-ring' || worst.bears === 'seal'
      ? `the ${wordBears(worst.bears)} of ${nameOf(worst.with, analysis)}`
      : nameOf(worst.with, analysis);
  // A force is told of the thing that carries it: a seal that is touched carries none, whatever the ring beside it
  // does.
  const force_N = reading.touches.reduce(
    (sum, touch) => (touch.with === worst.with && touch.bears === worst.bears ? sum + touch.force_N : sum),
    0,
  );
  const others = new Map<string, number>();
  for (const touch of reading.touches)
    if (touch.bears !== worst.bears)
      others.set(wordBears(touch.bears), (others.get(wordBears(touch.bears)) ?? 0) + touch.force_N);
  const also = [...others].map(([name, other_N]) => `, also ${name}${withForce(other_N)}`).join('');
  return `${worst.bears === 'outer-ring' || worst.bears === 'seal' ? 'touches' : 'bears on'} ${what}${withForce(force_N)}${also}`;
}

function withForce(force_N: number): string {
  return force_N >= NOTHING.N ? ` with ${wordForce(force_N)}` : '';
}

/** Which way a spacer faces and why that matters. */
export function wordFacing(item: PlacedItem, analysis: Analysis): string {
  if (kindNamed(item.kind)?.spring) {
    const edge = item.smallFace === undefined ? '' : `Inner edge up to the ${sideWord(item.smallFace)}. `;
    const drawn = item.kind === 'wave-washer' ? ' Drawn is the room that its waves fill, not the waves.' : '';
    return `${edge}Keep to this order and number: turned or left out, springs press otherwise.${drawn}`;
  }
  if (kindNamed(item.kind)?.seals) {
    const lip = item.smallFace === undefined ? '' : `Lip to the ${sideWord(item.smallFace)}. `;
    return `${lip}Grease it, and ease it past threads and edges: a nick lets dirt in.`;
  }
  if (kindNamed(item.kind)?.snapsIn && item.smallFace !== undefined)
    return `Sharp edge to the ${sideWord(item.smallFace)}, ${item.role === 'tip' ? 'toward the tip' : 'away from the bearing'}. Turn it in its groove: it must run round freely.`;
  if (item.kind === 'reducer' && item.smallFace !== undefined)
    return `Tube to the ${sideWord(item.smallFace)}, into the eye; the shoulder stays outside and holds it in the middle.`;
  if (item.role === 'spacer' && item.smallFace !== undefined) {
    const small = item.smallFace === 'drive' ? item.drive : item.nonDrive;
    const large = item.smallFace === 'drive' ? item.nonDrive : item.drive;
    const reason =
      small.bears === 'inner-ring'
        ? 'so that it bears on the inner ring only'
        : large.bears === 'outer-ring' || large.bears === 'seal'
          ? 'and so its large face meets the bearing, where only the inner ring may be touched'
          : `its small face ${wordFace(small, analysis)}`;
    return `Small face to the ${sideWord(item.smallFace)}, ${reason}.`;
  }
  if (item.role === 'spacer') {
    return lookAlikes(analysis.model.parts, item.part ?? '').length > 0
      ? 'Equal faces: either way round will do, but do not swap it for a look-alike.'
      : 'Equal faces: either way round will do.';
  }
  if (item.role === 'tip') return wordSecured(item);
  if (item.role === 'lining')
    return 'Sits fast in its eye and turns with it, on what is clamped inside it. Its own bore is what wears.';
  if (item.role === 'bearing') return 'Its inner ring is clamped and stands still; its outer ring turns with the arm.';
  if (isPinched(item.id, analysis))
    return 'A pinch bolt across it closes this boss on the axle; bolt and slot are not drawn.';
  if (hasSleeve(item, analysis))
    return 'Its thread is in a sleeve that is screwed into this boss for good. Where the sleeve turns along, it is loose.';
  if (item.role === 'boss')
    return item.inColumn
      ? 'This boss is clamped and stands still with the column.'
      : 'This boss turns on its bearing and must touch nothing in the column.';
  return item.role === 'axle'
    ? `Goes in from the ${sideWord(stackOf(item, analysis)?.from ?? 'drive')}.`
    : 'Closes the column at the far end.';
}

/** True for a boss whose thread is in a sleeve of its own. */
export function hasSleeve({ role, member, bore }: PlacedItem, { model }: Pick<Analysis, 'model'>): boolean {
  if (role !== 'boss' || member === undefined || bore === undefined) return false;
  return model.members[member]?.bores[bore]?.thread?.sleeve !== undefined;
}

/** True for a boss that a pinch bolt closes. */
export function isPinched(id: string, { pivots, model }: Pick<Analysis, 'pivots' | 'model'>): boolean {
  const item = pivots.flatMap(({ stacks }) => stacks.flatMap(({ items }) => items)).find((one) => one.id === id);
  if (item?.role !== 'boss' || item.member === undefined || item.bore === undefined) return false;
  return model.members[item.member]?.bores[item.bore]?.slot_mm !== undefined;
}

/** What a part that is tightened on the tip does there. */
function wordSecured({ kind }: PlacedItem): string {
  switch (kindNamed(kind)?.secures) {
    case 'clamp':
      return 'Grips the tip of the axle by its own bolt, so that nothing behind it can come off.';
    case 'cone':
      return 'Spreads the hollow tip of the axle in its bore, so that it cannot turn or wander.';
    default:
      return 'Locks what receives the axle: the two are pulled against one another.';
  }
}

/** Which way a loose part of the row looks, in the fewest words: `small face to the drive side, on the bearing`. */
export function wordWay({ kind, smallFace, nonDrive, drive }: PlacedItem): string {
  if (smallFace === undefined) return 'either way round';
  const small = smallFace === 'drive' ? drive : nonDrive;
  const onto = small.bears === 'inner-ring' ? ', on the bearing' : '';
  return `${wordMarkedFace(kind)} to the ${sideWord(smallFace)}${onto}`;
}

/** The face of a kind that tells which way round it is: `small face`, `lip`. */
export function wordMarkedFace(kind: string): string {
  return kindNamed(kind)?.faceName ?? 'small face';
}

function stackOf(item: PlacedItem, analysis: Analysis): StackAnalysis | undefined {
  return analysis.pivots.flatMap((pivot) => pivot.stacks).find((stack) => stack.id === item.stackId);
}

const TOOLS: Readonly<Record<DriveTool['tool'], string>> = {
  'hex-key': 'hex key',
  'star-key': 'star key',
  spanner: 'spanner',
  'pin-spanner': 'pin spanner',
  'cassette-socket': 'splined socket',
};

/** A tool with its size: `6 mm hex key`. */
export function wordTool(tool: DriveTool | undefined): string {
  if (!tool) return 'right tool';
  return tool.tool === 'star-key'
    ? `size ${figure(tool.size_mm, 1)} star key`
    : `${figure(tool.size_mm, 1)} mm ${TOOLS[tool.tool]}`;
}

/** A tool in a sentence: `an 8 mm hex key`, `the right tool`. */
export function aTool(tool: DriveTool | undefined): string {
  const words = wordTool(tool);
  return tool ? `${/^(8|11 |18 )/.test(words) ? 'an' : 'a'} ${words}` : `the ${words}`;
}

/** The end the wrench works at. */
export function endWord({ turned, axle, receiver }: Tightening): string {
  return { head: `the ${axle}’s head`, tip: `the ${axle}’s tip`, receiver: `the ${receiver}` }[turned];
}

/** Which end turns, which holds, and which way it goes as the mechanic sees it. */
export function wordTurn(tightening: Tightening): string {
  const end = endWord(tightening);
  const held = tightening.held
    ? ` Hold the ${tightening.held.what === 'axle' ? tightening.axle : tightening.receiver} on the ${sideWord(tightening.held.side)}${tightening.held.tool ? ` with ${aTool(tightening.held.tool)}` : ''}.`
    : '';
  const why = tightening.turned === 'tip' ? 'the wrench stands at the far end of the screw' : 'the thread is left-hand';
  const habit = tightening.turn === 'anticlockwise' ? ` It looks like undoing: ${why}.` : '';
  return `Stand on the ${sideWord(tightening.stand)}, turn ${end} ${tightening.turn} with ${aTool(tightening.tool)}.${habit}${held}`;
}

const TREATMENTS: Readonly<Record<string, string>> = {
  dry: 'thread dry and clean',
  oiled: 'a drop of oil on the thread',
  greased: 'grease on the thread',
  threadlocked: 'threadlocker on the clean thread',
  'anti-seize': 'anti-seize paste on the thread',
};

/** How the thread of a stack is treated. */
export function wordTreatment(stackId: string, analysis: Analysis): string {
  const stack = rawStack(stackId, analysis);
  if (stack?.thread_treatment === 'threadlocked' && stack.threadlocker)
    return `threadlocker, ${stack.threadlocker}, on the clean thread`;
  return TREATMENTS[stack?.thread_treatment ?? 'dry'] ?? 'thread dry and clean';
}

function rawStack(stackId: string, analysis: Analysis) {
  return analysis.model.pivots.flatMap((pivot) => pivot.stacks).find((stack) => stack.id === stackId);
}

const PROBLEM_WORDS: Readonly<Record<ProblemCode, string>> = {
  'not-text': 'This is not a text',
  'not-json': 'This is not JSON',
  'too-large': 'The file is too large',
  'too-deep': 'Nested too deep',
  'forbidden-key': 'This name may not be used',
  'unknown-key': 'Unknown key',
  missing: 'Missing',
  'wrong-type': 'Wrong kind of value',
  'out-of-range': 'Out of range',
  'not-one-of': 'Not one of the known values',
  'bad-text': 'Not a valid name',
  'bad-count': 'Too many or too few',
  'duplicate-id': 'Used twice',
  'no-such-part': 'No such part',
  'no-such-member': 'No such member',
  'no-such-bore': 'No such bore',
  'no-such-stack': 'No such stack',
  'no-such-point': 'No such bore or point',
  'wrong-kind': 'Wrong kind of part',
  'bearing-unknown': 'Bearing not in the table',
  'bearing-contradicts': 'Contradicts the bearing table',
  'impossible-size': 'Impossible size',
  'seat-missing': 'No seat for this bearing',
  'groove-missing': 'No groove for this circlip',
  'row-contradicts': 'The row contradicts itself',
  'place-missing': 'No place given',
  'drive-missing': 'No tool given',
};

/** A problem of a file in one line: where, what was met, what was allowed. */
export function wordProblem(problem: Problem): string {
  const meant = problem.suggestion === undefined ? '' : ` Did you mean “${problem.suggestion}”?`;
  return `${problem.path}: ${lower(PROBLEM_WORDS[problem.code])}: met ${problem.met}, allowed: ${problem.allowed}.${meant}`;
}

/** What is said of the problems beyond those told. */
export function wordMoreProblems(more: number): string {
  return `and ${more} more: put these right, then read the file again`;
}

/** The short name of a kind of problem. */
export function wordProblemCode(code: ProblemCode): string {
  return PROBLEM_WORDS[code];
}
