/**
 * Words for the travel check: its findings, what a pivot does, which ones work hardest, and how the free check went.
 *
 * Beside `words/fit.ts`, by the same rules: every number with its unit, nothing promised beyond what was computed.
 * Turns are whole degrees, as a hand feels them.
 */
import type { LinkageModel } from '../model/schema.ts';
import type { Passing } from '../travel/clearance.ts';
import type { Fall, PivotDrag } from '../travel/fall.ts';
import type { LinkPivot } from '../travel/linkage.ts';
import { CARRIES_N, type BearingLoad, type PivotWork } from '../travel/loads.ts';
import type { Travel, TravelFinding, TravelFindingCode } from '../travel/travel.ts';
import { limit, measureOf, num, wordForce, wordMeasure, type Worded } from './fit.ts';
import { figure } from '../numbers/figures.ts';
import { capital, few, list, lower } from './figures.ts';

/** An angle as a hand feels it: whole degrees, one digit below ten. */
export function wordAngle(angle_deg: number): string {
  const size = Math.abs(angle_deg);
  return `${figure(size, size < 9.95 ? 1 : 0)}°`;
}

/** Name of a member, obstacle or pivot of a model; the id where it has none. */
export function wordPlace(model: LinkageModel, id: string): string {
  const member = Object.hasOwn(model.members, id) ? model.members[id] : undefined;
  return (
    member?.name ??
    model.obstacles?.find((obstacle) => obstacle.id === id)?.name ??
    model.pivots.find((pivot) => pivot.id === id)?.name ??
    id
  );
}

/** A joint: its pivot, and where several turn on one axle the two that do. */
export function wordJoint(
  model: LinkageModel,
  {
    joint,
    pivot,
    members: pair,
  }: { readonly joint: string; readonly pivot: string; readonly members?: readonly [string, string] },
): string {
  const name = wordPlace(model, pivot);
  return joint === pivot || !pair ? name : `${name} (${short(model, pair[0])} and ${short(model, pair[1])})`;
}

/** What each joint of a pivot has turned: `52°`, or with what turns `link 30°, shock 49°`. */
export function wordTurns(
  model: LinkageModel,
  { joints }: Pick<LinkPivot, 'joints'>,
  turns_deg: Readonly<Record<string, number>>,
): string[] {
  return joints.map(({ id, pivot, rider, bodies, members: pair }) => {
    const turned = wordAngle(turns_deg[id] ?? 0);
    return id === pivot ? turned : `${short(model, pair[bodies.indexOf(rider)]!)} ${turned}`;
  });
}

function short(model: LinkageModel, id: string): string {
  return lower(wordPlace(model, id).replace(/, (one piece|tyre included)$/, ''));
}

/** The members of a finding, both halves of the shock as one. */
const members = (finding: TravelFinding, model: LinkageModel): string =>
  few([...new Set(finding.members.map((id) => (isShock(model, id) ? 'shock' : short(model, id))))], 4);
const isShock = ({ shock }: LinkageModel, id: string): boolean => id === shock?.body || id === shock?.shaft;
/** `at 32 mm of stroke`, or of a swing `at a turn of 12°`. */
const when = (finding: TravelFinding, key: 'at' | 'from'): string => {
  const angle = finding.numbers[`${key}_deg`];
  return angle ? `a turn of ${wordAngle(angle.value)}` : `${num(finding, `${key}_mm`)} of stroke`;
};

/** A boss or web of a part, with the part: `upper boss of swingarm`. */
function partOf(finding: TravelFinding, model: LinkageModel, k: 0 | 1): string {
  const id = finding.members[k] ?? '';
  const what = finding.about?.[k === 0 ? 'one' : 'other'] ?? '';
  const name = short(model, id);
  return Object.hasOwn(model.members, id) ? `${name} (${wordWhat(model, id, what)})` : name;
}

/** Which boss or web of a member, by the ids of the file made readable. */
function wordWhat(model: LinkageModel, member: string, what: string): string {
  const [from = '', to] = what.split(' ').map((id) => id.replaceAll('-', ' '));
  if (to !== undefined) return `between ${from} and ${to}`;
  return Object.hasOwn(model.members[member]?.bores ?? {}, what) ? `boss ${from}` : from;
}

type Words = (finding: TravelFinding, model: LinkageModel) => Worded;

const WORDS: Readonly<Record<TravelFindingCode, Words>> = {
  'nothing-moves': () => ({
    title: 'Nothing moves',
    text: 'No pivot of this model holds a member that can turn against the frame.',
  }),
  'member-unattached': (f, m) => ({
    title: 'Held by no pivot',
    text: `${capital(members(f, m))}: no row names it, so it is left out of the travel.`,
  }),
  'linkage-locked': (f, m) => ({
    title: 'The linkage cannot move',
    text: `The places of the pivots lock ${members(f, m)}: no stroke is possible. Check their places in the model.`,
  }),
  'member-loose': (f, m) => ({
    title: 'More moves than the shock holds',
    text: `The joints leave ${num(f, 'ways')} ways to move; with the shock held still, ${members(f, m)} can still move. Is a pivot missing from the model?`,
  }),
  'shock-out-of-reach': (f, m) => ({
    title: 'A shock of this length does not fit',
    text: `${num(f, 'length_mm')} between the eyes cannot be reached. The linkage stops at ${num(f, 'nearest_mm')}: there ${members(f, m)} come into line.`,
  }),
  'dead-centre': (f, m) =>
    f.numbers['at_deg']
      ? {
          title: 'Swings no further',
          text: `At ${when(f, 'at')} the linkage is in line: ${members(f, m)} cannot be turned further that way.`,
        }
      : {
          title: 'Dead centre within the stroke',
          text: `At ${num(f, 'at_mm')} of ${num(f, 'stroke_mm')} the shock cannot push further: ${members(f, m)} stand in line.`,
        },
  'eye-to-eye-differs': (f) => ({
    title: 'Shock length does not match the drawing',
    text: `The eyes stand ${num(f, 'drawn_mm')} apart in the model, the shock is said to be ${num(f, 'stated_mm')} long. They must agree within ${limit(f)}.`,
  }),
  'other-shock': (f) => {
    const shift = f.numbers['shift_mm'];
    const isUp = (shift?.value ?? 0) > 0;
    const stands =
      !shift || Math.abs(shift.value) < 0.05
        ? ''
        : ` At full length the rear axle stands ${wordMeasure({ value: Math.abs(shift.value), unit: 'mm' })} ${isUp ? 'higher' : 'lower'} than with the shock the model states.`;
    // Seen from the ground the axle stays and the frame moves.
    const changes =
      f.severity === 'note'
        ? ''
        : isUp
          ? ' So the frame sits lower at the rear: cranks and pedals come nearer the ground, the fork lies flatter and steers slower, and the tyre comes nearer the frame.'
          : ' So the frame sits higher at the rear: the rider sits higher and further forward, the fork stands steeper and steers quicker.';
    const ends = {
      'dead-centre': 'a dead centre ends it',
      contact: 'parts touch there',
      'out-of-reach': 'it does not fit at all',
    }[f.about?.['endedBy'] ?? ''];
    return {
      title: f.severity === 'note' ? 'Another shock than the model’s' : 'Another shock changes how the bike stands',
      text: `${num(f, 'used_mm')} × ${num(f, 'stroke_mm')} instead of ${num(f, 'stated_mm')} × ${num(f, 'statedStroke_mm')}.${stands}${changes} ${ends ? `Only ${num(f, 'reached_mm')} of its stroke can be used: ${ends}.` : 'All of its stroke can be used.'} Fit only what the frame maker allows.`,
    };
  },
  'travel-differs': (f) => ({
    title: 'Rear travel is not what is stated',
    text: `The axle rises ${num(f, 'rise_mm')} over the stroke, ${num(f, 'stated_mm')} are stated. A difference of ${limit(f)} would pass as rounding.`,
  }),
  'parts-rub': (f, m) => {
    const depth = -measureOf(f, 'gap_mm').value;
    const much = depth < 0.005 ? 'just touch' : `overlap by ${wordMeasure({ value: depth, unit: 'mm' })}`;
    return {
      title: 'Parts rub in the travel',
      text: `${capital(partOf(f, m, 0))} and ${partOf(f, m, 1)} ${much} at ${when(f, 'at')}${f.numbers['from_mm'] || f.numbers['from_deg'] ? `. They touch from ${when(f, 'from')} on` : ''}.`,
    };
  },
  'parts-run-close': (f, m) => ({
    title: 'Parts run close',
    text: `${capital(partOf(f, m, 0))} passes ${partOf(f, m, 1)} with ${num(f, 'gap_mm')} at ${when(f, 'at')}; ${limit(f)} is a comfortable gap.`,
  }),
  'tyre-runs-close': (f, m) => ({
    title: 'Tyre runs close',
    text: `${capital(partOf(f, m, 0))} has ${num(f, 'gap_mm')} to the tyre at ${when(f, 'at')}; ${limit(f)} is the least. Mud and a bent wheel need more.`,
  }),
  'bearing-overloaded': (f, m) => ({
    title: f.severity === 'warn' ? 'Bearing overloaded' : 'Bearing with little reserve',
    text: `${where(f, m)}: its most loaded bearing carries ${num(f, 'equivalent_N')} at the load asked for. It is rated for ${num(f, 'rating_N')} at rest: a safety of ${num(f, 'safety')}. Where shocks are likely, ${limit(f)} is called for.${rated(f)}`,
  }),
  'bush-overloaded': (f, m) => ({
    title: 'Bush overloaded',
    text: `${where(f, m)}: its bush carries ${num(f, 'load_N')} at the load asked for, ${num(f, 'pressure_MPa')} on its bore. Its lining takes ${limit(f)} while it turns: it wears out early.`,
  }),
  'bearing-side-limit': (f, m) => ({
    title: 'Bearing pushed sideways as tightened',
    text: `${where(f, m)}: tightening alone leaves up to ${num(f, 'axial_N')} along the axle in a bearing. A thin bearing takes ${limit(f)}.${f.numbers['safety'] ? ` Its static safety of ${num(f, 'safety')} looks well enough all the same.` : ''}${rated(f)}`,
  }),
};

/** The pivot of a finding on bearings, with the two that turn where it has several joints. */
function where({ pivots, members: pair }: TravelFinding, model: LinkageModel): string {
  const name = capital(list(pivots.map((id) => short(model, id))));
  return pair.length < 2 ? name : `${name} (${pair.map((id) => short(model, id)).join(' and ')})`;
}

function rated(finding: TravelFinding): string {
  return finding.about?.['rating'] === 'estimated' ? ' The rating is estimated from its size.' : '';
}

/** Title and sentence of a finding. */
export function wordTravelFinding(finding: TravelFinding, model: LinkageModel): Worded {
  return WORDS[finding.code](finding, model);
}

/**
 * What one joint does in the travel: `turns 52°, carries up to 4.8 kN`, or where forces are known and none is there
 * `carries nothing`.
 */
export function wordPivotTravel(
  work: PivotWork,
  { load_N, forceCheck_N }: Pick<Travel, 'load_N' | 'forceCheck_N'>,
): string {
  const turns = `turns ${wordAngle(work.turn_deg)}`;
  if (forceCheck_N === undefined || load_N === 0) return turns;
  if (work.most_N <= CARRIES_N) return `${turns}, carries nothing`;
  return `${turns}, carries up to ${wordForce(work.most_N)} at ${wordForce(load_N)} on the wheel`;
}

/** Where a hand feels for notches and play in the free check: the pivots that turn most and least. */
export function wordTravelFeel({ pivots }: Travel, model: LinkageModel): string {
  const turning = [...pivots].sort((one, other) => other.turn_deg - one.turn_deg);
  const [most, least] = [turning[0], turning.at(-1)];
  if (!most || !least) return 'Nothing turns.';
  if (most === least) return `${wordJoint(model, most)} turns ${wordAngle(most.turn_deg)}.`;
  return `${wordJoint(model, most)} turns ${wordAngle(most.turn_deg)}, ${lower(wordJoint(model, least))} only ${wordAngle(least.turn_deg)}: notches show at the first, play at both.`;
}

/**
 * A pivot that hardly turns wears in one spot: below this angle the balls never leave their own track, deg. Our own
 * rule.
 */
const HARDLY_deg = 8;
/** Pivots whose work is within this share of the hardest count as hard as it. */
const AS_HARD = 0.8;

/** What a pivot's place in the ranking means for who services it; empty where there is nothing to add. */
export function wordPivotReason(work: PivotWork, { pivots }: Travel): string {
  const hardest = pivots[0]?.work_Nrad ?? 0;
  const words: string[] = [];
  if (hardest > 0 && work === pivots[0]) words.push('Most force while turning of all.');
  else if (hardest > 0 && work.work_Nrad >= AS_HARD * hardest) words.push('It works about as hard as the first.');
  if (work.most_N > CARRIES_N && work.turn_deg < HARDLY_deg)
    words.push('It hardly turns: the balls press on one spot, so feel for dents, not for wear all round.');
  if (work.isLow) words.push('It sits low.');
  return words.join(' ');
}

/** The ranking in words, hardest first: what each pivot turns, carries, and therefore does to its bearings. */
export function wordRanking(travel: Travel, model: LinkageModel): string[] {
  return travel.pivots.map((work, k) => {
    const reason = wordPivotReason(work, travel);
    return `${k + 1}. ${wordJoint(model, work)} ${wordPivotTravel(work, travel)}.${reason === '' ? '' : ` ${reason}`}`;
  });
}

/**
 * What load and angle say of the low pivots, and what else they live in; empty where none sits low or nothing is
 * loaded.
 */
export function wordLowPivots({ pivots }: Travel, model: LinkageModel): string {
  const hardest = pivots[0];
  const hardestLow = pivots.find(({ isLow }) => isLow);
  if (!hardest || !hardestLow || hardest.work_Nrad === 0) return '';
  const share = hardestLow.work_Nrad / hardest.work_Nrad;
  const wet = 'Low pivots sit in water and grit (common practice, no source).';
  if (hardestLow === hardest)
    return `By load and angle ${lower(wordJoint(model, hardest))} works hardest, and it sits low. ${wet}`;
  return `By load and angle ${lower(wordJoint(model, hardest))} works hardest; of the low pivots ${lower(wordJoint(model, hardestLow))} does ${Math.round(100 * share)} % of that. ${wet}`;
}

/** The verdict on a travel, in a few words. */
export function wordTravelVerdict({ verdict, drive }: Travel): string {
  if (drive.kind === 'none') return 'Nothing moves';
  return verdict === 'sound' ? 'Nothing rubs, nothing locks' : 'Something stops it';
}

/** A gap of two passing parts in one line. */
export function wordPassing({ one, other, gap_mm, at, isFixed }: Passing, model: LinkageModel, isTurn = false): string {
  const where = isFixed
    ? 'all the way'
    : isTurn
      ? `at ${wordAngle(at)}`
      : `at ${wordMeasure({ value: at, unit: 'mm' })} of stroke`;
  const what = (part: Passing['one']): string =>
    part.isObstacle ? short(model, part.id) : `${short(model, part.id)} (${wordWhat(model, part.id, part.what)})`;
  const much =
    gap_mm < 0 ? `overlap ${wordMeasure({ value: -gap_mm, unit: 'mm' })}` : wordMeasure({ value: gap_mm, unit: 'mm' });
  return `${capital(what(one))} to ${what(other)}: ${much} ${where}`;
}

const CAUSES: Readonly<Record<NonNullable<PivotDrag['cause']>['kind'], string>> = {
  'outer-ring': 'something presses on an outer ring',
  seal: 'something rubs on a seal',
  arm: 'an arm is pressed by the clamp column',
  'side-load': 'tightening pushes its bearings sideways beyond their limit',
};

function torqueWord(torque_Nm: number): string {
  return `${figure(torque_Nm, torque_Nm < 0.1 ? 2 : 1)} N·m`;
}

/** The drag of one pivot and what makes it. */
export function wordDrag(drag: PivotDrag, model: LinkageModel): string {
  const { drag_Nm, cause } = drag;
  return `${wordJoint(model, drag)}: about ${torqueWord(drag_Nm)}, ${cause ? CAUSES[cause.kind] : 'its seals alone'}`;
}

/** A static safety from here on says no more than that there is plenty. */
const MUCH = 100;

/** Static safety of the hardest pressed bearing of every joint, weakest first; last what carries nothing. */
export function wordSafeties({ bearings, pivots, load_N }: Travel, model: LinkageModel): string[] {
  const joints = [...new Set(bearings.map(({ joint }) => joint))].map((joint) => {
    const own = bearings.filter((bearing) => bearing.joint === joint);
    const at = pivots.find((work) => work.joint === joint) ?? { joint, pivot: own[0]!.pivot };
    const safety = (bearing: BearingLoad): number => bearing.safety ?? Infinity;
    return { name: wordJoint(model, at), worst: own.reduce((one, next) => (safety(next) < safety(one) ? next : one)) };
  });
  const loaded = joints.flatMap(({ name, worst }) =>
    worst.safety === undefined ? [] : [{ name, ...worst, safety: worst.safety }],
  );
  const lines = loaded
    .sort((one, other) => one.safety - other.safety)
    .map(({ name, safety, equivalent_N, staticRating_N, axial_N, isRatingEstimated }) => {
      const side = axial_N < 1 ? '' : `, ${wordForce(axial_N)} of it along the axle from tightening`;
      const rating = isRatingEstimated ? ', rating estimated' : '';
      return `${name}: ${safety < MUCH ? safety.toFixed(2) : `over ${MUCH}`} (${wordForce(equivalent_N)} of ${wordForce(staticRating_N)}${rating}${side})`;
    });
  // Without a load nothing carries anything, and there is nothing to tell apart.
  if (load_N === 0 || loaded.length === 0) return lines;
  return [
    ...lines,
    ...joints.flatMap(({ name, worst }) => (worst.safety === undefined ? [`${name}: carries nothing`] : [])),
  ];
}

/** How the free check went, and what holds the linkage up where it hangs. */
export function wordFall(result: Fall, drags: readonly PivotDrag[], model: LinkageModel): Worded {
  if (result.isFree) {
    return {
      title: 'Falls through',
      text: `Lifted to full travel with the shock out, the linkage falls all the way under its own weight, about ${wordForce(result.weight_N)}. Do the same by hand, and feel each pivot for notches and side play.`,
    };
  }
  const held = result.held!;
  const drag = drags.find((candidate) => candidate.joint === held.joint);
  const place = drag ? wordJoint(model, drag) : wordPlace(model, held.joint);
  const cause = drag?.cause ? CAUSES[drag.cause.kind] : 'its seals drag';
  return {
    title: `Hangs at ${lower(place)}`,
    text: `${capital(place)} is pinched: ${cause}, about ${torqueWord(drag?.drag_Nm ?? 0)} to turn it. The weight of the linkage, about ${wordForce(result.weight_N)}, is not enough. Weight and drag are estimates; a pivot that does not fall is opened, whatever the sum says.`,
  };
}
