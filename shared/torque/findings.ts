/**
 * Torque as part of the fit check: the setting against what it must hold and what it may break, a torque that was
 * reached against the setting, and the tools against the parts.
 *
 * The frame maker's figure comes before ours: a setting is stopped only where no end of any band rescues it, the
 * kindest friction, the most exact wrench, no estimate; else it is to be looked at. What is asked here costs a few
 * looks at states that are solved already; a search is made only where something is wrong. A pivot that something else
 * keeps from clamping is not told to take more torque. N, N·m.
 */
import { material, wrenchScatter } from '../standards/index.ts';
import { clampForce_N, readColumn, type Met } from '../joint/reading.ts';
import type { SolvedJoint } from '../joint/solve.ts';
import type { Finding, Measure } from '../types.ts';
import { creep } from './creep.ts';
import { torqueStack, type TorqueStack } from './setup.ts';
import { settlingLossOf_N } from './settling.ts';
import { toolTroubles } from './tools.ts';
import { hasNoRing, lostLimit, ringsLimit, settledLimit, upperLimits, type WindowLimit } from './window.ts';

/** What a mechanic may say about the torque. */
export interface TorqueSaid {
  /** Torque that was reached, N·m, by the id of a pivot or of a stack. */
  readonly reached_Nm?: Readonly<Record<string, number>>;
  /** Ranges of the torque wrenches at hand, N·m; a small workshop's unless said. */
  readonly wrenches_Nm?: readonly (readonly [number, number])[];
}

/** Every meeting of a pivot at the two ends of its preload's band. */
interface Levels {
  readonly low: readonly Met[];
  readonly high: readonly Met[];
}

/** Share of the highest preload from which what settling leaves is searched for. */
const NEAR = 0.9;

const Nm = (value: number): Measure => ({ value, unit: 'N·m' });

/**
 * Findings about torque and tools of a solved pivot, whose parts meet as in `met` at the spec; `isStopped` says whether
 * something else keeps a stack from clamping.
 */
export function torqueFindings(
  solved: SolvedJoint,
  met: readonly Met[],
  isStopped: (stackId: string) => boolean,
  said: TorqueSaid = {},
): Finding[] {
  const levels = levelsOf(solved, met);
  return solved.joint.stacks.flatMap(({ stack }) => {
    const bench = torqueStack({ joint: solved.joint, solved }, stack.id);
    if (!((solved.pull_N.get(stack.id) ?? 0) > 0)) return toolFindings(bench, said);
    return [
      ...(isStopped(stack.id) ? [] : tooLow(bench, levels)),
      ...tooHigh(bench, levels),
      ...reachedFindings(bench, said),
      ...toolFindings(bench, said),
    ];
  });
}

/** Whether torque stops a pivot that nothing else stops: all that is asked at a corner of the estimates. */
export function torqueStops(solved: SolvedJoint, met: readonly Met[], said: TorqueSaid = {}): boolean {
  const levels = levelsOf(solved, met);
  const isStop = ({ severity }: Finding): boolean => severity === 'stop';
  return solved.joint.stacks.some(({ stack }) => {
    if (!((solved.pull_N.get(stack.id) ?? 0) > 0)) return false;
    const bench = torqueStack({ joint: solved.joint, solved }, stack.id);
    return (
      tooHigh(bench, levels).some(isStop) ||
      (hasNoRing(bench) ? keepsNothing(bench) : ringsTooLow(bench, levels))?.some(isStop) === true ||
      reachedFindings(bench, said).some(isStop)
    );
  });
}

/** Where two parts meet is the same at every level to a few thousandths: only what they press with is not. */
function levelsOf(solved: SolvedJoint, met: readonly Met[]): Levels {
  const pressed = (level: keyof Levels): Met[] => {
    const { contact_N } = solved[level];
    return met.map(({ a, b, gap, law, shouldBeFree, free_mm, isTouching, pressure_MPa }) => ({
      a,
      b,
      gap,
      law,
      shouldBeFree,
      force_N: law === undefined ? 0 : contact_N[law]!,
      free_mm,
      isTouching,
      pressure_MPa,
    }));
  };
  return { low: pressed('low'), high: pressed('high') };
}

function finding(
  { own, joint }: TorqueStack,
  rest: Omit<Finding, 'pivot' | 'stack' | 'parts'> & Partial<Pick<Finding, 'parts'>>,
): Finding {
  return { pivot: joint.pivot.id, stack: own.stack.id, parts: [own.axle.id], ...rest };
}

/** What the rings lack at the low end of the band; undefined where they hold. */
function ringsTooLow(bench: TorqueStack, met: Levels): Finding[] | undefined {
  if (creep(bench.own, met.low).margin >= 1) return undefined;
  const spec = bench.tightening.torque_Nm;
  const least = ringsLimit(bench);
  if (!least || !isClosed(bench, met)) return [];
  return [
    finding(bench, {
      code: 'torque-too-low',
      severity: spec < least.possible_Nm ? 'stop' : 'warn',
      numbers: { torque_Nm: Nm(spec), possible_Nm: Nm(least.possible_Nm) },
      limit: { ...Nm(least.sure_Nm), source: least.source },
      about: { rule: 'rings' },
    }),
  ];
}

/** What a column without bearings lacks: with less, nothing of the clamp is left once its faces have settled. */
function keepsNothing(bench: TorqueStack): Finding[] {
  const spec = bench.tightening.torque_Nm;
  const least = lostLimit(bench);
  if (!least || spec >= least.sure_Nm) return [];
  return [
    finding(bench, {
      code: 'torque-too-low',
      severity: spec < least.possible_Nm ? 'stop' : 'warn',
      numbers: { torque_Nm: Nm(spec), possible_Nm: Nm(least.possible_Nm), loss_N: least.at },
      limit: { ...Nm(least.sure_Nm), source: least.source },
      about: { rule: 'lost' },
    }),
  ];
}

function tooLow(bench: TorqueStack, met: Levels): Finding[] {
  const { own, tightening } = bench;
  if (hasNoRing(bench)) return keepsNothing(bench);
  const spec = tightening.torque_Nm;
  const margin = (level: keyof Levels): number => creep(own, met[level]).margin;
  const lacks = ringsTooLow(bench, met);
  if (lacks) return lacks;
  if (own.stack.thread_treatment === 'threadlocked') return [];
  // What holds goes about with the preload: only where that leaves a doubt is it searched for.
  const high_N = tightening.preload_N.high;
  if (high_N / margin('high') + (settlingLossOf_N(bench) ?? 0) < NEAR * high_N) return [];
  const least = ringsLimit(bench);
  const keeps = least && settledLimit(bench, least);
  if (!keeps || spec >= keeps.possible_Nm) return [];
  return [
    finding(bench, {
      code: 'torque-too-low',
      severity: 'warn',
      numbers: { torque_Nm: Nm(spec), loss_N: keeps.at },
      limit: { ...Nm(keeps.possible_Nm), source: keeps.source },
      about: { rule: 'settles' },
    }),
  ];
}

/** The column is closed: what the weakest ring lacks, more torque would give. */
function isClosed({ own }: TorqueStack, { high }: Levels): boolean {
  return clampForce_N(own, high, readColumn(own, high)) > 0;
}

/** Upper ends that the setting may pass at the top of its band, the surest fault first. */
function passedBy(torque_Nm: number, limits: readonly WindowLimit[]): { limit: WindowLimit; isSure: boolean }[] {
  return limits
    .filter((limit) => torque_Nm > limit.sure_Nm)
    .map((limit) => ({ limit, isSure: torque_Nm > limit.possible_Nm && !limit.isEstimate }))
    .sort((a, b) => Number(b.isSure) - Number(a.isSure));
}

function tooHigh(bench: TorqueStack, met: Levels): Finding[] {
  const spec = bench.tightening.torque_Nm;
  const worst = passedBy(spec, upperLimits(bench, met.high))[0];
  if (!worst) return [];
  const { limit, isSure } = worst;
  return [
    finding(bench, {
      code: 'torque-too-high',
      severity: isSure ? 'stop' : 'warn',
      parts: limit.parts,
      numbers: { torque_Nm: Nm(spec), possible_Nm: Nm(limit.possible_Nm) },
      limit: { ...Nm(limit.sure_Nm), source: limit.source },
      about: { rule: 'limits', first: limit.kind },
    }),
  ];
}

/** What was reached, against the setting as exactly as a wrench may be trusted with it. */
function reachedFindings(bench: TorqueStack, { reached_Nm = {} }: TorqueSaid): Finding[] {
  const { own, joint, tightening } = bench;
  const reached = reached_Nm[own.stack.id] ?? reached_Nm[joint.pivot.id];
  if (reached === undefined) return [];
  const { torque_Nm } = tightening;
  const scatter = wrenchScatter(torque_Nm);
  const isLow = reached < torque_Nm * (1 - scatter);
  if (!isLow && reached <= torque_Nm * (1 + scatter)) return [];
  const rings = isLow ? ringsLimit(bench) : undefined;
  const isSure = isLow
    ? rings !== undefined && reached < rings.possible_Nm
    : passedBy(reached, upperLimits(bench)).some((passed) => passed.isSure);
  return [
    finding(bench, {
      code: isLow ? 'torque-too-low' : 'torque-too-high',
      severity: isSure ? 'stop' : 'warn',
      numbers: { reached_Nm: Nm(reached), torque_Nm: Nm(torque_Nm) },
      limit: {
        ...Nm(torque_Nm * (isLow ? 1 - scatter : 1 + scatter)),
        source: `the setting as exactly as ISO 6789 lets a wrench be, ±${100 * scatter} % (FAC)`,
      },
      about: {
        rule: 'reached',
        lock: own.stack.thread_treatment === 'threadlocked' ? 'yes' : 'no',
        thread: material(own.thread.receiverMaterial).family,
      },
    }),
  ];
}

function toolFindings(bench: TorqueStack, { wrenches_Nm }: TorqueSaid): Finding[] {
  return toolTroubles(bench, wrenches_Nm).map(({ why, item, end, tool, numbers, limit }) =>
    finding(bench, {
      code: 'tool-mismatch',
      severity: 'warn',
      parts: [item.id],
      numbers: {
        ...(tool && tool.tool !== 'star-key' ? { size_mm: { value: tool.size_mm, unit: 'mm' } } : {}),
        ...numbers,
      },
      ...(limit ? { limit } : {}),
      about: { why, end, ...(tool ? { tool: tool.tool, size: String(tool.size_mm) } : {}) },
    }),
  );
}
