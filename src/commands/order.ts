/**
 * `order`: the build order from bare frame to hand-over, why it is so, and taking apart; task ids after the model check
 * an own one.
 *
 * Exit code 0 where an order is possible and nothing blocks it (an own one: where every task of it can be done when it
 * is its turn), 1 where not.
 */
import {
  checkOrder,
  compareVariants,
  stripOf,
  wordBecause,
  wordBlock,
  wordChange,
  wordCost,
  wordCount,
  wordFault,
  wordTask,
  wordMakersOrder,
  wordPlanStep,
  wordPlanTool,
  wordRecommended,
  wordStripStep,
  wordVariantOrder,
  type Analysis,
  type LinkageModel,
  type Plan,
  type PlanTask,
  type PlanStep,
  type Strip,
  type StripStep,
  type WordedStep,
} from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  JSON_OPTION,
  LAST_WORD,
  planned,
  putJson,
  Refusal,
  textOption,
  unknown,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';

/** The command. */
export const orderCommand: Command = commandOf({
  name: 'order',
  summary: 'the build order, every step and its reason; or taking apart, or a check of your own order',
  options: {
    strip: { type: 'boolean', says: 'taking apart' },
    makers: { type: 'boolean', says: 'the order of the frame’s maker' },
    own: {
      type: 'string',
      value: '"TASK, TASK, …"',
      says: 'check your own order; the tasks are those the order prints',
    },
    json: JSON_OPTION,
    variant: VARIANT_OPTION,
  },
  examples: [
    'order models/class-rig.json --strip',
    'order models/skarn-140.json --own "stand, inspect:main, fit:main"',
  ],
  apart: [['own', ['strip', 'makers']]],
  run,
});

function run(base: LinkageModel, options: Options): number {
  const analysis = analysed(base, options);
  const plan = planned(analysis, options);
  const own = textOption(options, 'own');
  if (own !== undefined) return checkOwn(plan, own, options);
  const isPossible = plan.stuck.length === 0 && plan.blocks.length === 0;
  if (options['strip'] === true) {
    const strip = stripOf(plan);
    if (options['json'] === true) putJson(stripReport(strip, analysis));
    else process.stdout.write(stripText(strip, analysis));
  } else if (options['json'] === true) putJson(planReport(plan));
  else process.stdout.write(planText(plan, base));
  return isPossible ? 0 : 1;
}

/** The plan as plain data: without the analysis it was made from, every step with its words. */
function planReport({ analysis, ...plan }: Plan): unknown {
  return { model: analysis.model.id, ...plan, steps: buildSteps(plan.steps, analysis) };
}

function stripReport({ tasks, steps }: Strip, analysis: Analysis): unknown {
  return {
    model: analysis.model.id,
    ...(analysis.variant === undefined ? {} : { variant: analysis.variant }),
    tasks,
    steps: stripSteps(steps, analysis),
  };
}

/** Steps of taking apart as plain data, each with its words. */
export function stripSteps(steps: readonly StripStep[], analysis: Analysis): unknown[] {
  return steps.map((strip) => {
    const { step, ...own } = strip;
    return {
      ...own,
      taskId: step.taskId,
      build: step.kind,
      items: step.items,
      side: step.side,
      ...worded(wordStripStep(strip, analysis)),
    };
  });
}

/** Steps of building up as plain data, each with its words. */
export function buildSteps(steps: readonly PlanStep[], analysis: Analysis): unknown[] {
  return steps.map((step) => ({ ...step, ...worded(wordPlanStep(step, analysis)) }));
}

function worded({ title, text, cautions }: WordedStep): {
  readonly title: string;
  readonly text: string;
  readonly cautions: readonly string[];
} {
  return { title, text, cautions };
}

function planText(plan: Plan, base: LinkageModel): string {
  const { analysis } = plan;
  const name =
    analysis.variant === undefined
      ? ''
      : `, ${base.variants?.find(({ id }) => id === analysis.variant)?.name ?? analysis.variant}`;
  const lines = [
    `${analysis.model.name}${name}: build order, ${plan.tasks.length} tasks, ${plan.steps.length} steps`,
    wordRecommended(plan),
    wordCount(plan.orders),
  ];
  for (const block of plan.blocks) lines.push(`STOP ${wordBlock(block, analysis)}`);
  for (const fault of plan.stuck)
    lines.push(`STOP ${wordTask(fault.task, analysis)}: ${wordFault(fault, analysis).text}`);
  const steps = new Map(plan.steps.map((step) => [step.id, step]));
  let stand: PlanTask['side'];
  plan.tasks.forEach((task, k) => {
    if (task.side !== undefined && task.side !== stand) lines.push('', `— ${wordChange(task.side)} —`);
    stand = task.side ?? stand;
    lines.push('', `${k + 1}. ${wordTask(task.id, analysis)}  [${task.id}]`);
    for (const id of task.steps) lines.push(...stepLines(steps.get(id)!, analysis));
  });
  if (plan.makersOrder) {
    const { title, text, lines: more } = wordMakersOrder(plan.makersOrder, analysis);
    lines.push('', `${title}. ${text}`, ...more.map((line) => `  ${line}`));
  }
  if (analysis.variant === undefined && (base.variants ?? []).length > 0) {
    for (const order of compareVariants(base).slice(1)) {
      const { title, text, lines: more } = wordVariantOrder(order, analysis);
      lines.push('', `Variant ${title} (${order.variant}): ${text}`, ...more.map((line) => `  ${line}`));
    }
  }
  return ended(lines);
}

function stepLines(step: PlanStep, analysis: Analysis): string[] {
  const { title, text, cautions } = wordPlanStep(step, analysis);
  const tools = step.tools.map((tool) => wordPlanTool(tool, analysis)).join('; ');
  const because = [...new Set(step.because.map((one) => wordBecause(one, analysis)))];
  return [
    `   ${title}${tools === '' ? '' : `  (${tools})`}`,
    `      ${text}`,
    ...because.map((line) => `      · ${line}`),
    ...cautions.map((line) => `      ! ${line}`),
  ];
}

function stripText({ steps }: Strip, analysis: Analysis): string {
  const lines = [`${analysis.model.name}: taking apart, ${steps.length} steps`];
  lines.push(...stripLines(steps, analysis));
  return ended(lines);
}

/** Steps of taking apart under their tasks. */
export function stripLines(steps: readonly StripStep[], analysis: Analysis): string[] {
  const lines: string[] = [];
  let task: string | undefined;
  for (const strip of steps) {
    const { title, text, cautions } = wordStripStep(strip, analysis);
    if (strip.step.taskId !== task) {
      task = strip.step.taskId;
      lines.push('', wordTask(task, analysis, 'strip'));
    }
    lines.push(`   ${title}`, `      ${text}`, ...cautions.map((line) => `      ! ${line}`));
  }
  return lines;
}

/** Steps of building up under their tasks. */
export function buildLines(steps: readonly PlanStep[], analysis: Analysis): string[] {
  const lines: string[] = [];
  let task: string | undefined;
  for (const step of steps) {
    if (step.taskId !== task) {
      task = step.taskId;
      lines.push('', wordTask(task, analysis));
    }
    lines.push(...stepLines(step, analysis));
  }
  return lines;
}

function checkOwn(plan: Plan, words: string, options: Options): number {
  const { analysis } = plan;
  const ids = words.split(/[\s,]+/).filter((id) => id !== '');
  const known = plan.tasks.map(({ id }) => id);
  if (ids.length === 0) throw new Refusal('order: --own: met nothing, allowed: tasks with commas between them');
  const stranger = ids.find((id) => !known.includes(id));
  if (stranger !== undefined) throw unknown('order: --own', stranger, known);
  const twice = [...new Set(ids.filter((id, k) => ids.indexOf(id) !== k))];
  if (twice.length > 0) throw new Refusal(`order: --own: named twice: ${twice.join(', ')}, allowed: each task once`);
  const check = checkOrder(plan, ids);
  if (options['json'] === true) putJson({ model: analysis.model.id, ...check });
  else {
    const lines = [
      `${analysis.model.name}: your order of ${ids.length} of ${known.length} tasks`,
      check.faults.length === 0
        ? 'Every task of it can be done when it is its turn.'
        : `${check.faults.length} of them cannot be done when it is their turn.`,
      wordCost(check.cost, check.missing.length === 0 ? plan.cost : undefined),
    ];
    for (const fault of check.faults) {
      const { title, text } = wordFault(fault, analysis);
      lines.push('', `STOP ${ids.indexOf(fault.task) + 1}. ${wordTask(fault.task, analysis)}: ${title} ${text}`);
    }
    if (check.missing.length > 0) lines.push('', `Not named: ${check.missing.join(', ')}`);
    process.stdout.write(ended(lines));
  }
  return check.faults.length === 0 ? 0 : 1;
}

/** Lines with the last word. */
export function ended(lines: readonly string[]): string {
  return [...lines, '', LAST_WORD, ''].join('\n');
}
