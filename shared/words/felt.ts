/**
 * Words for the diagnosis: what can be felt, what is asked, what can be wrong and what to do about it.
 *
 * The diagnosis ranks causes and never says that a bike may be ridden; what nothing explains is said, and no hand is
 * blamed.
 */
import type { Cause } from '../felt/causes.ts';
import type { Diagnosis, NextCheck, RankedCause } from '../felt/diagnose.ts';
import { FELT_LIMITS, type CauseKind } from '../felt/limits.ts';
import type { Ask, SymptomCode } from '../felt/symptoms.ts';
import { figure } from '../numbers/figures.ts';
import type { Analysis } from '../types.ts';
import { nameOf, sideWord, type Worded } from './fit.ts';
import { capital, list, lower, percent } from './figures.ts';
import { wordMistake, wordMistakeKind } from './mistakes.ts';

interface SymptomWords {
  /** On a button. */
  readonly short: string;
  /** As it is asked; `@` stands for where. */
  readonly asks: string;
  /** How to find out. */
  readonly how: string;
}

const SYMPTOMS: Readonly<Record<SymptomCode, SymptomWords>> = {
  tight: {
    short: 'Turns tight',
    asks: 'Does it turn tight?',
    how: 'Turn the part by hand through its whole swing, slowly.',
  },
  notchy: {
    short: 'Notchy',
    asks: 'Does it feel notchy?',
    how: 'Turn it a few degrees to and fro. Notches follow one another at even steps.',
  },
  rough: {
    short: 'Rough in one place',
    asks: 'Is it rough in one place?',
    how: 'Turn it through its whole swing and come back: rough at the same place each time.',
  },
  'side-play': {
    short: 'Plays sideways',
    asks: 'Does it play sideways?',
    how: 'Hold one part still, push the other along the axle and pull it back.',
  },
  'up-down-play': {
    short: 'Plays up and down',
    asks: 'Does it play up and down?',
    how: 'Lift and drop the end of the arm, with a finger across the joint.',
  },
  'falls-not': {
    short: 'Does not fall',
    asks: 'Does it stay up where it should fall?',
    how: 'Hold the arm level with its other end free, and let go.',
  },
  'stops-short': {
    short: 'Stops short',
    asks: 'Does it stop before the end of its swing?',
    how: 'Swing it from end to end. Look what meets what.',
  },
  rubs: {
    short: 'Rubs',
    asks: 'Does it rub on the @?',
    how: 'Turn it and listen; look for bright metal or a line in the grease.',
  },
  clicks: {
    short: 'Clicks under load',
    asks: 'Does it click under load?',
    how: 'Load it by hand, to and fro, with a finger across the joint.',
  },
  'will-not-go': {
    short: 'Will not go together',
    asks: 'Did it take force to put together?',
    how: 'Think back: a lever, a mallet or a hard push counts as force.',
  },
  'thread-proud': {
    short: 'Thread stands out too far',
    asks: 'Does the thread stand out further than usual?',
    how: 'Look at the end of the axle, and compare with the picture.',
  },
  'thread-short': {
    short: 'Thread stands out too little',
    asks: 'Does the thread stand out less than usual?',
    how: 'Look at the end of the axle, and compare with the picture.',
  },
  gap: {
    short: 'A gap is seen',
    asks: 'Is there a gap on the @ that should not be?',
    how: 'Look through against a light, and compare with the other side and the picture.',
  },
  'left-over': {
    short: 'A part is left over',
    asks: 'Is a part left over?',
    how: 'Look in the tray, in the bag and under the stand.',
  },
  missing: {
    short: 'A part was missing',
    asks: 'Did you miss a part?',
    how: 'Think back: was something taken from another tray or left away?',
  },
  early: {
    short: 'Torque came too early',
    asks: 'Did the torque come too early?',
    how: 'Think back: did the wrench click before the parts had closed up?',
  },
  late: {
    short: 'Torque came too late',
    asks: 'Did the torque come late?',
    how: 'Think back: did it turn on and on after the parts had met?',
  },
  never: {
    short: 'Torque never came',
    asks: 'Did the torque never come?',
    how: 'Think back: did the wrench turn without ever clicking?',
  },
  'head-side': {
    short: 'Head on the wrong side',
    asks: 'Is the head of @ on the wrong side?',
    how: 'Look on which side its head is, and compare with the picture.',
  },
  'turns-on': {
    short: 'Turns on at its torque',
    asks: 'Does @ turn on before the wrench clicks?',
    how: 'Set the wrench to the written torque and pull once, evenly.',
  },
  'slackens-hard': {
    short: 'Slackens hard',
    asks: 'Does @ hold far beyond its torque when slackened?',
    how: 'Slacken it with a wrench that shows the torque, then tighten it again as written.',
  },
  elsewhere: {
    short: 'It comes from the next pivot',
    asks: 'Does it come from @?',
    how: 'Put a finger across that pivot while another hand moves the arm.',
  },
  facing: {
    short: 'Lies the wrong way round',
    asks: 'Does @ lie the wrong way round?',
    how: 'Compare its faces with the picture before anything else moves.',
  },
  'other-size': {
    short: 'Is another size, or not there',
    asks: 'Is @ another size than written, or not there?',
    how: 'Measure it with a calliper and compare with the parts list.',
  },
  proud: {
    short: 'Stands proud of its seat',
    asks: 'Does @ stand proud?',
    how: 'Measure from its face to the face of its seat, at three places.',
  },
  'rough-alone': {
    short: 'Is rough by itself',
    asks: 'Is @ rough by itself?',
    how: 'Nothing clamped: turn its inner ring with a fingertip.',
  },
  seat: {
    short: 'Moves in its seat',
    asks: 'Does @ move in its seat?',
    how: 'Push its outer ring with a thumb, and look for a bright ring in the seat.',
  },
  bent: {
    short: 'Axle is bent',
    asks: 'Is @ bent?',
    how: 'Roll it on a flat plate and look at the light under it.',
  },
  thread: {
    short: 'Thread is stretched or torn',
    asks: 'Is the thread of @ stretched or torn?',
    how: 'Clean it, look for torn crests, and run it through by hand.',
  },
  dirt: {
    short: 'Dirt between the faces',
    asks: 'Is there dirt between the faces at @?',
    how: 'Wipe each face with a white cloth and look at the cloth.',
  },
};

/** What a symptom is called on a button. */
export function wordSymptom(code: SymptomCode): string {
  return SYMPTOMS[code].short;
}

/** One ask by its name alone, with where, as a list shows what was said. */
export function wordAsk({ code, at, again }: Pick<Ask, 'code' | 'at' | 'again'>, analysis: Analysis): string {
  const short = wordSymptom(code);
  const said = at === undefined ? short : `${short}: ${placeOf(code, at, analysis)}`;
  return again === undefined ? said : `${said}, looked at once more`;
}

/** An ask as a question, and how to find out. */
export function wordFeltQuestion({ code, at, again }: Pick<Ask, 'code' | 'at' | 'again'>, analysis: Analysis): Worded {
  const { asks, how } = SYMPTOMS[code];
  const title = at === undefined ? asks : asks.replace('@', placeOf(code, at, analysis));
  return again === undefined
    ? { title, text: how }
    : {
        title: `Once more: ${lower(title)}`,
        text: `Look as if for the first time; a second pair of eyes is best. ${how}`,
      };
}

function placeOf(code: SymptomCode, at: string, analysis: Analysis): string {
  if (at === 'drive' || at === 'non-drive') return sideWord(at);
  if (code === 'elsewhere') return lower(pivotName(at, analysis));
  return lower(nameOf(at.includes('/') ? at : `${at}/axle`, analysis));
}

function pivotName(id: string, analysis: Analysis): string {
  return analysis.pivots.find((pivot) => pivot.id === id)?.name ?? id;
}

/** A cause in a line; one at a neighbour names its pivot. */
export function wordCause({ kind, mistake, item, stack, pivot }: Cause, here: string, analysis: Analysis): string {
  const where = item ?? `${stack}/axle`;
  const name = nameOf(where, analysis);
  const said = ((): string => {
    if (mistake) return wordMistake(mistake, analysis);
    switch (kind) {
      case 'bearing-worn':
        return `${name} worn`;
      case 'seat-loose':
        return `Seat of ${lower(name)} loose`;
      case 'axle-bent':
        return `${name} bent`;
      case 'thread-stretched':
        return `Thread of ${lower(name)} stretched or torn`;
      case 'wrong-bearing':
        return `${name} is one of another width`;
      case 'grit':
        return `Dirt between the faces at ${lower(name)}`;
      default:
        return wordCauseKind(kind);
    }
  })();
  return pivot === here ? said : `${pivotName(pivot, analysis)}: ${lower(said)}`;
}

/** A kind of cause, as the list of how often each goes wrong names it. */
export function wordCauseKind(kind: CauseKind): string {
  switch (kind) {
    case 'two':
      return 'Two at once, against each by itself';
    case 'bearing-worn':
      return 'Bearing worn';
    case 'seat-loose':
      return 'Seat loose';
    case 'axle-bent':
      return 'Axle bent';
    case 'thread-stretched':
      return 'Thread stretched or torn';
    case 'wrong-bearing':
      return 'Bearing of another width';
    case 'grit':
      return 'Dirt between the faces';
    case 'nothing-wrong':
      return 'Nothing wrong by the numbers';
    case 'something-else':
      return 'Something else';
    default:
      return wordMistakeKind(kind);
  }
}

/** What to do about a cause. */
export function wordRemedy({ kind }: Pick<Cause, 'kind'>): string {
  return REMEDIES[kind];
}

const REMEDIES: Readonly<Record<CauseKind, string>> = {
  'left-out': 'Take the axle out, put the part in its place, and build the pivot again.',
  turned: 'Take the axle out, turn the part round, and compare with the picture before you close it.',
  swapped: 'Take the axle out, measure both parts, and put each in its own place.',
  'other-part': 'Take it out, measure it against the parts list, and fit the written one.',
  'wrong-side': 'Take it out and put it in from the written side.',
  'under-tightened': 'Tighten it to the written torque, with the other end held.',
  'over-tightened': 'Slacken it, look at thread and faces, renew what has given way, and tighten as written.',
  'not-home': 'Take the axle out, press the bearing home on its outer ring, and measure its depth at three places.',
  two: 'Take the axle out, put both right, and compare the row with the picture.',
  'bearing-worn': 'Renew the bearing, and its partner with it; look at the seat while it is out.',
  'seat-loose': 'Stop here and ask the frame maker: a seat that has grown is not mended with a punch.',
  'axle-bent': 'Renew the axle, and look for what bent it.',
  'thread-stretched': 'Renew axle and nut; ask the frame maker where the thread is in the frame.',
  'wrong-bearing': 'Measure its width, and fit the bearing that the parts list names.',
  grit: 'Take it apart, clean every face, grease it thinly, and build it again.',
  'nothing-wrong': 'Look outside this pivot: cables, wheel, saddle, other pivots.',
  'something-else': 'Take the pivot apart, and compare every part with the picture and the list.',
};

/** Minutes as a hand counts them. */
function wordMinutes(minutes: number): string {
  return minutes < 1 ? `${figure(60 * minutes, 0)} s` : `${figure(minutes, 0)} min`;
}

/** The next check: what to find out, how, what must come off for it, and what it tells apart. */
export function wordNextCheck(next: NextCheck, here: string, analysis: Analysis): Worded & { readonly why: string } {
  const { ask, minutes, yes, no } = next;
  const { title, text } = wordFeltQuestion(ask, analysis);
  const isOpened = minutes > FELT_LIMITS.axle_min.value;
  const opens =
    ask.opens === undefined
      ? ''
      : !isOpened
        ? ' The pivot is open for it already.'
        : ask.axles === 1
          ? ` ${capital(lower(nameOf(`${ask.opens}/axle`, analysis)))} must come out for it.`
          : ` ${ask.axles} axles must come out for it, that of this pivot among them.`;
  const apart = [yes, no].flatMap((cause) => (cause ? [`“${wordCause(cause, here, analysis)}”`] : []));
  return {
    title,
    text: `${text}${opens}`,
    why: `${wordMinutes(minutes)}. ${
      new Set(apart).size === 2 ? `Yes points to ${apart[0]}, no to ${apart[1]}.` : `It makes ${apart[0]} surer or not.`
    }`,
  };
}

/** Where the answers lead. */
export function wordDiagnosis(diagnosis: Diagnosis, here: string, analysis: Analysis): Worded {
  const { ends, first } = diagnosis;
  const names = first.slice(0, 3).map(({ cause }) => `“${wordCause(cause, here, analysis)}”`);
  const all = list(first.length > 3 ? [...names, `${first.length - 3} more`] : names);
  const sure = percent(sumOf(first), 0);
  switch (ends) {
    case 'unexplained':
      return {
        title: 'Nothing here explains that',
        text: 'None of the causes fits these answers. Take the pivot apart, and compare every part with the picture.',
      };
    case 'one':
      return {
        title: wordCause(first[0]!.cause, here, analysis),
        text: `${sure} sure. ${wordRemedy(first[0]!.cause)}`,
      };
    case 'alike':
      return {
        title: 'Nothing at the bench tells these apart',
        text: `${all}: ${sure} sure that it is one of them. ${wordRemedy(first[0]!.cause)}`,
      };
    case 'unsure':
      return {
        title: 'No check at the bench would settle it',
        text: `The likeliest is ${all}, ${sure}. Take the pivot apart, and compare the row with the picture.`,
      };
    case 'open':
      return { title: 'Not settled yet', text: `The likeliest so far is ${all}, ${sure}.` };
  }
}

function sumOf(causes: readonly RankedCause[]): number {
  return causes.reduce((sum, { probability }) => sum + probability, 0);
}
