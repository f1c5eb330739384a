/**
 * Know it at sight: one question of a bike, its choices drawn from the model, and which of them are right worked out.
 *
 * Which spacer goes into a place: each choice is built there, either way round, and solved. Which way an axle tightens
 * and from which side it goes in: from the screw and the way. What the wrench is set to with an adapter: from the
 * lengths. What has to be opened to get at a part: from the access of the build order. A question holds no answer;
 * `rightOf` works it out. mm, N·m, deg.
 */
import { judge, verdictOf } from '../findings/judge.ts';
import { resolveChange } from '../model/resolve.ts';
import type { LinkageModel, RowEntry, Side } from '../model/schema.ts';
import { kindOf, partProfile, stands } from '../parts/kinds.ts';
import { lookAlikes } from '../parts/look-alike.ts';
import type { Plan } from '../order/plan.ts';
import { accessOf, accessTargets, type AccessTarget } from '../order/strip.ts';
import { adviseWrench, type Adapter } from '../torque/wrench.ts';
import type { Analysis, StackAnalysis } from '../types.ts';
import { drawsOf, oneOf, shuffled } from './draw.ts';

/** What can be asked. */
export const SIGHT_KINDS = ['spacer', 'turn', 'side', 'wrench', 'access'] as const;
export type SightKind = (typeof SIGHT_KINDS)[number];

/** One choice. */
export type SightChoice =
  | { readonly is: 'part'; readonly part: string }
  | { readonly is: 'turn'; readonly stand: Side; readonly turn: 'clockwise' | 'anticlockwise' }
  | { readonly is: 'side'; readonly side: Side | 'either' }
  | { readonly is: 'setting'; readonly setting_Nm: number }
  | { readonly is: 'stacks'; readonly stacks: readonly string[] };

/** A question with its choices, in no order. */
export interface SightQuestion {
  readonly kind: SightKind;
  readonly pivotId?: string;
  readonly stackId?: string;
  /** The place of a spacer, as a row id. */
  readonly row?: string;
  readonly torque_Nm?: number;
  readonly adapter?: Adapter;
  readonly target?: AccessTarget;
  readonly choices: readonly SightChoice[];
}

/** Wrenches and adapters that a workshop has, mm; angles as they are put on, degrees. Common practice, no source. */
const WRENCHES_mm = [180, 250, 300, 380];
const ADAPTERS_mm = [25, 40, 60, 75];
const ANGLES_deg = [0, 90, 180];
/** A setting is read off to a tenth. */
const READ_Nm = 0.1;
const MOST_CHOICES = 4;

/**
 * A question of a kind from a seed, or none where the bike has none of it. What has to come off is asked with the plan
 * of the bike alone.
 */
export function sightQuestion(
  analysis: Analysis,
  kind: SightKind,
  seed: number,
  plan?: Plan,
): SightQuestion | undefined {
  const draws = drawsOf(seed, `sight ${kind} ${analysis.model.id}`);
  const stacks = analysis.pivots.flatMap((pivot) => pivot.stacks);
  const stack = stacks[oneOf(draws, stacks.length)]!;
  const about = { kind, pivotId: stack.pivotId, stackId: stack.id };
  switch (kind) {
    case 'spacer':
      for (const { part, ...place } of shuffled(draws, spacerPlaces(analysis))) {
        const others = lookAlikes(analysis.model.parts, part)
          .map(({ id }) => id)
          .filter((id) => stands(analysis.model.parts[id]!, 'loose'));
        const choices = shuffled(draws, [part, ...shuffled(draws, others).slice(0, MOST_CHOICES - 1)]);
        const question = { kind, ...place, choices: choices.map((id) => ({ is: 'part' as const, part: id })) };
        // Where any of them will do there is nothing to know.
        if (choices.some((id) => !passesAt(analysis, question, id))) return question;
      }
      return undefined;
    case 'turn':
      return {
        ...about,
        choices: (['non-drive', 'drive'] as const).flatMap((stand) =>
          (['clockwise', 'anticlockwise'] as const).map((turn) => ({ is: 'turn', stand, turn })),
        ),
      };
    case 'side':
      return {
        ...about,
        choices: (['non-drive', 'drive', 'either'] as const).map((side) => ({ is: 'side', side })),
      };
    case 'wrench': {
      const adapter = {
        length_mm: WRENCHES_mm[oneOf(draws, WRENCHES_mm.length)]!,
        adapter_mm: ADAPTERS_mm[oneOf(draws, ADAPTERS_mm.length)]!,
        angle_deg: ANGLES_deg[oneOf(draws, ANGLES_deg.length)]!,
      };
      const torque_Nm = stack.tightening.torque_Nm;
      const right = settingOf(torque_Nm, adapter);
      const share = adapter.adapter_mm / adapter.length_mm;
      const settings = [right, torque_Nm, torque_Nm * (1 + share), torque_Nm / (1 + share), torque_Nm * (1 - share)];
      const distinct = [...new Set(settings.map(read_Nm))].slice(0, MOST_CHOICES);
      return {
        ...about,
        torque_Nm,
        adapter,
        choices: shuffled(draws, distinct).map((setting_Nm) => ({ is: 'setting', setting_Nm })),
      };
    }
    case 'access': {
      const targets = plan ? accessTargets(plan).filter(({ kind: of }) => of !== 'obstacle') : [];
      const target = targets[oneOf(draws, targets.length)];
      if (!plan || !target) return undefined;
      const right = accessOf(plan, target.id).stacks;
      const all = stacks.map(({ id }) => id);
      const rest = shuffled(
        draws,
        all.filter((id) => !right.includes(id)),
      );
      const sets = [right, rest.slice(0, 1), [...right, ...rest.slice(0, 1)], right.slice(1), all];
      const distinct = new Map(sets.map((set) => [[...set].sort().join(' '), set] as const));
      return {
        kind,
        target,
        choices: shuffled(draws, [...distinct.values()].slice(0, MOST_CHOICES)).map((set) => ({
          is: 'stacks',
          stacks: all.filter((id) => set.includes(id)),
        })),
      };
    }
  }
}

/** Which choices of a question are right: at least one. About 20 ms a spacer; what comes off takes the plan's time. */
export function rightOf(analysis: Analysis, question: SightQuestion, plan?: Plan): readonly number[] {
  const right = question.choices.flatMap((choice, k) => (isRight(analysis, question, choice, plan) ? [k] : []));
  return right;
}

function isRight(analysis: Analysis, question: SightQuestion, choice: SightChoice, plan: Plan | undefined): boolean {
  switch (choice.is) {
    case 'part':
      return passesAt(analysis, question, choice.part);
    case 'turn': {
      const { stand, turn } = stackOf(analysis, question).tightening;
      return choice.stand === stand && choice.turn === turn;
    }
    case 'side': {
      const { passage, from } = stackOf(analysis, question);
      const isEither = passage.drive.passes && passage.nonDrive.passes;
      return choice.side === (isEither ? 'either' : from);
    }
    case 'setting':
      return choice.setting_Nm === read_Nm(settingOf(question.torque_Nm!, question.adapter!));
    case 'stacks': {
      if (!plan || !question.target) return false;
      const { stacks } = accessOf(plan, question.target.id);
      return stacks.length === choice.stacks.length && stacks.every((id) => choice.stacks.includes(id));
    }
  }
}

function settingOf(torque_Nm: number, adapter: Adapter): number {
  return adviseWrench({ torque_Nm, adapter }).setting['N·m'];
}

function read_Nm(torque_Nm: number): number {
  return Number((Math.round(torque_Nm / READ_Nm) * READ_Nm).toFixed(1));
}

function stackOf({ pivots }: Analysis, { stackId }: SightQuestion): StackAnalysis {
  return pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId)!;
}

/** Places of loose spacers that have a look-alike. */
function spacerPlaces({ model }: Analysis): readonly (Required<Pick<SightQuestion, 'pivotId' | 'stackId' | 'row'>> & {
  readonly part: string;
})[] {
  return model.pivots.flatMap((pivot) =>
    pivot.stacks.flatMap((stack) =>
      stack.row.flatMap(({ id, part }) => {
        const own = part === undefined ? undefined : model.parts[part];
        if (part === undefined || !own || !stands(own, 'loose') || kindOf(own).seals) return [];
        const hasAlike = lookAlikes(model.parts, part).some((other) => stands(other.part, 'loose'));
        return hasAlike ? [{ pivotId: pivot.id, stackId: stack.id, row: id, part }] : [];
      }),
    ),
  );
}

/** Whether the pivot passes with a part in a place, one way round or the other. */
function passesAt({ resolved, model }: Analysis, { pivotId, stackId, row }: SightQuestion, part: string): boolean {
  return (partProfile(model.parts[part]!).hasTwoWays ? [false, true] : [false]).some((turned) => {
    const laid = withEntry(model, stackId!, row!, (entry) => {
      const { turned: _turned, ...rest } = entry;
      return { ...rest, part, ...(turned ? { turned } : {}) };
    });
    return verdictOf(judge(resolveChange(resolved, laid), pivotId!)) !== 'faulty';
  });
}

function withEntry(
  model: LinkageModel,
  stackId: string,
  row: string,
  change: (entry: RowEntry) => RowEntry,
): LinkageModel {
  return {
    ...model,
    pivots: model.pivots.map((pivot) =>
      pivot.stacks.some(({ id }) => id === stackId)
        ? {
            ...pivot,
            stacks: pivot.stacks.map((stack) =>
              stack.id === stackId
                ? { ...stack, row: stack.row.map((entry) => (entry.id === row ? change(entry) : entry)) }
                : stack,
            ),
          }
        : pivot,
    ),
  };
}
