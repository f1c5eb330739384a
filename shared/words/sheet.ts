/**
 * Words of the printed sheets: what each part of a sheet is called, what is asked for in writing, and the half page
 * that goes home with the bike.
 *
 * What an owner is told about washing, noises and the first rides is common practice, no source. Nothing here says that
 * a bike may be ridden.
 */
import type { Analysis, StackAnalysis } from '../types.ts';
import { CAUTIONS, sideWord, wordTreatment, wordTurn } from './fit.ts';
import { capital } from './figures.ts';
import { wordPair, wordSecuring } from './torque.ts';

/** What the parts of a sheet are called. */
export const SHEET_WORDS = {
  sheet: 'Job sheet',
  chart: 'Wall chart',
  about: 'Every task in the order that the build order gives, with a box to tick.',
  before: 'Before you begin',
  tools: 'Tools and consumables',
  steps: 'Tasks, in this order',
  rows: 'Rows, from the non-drive to the drive side, as they are tight',
  after: 'Before it is handed over',
  verdict: 'As written',
  findings: 'What to look at first',
  owner: 'For the owner',
  cut: 'Cut here: the rest goes home with the bike',
  columns: { number: 'No.', task: 'Task', torque: 'Torque', reached: 'Reached', initials: 'Initials' },
  fields: ['Frame number', 'Shop’s reference', 'Date', 'Mechanic'],
  signatures: ['Work done by', 'Torques and facings checked by (second person)', 'Handed over by', 'Date'],
  workshop: ['Workshop', 'Telephone', 'Done on', 'Check again on'],
  done: ['What was done', 'To come back for'],
  side: 'Seen from the drive side. The numbers are the order of tightening.',
  either: 'Either way round',
  checked: ['Compared with the frame maker’s instructions by', 'Date'],
  came: 'As it came',
  airBack: 'Put back',
  remarks: 'Remarks',
  lacking: 'stands for letters that this file cannot print: write them in by hand.',
  open: 'Still open',
  conditions: {
    title: 'Condition of the parts',
    part: 'Part',
    found: 'Found',
    fate: 'What became of it',
    renewed: 'Renewed',
    awaited: 'Awaited',
    forNow: 'Fitted for now',
  },
  wrenches: { title: 'Torque wrenches', range: 'to', calibrated: 'calibrated' },
  key: {
    small: 'Two chevrons point to where the small face looks.',
    same: 'Two bars: either way round will do.',
    from: 'The arrow at the end is the side from which the axle goes in.',
  },
} as const;

/** What is true of every hand-over, as lines to tick. */
export const HAND_OVER_LINES = [
  'Every torque above is reached and written down.',
  'Nothing is left over on the tray.',
  'Nothing rubs and nothing pulls tight over the whole travel: shock out, by hand.',
  'Air, clicks and volume spacers are as they came, or as the owner asked for.',
] as const;

/** What an owner needs to know, in plain words. */
export const OWNER_LINES = [
  'The pivots are the joints that let the back wheel move up and down. Every one of them has a torque of its own.',
  'New joints settle. Bring the bike back after the first ride, so that every torque can be checked again.',
  'Stop and bring it back if something clicks or creaks, if the back wheel has play, or if a part has moved.',
  'Please do not tighten the joints yourself: too loose and too tight both do harm that cannot be seen.',
  'Wash it with a soft brush and little water. A pressure washer drives water into the bearings.',
  'When the joints are due again is in the frame maker’s instructions. They have the last word, with local rules.',
] as const;

/** How one axle is tightened, in the sentences that stand over its row. */
export function wordTightening(stack: StackAnalysis, analysis: Analysis): string {
  const pair = wordPair(stack.id, analysis);
  const treated = `${capital(wordTreatment(stack.id, analysis))}.`;
  const beside = [pair, wordSecuring(stack.id, analysis)].filter((told) => told !== undefined);
  return [wordTurn(stack.tightening), treated, ...beside].join(' ');
}

/** Where an axle goes in. */
export function wordInsertion({ from, tightening }: StackAnalysis): string {
  return `${capital(tightening.axle)} in from the ${sideWord(from)}`;
}

/** Cautions before the first step of a build; of carbon where a member is. */
export function sheetCautions(isCarbon: boolean): string[] {
  return [CAUTIONS.air, CAUTIONS.body, ...(isCarbon ? [CAUTIONS.carbon] : []), CAUTIONS.torque];
}
