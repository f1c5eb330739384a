/**
 * What a whole job takes: tools laid out once, consumables by kind and amount, and parts to order.
 *
 * Tools are those of the steps; amounts are estimates by the step. Bearings are counted by size over the whole bike.
 */
import type { Job } from '../envelope/job.ts';
import type { PlanTool } from '../order/tasks.ts';
import type { Plan } from '../order/plan.ts';
import type { Strip } from '../order/strip.ts';
import { resolveBearing } from '../parts/bearing.ts';
import type { DriveTool } from '../model/schema.ts';
import type { Part } from '../parts/kinds.ts';
import type { Clearance, ClearanceGroup } from '../standards/bearings.ts';
import type { Analysis } from '../types.ts';
import type { JobSubject } from './condition.ts';
import { SUPPLY_SIZES } from './limits.ts';

/** A tool with a size, and what it is needed for. */
export interface JobTool {
  readonly tool: DriveTool;
  readonly turns: boolean;
  readonly holds: boolean;
  /** Torques it is pulled to on the torque wrench, N·m, each once, the least first. */
  readonly torques_Nm: readonly number[];
}

/** What is used up, with an estimated amount. */
export interface Consumable {
  readonly what: 'threadlocker' | 'anti-seize' | 'oil' | 'grease' | 'alcohol' | 'cloth';
  readonly strength?: string;
  readonly amount: number;
  readonly unit: 'ml' | 'g' | 'pieces';
}

/** What is laid out before a job. */
export interface Supplies {
  readonly tools: readonly JobTool[];
  /** Everything else a hand takes up that is not used up. */
  readonly bench: readonly Extract<PlanTool, { kind: 'bench' }>['what'][];
  readonly consumables: readonly Consumable[];
}

/** A line of the order list: parts of one size. */
export interface OrderLine {
  /** Id in the parts list. */
  readonly part: string;
  readonly name: string;
  readonly kind: Part['kind'];
  readonly items: readonly string[];
  /** Found bad and neither renewed nor on its way. */
  readonly needed: number;
  readonly awaited: number;
  readonly renewed: number;
  readonly bearing?: {
    readonly designation?: string;
    readonly bore_mm: number;
    readonly outside_mm: number;
    readonly width_mm: number;
    readonly group: ClearanceGroup;
    readonly clearance_mm: Clearance;
  };
}

const USED_UP: ReadonlySet<string> = new Set(['grease', 'threadlocker', 'anti-seize', 'oil', 'cloth']);

/** Tools, bench tools and consumables of a whole job, from its steps. */
export function supplies(analysis: Analysis, plan: Plan, strip: Strip): Supplies {
  const steps = [...strip.steps.map(({ step }) => step), ...plan.steps];
  const drives = new Map<string, JobTool>();
  const bench = new Set<Extract<PlanTool, { kind: 'bench' }>['what']>();
  for (const { tools, torque_Nm } of steps)
    for (const one of tools) {
      if (one.kind === 'bench') {
        if (!USED_UP.has(one.what)) bench.add(one.what);
        continue;
      }
      const key = `${one.tool.tool} ${one.tool.size_mm}`;
      const known = drives.get(key) ?? { tool: one.tool, turns: false, holds: false, torques_Nm: [] };
      const torques = one.isTorque && torque_Nm !== undefined ? [...known.torques_Nm, torque_Nm] : known.torques_Nm;
      drives.set(key, {
        tool: one.tool,
        turns: known.turns || one.role === 'turns',
        holds: known.holds || one.role === 'holds',
        torques_Nm: [...new Set(torques)].sort((a, b) => a - b),
      });
    }
  for (const { kind } of strip.steps) {
    if (kind === 'warm-threadlocker') bench.add('heat');
    if (kind === 'mark-facing') bench.add('marker');
    if (kind === 'keep-together') bench.add('tray');
    if (kind === 'release-air') bench.add('shock-pump');
  }
  return {
    tools: [...drives.values()].sort(
      (a, b) => a.tool.tool.localeCompare(b.tool.tool, 'en') || a.tool.size_mm - b.tool.size_mm,
    ),
    bench: [...bench],
    consumables: consumables(analysis, plan),
  };
}

function consumables({ model }: Analysis, { steps }: Plan): Consumable[] {
  const stacks = model.pivots.flatMap((pivot) => pivot.stacks);
  const of = (kind: string): number => steps.filter((step) => step.kind === kind).length;
  const cleans = of('clean-seat') + of('clean-axle') + of('clean-thread') + of('wipe-thread');
  const locked = new Map<string, number>();
  for (const { thread_treatment, threadlocker = '', thread, axle } of stacks) {
    if (thread_treatment !== 'threadlocked') continue;
    const part = model.parts[axle];
    const size_mm = thread?.size_mm ?? (part && 'thread' in part && part.thread ? part.thread.size_mm : 10);
    locked.set(threadlocker, (locked.get(threadlocker) ?? 0) + size_mm * SUPPLY_SIZES.threadlocker_ml_per_mm);
  }
  const treated = (treatment: string): number => stacks.filter((own) => own.thread_treatment === treatment).length;
  const greased = steps.filter(({ kind, greased: isGreased }) => kind === 'grease' || isGreased).length;
  const all: Consumable[] = [
    ...[...locked].map(
      ([strength, amount]): Consumable => ({
        what: 'threadlocker',
        ...(strength !== '' && { strength }),
        amount,
        unit: 'ml',
      }),
    ),
    { what: 'anti-seize', amount: treated('anti-seize') * SUPPLY_SIZES.antiSeize_g, unit: 'g' },
    { what: 'oil', amount: treated('oiled') * SUPPLY_SIZES.oil_ml, unit: 'ml' },
    { what: 'grease', amount: greased * SUPPLY_SIZES.grease_g, unit: 'g' },
    { what: 'alcohol', amount: cleans * SUPPLY_SIZES.alcohol_ml, unit: 'ml' },
    { what: 'cloth', amount: Math.ceil(cleans / SUPPLY_SIZES.cleaned_per_cloth), unit: 'pieces' },
  ];
  return all.filter(({ amount }) => amount > 0);
}

/** Bearings of the bike by size, and every other part that was found bad, or is awaited, or was renewed. */
export function orderList({ model }: Analysis, job: Job, subjects: readonly JobSubject[]): OrderLine[] {
  const lines = new Map<string, OrderLine>();
  for (const { of, item, isBad } of subjects) {
    const part = item.part === undefined ? undefined : model.parts[item.part];
    if (of === 'seat' || item.part === undefined || !part) continue;
    const { renewed, awaited } = job.parts[item.id] ?? {};
    const isTouched = isBad || renewed !== undefined || awaited !== undefined;
    if (part.kind !== 'bearing' && !isTouched) continue;
    const known = lines.get(item.part) ?? {
      part: item.part,
      name: part.name,
      kind: part.kind,
      items: [],
      needed: 0,
      awaited: 0,
      renewed: 0,
      ...(part.kind === 'bearing' && { bearing: bearingOf(part) }),
    };
    const is = renewed !== undefined ? 'renewed' : awaited !== undefined ? 'awaited' : isBad ? 'needed' : undefined;
    lines.set(item.part, {
      ...known,
      items: [...known.items, item.id],
      ...(is && { [is]: known[is] + 1 }),
    });
  }
  return [...lines.values()];
}

function bearingOf(part: Parameters<typeof resolveBearing>[0]): NonNullable<OrderLine['bearing']> {
  const { designation, bore_mm, outside_mm, width_mm, group, clearance_mm } = resolveBearing(part);
  return { ...(designation === undefined ? {} : { designation }), bore_mm, outside_mm, width_mm, group, clearance_mm };
}
