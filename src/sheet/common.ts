/**
 * What every sheet says alike: the bike's name, the tools for the whole job, and which way each loose part looks.
 */
import {
  capital,
  material,
  nameOf,
  sideWord,
  wordPlanTool,
  wordTool,
  wordWay,
  type Analysis,
  type PivotAnalysis,
  type Plan,
  type StackAnalysis,
} from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { group, PX_PER_MM, scaled, words, type Drawing } from '../drawings/shapes.ts';
import { BLACK } from '../look.ts';
import type { Line } from './blocks.ts';

/** The bike, with the variant that is looked at. */
export function bikeName({ model, variant: id }: Analysis): string {
  const variant = model.variants?.find((one) => one.id === id);
  return variant ? `${model.name}, ${variant.name}` : model.name;
}

/** Whether any member is of carbon. */
export function hasCarbon({ model }: Analysis): boolean {
  return Object.values(model.members).some((member) => material(member.material).family === 'carbon');
}

/** Every tool and consumable of a plan, each once. */
export function toolsOf(plan: Plan): string {
  const tools = plan.steps.flatMap(({ tools }) => tools);
  const drives = tools.flatMap((tool) => (tool.kind === 'drive' ? [wordTool(tool.tool)] : []));
  const others = tools.flatMap((tool) => (tool.kind === 'bench' ? [wordPlanTool(tool, plan.analysis)] : []));
  const hasWrench = tools.some((tool) => tool.kind === 'drive' && tool.isTorque);
  return `${capital([...new Set([...(hasWrench ? ['torque wrench'] : []), ...drives.sort(), ...others])].join(', '))}.`;
}

/** Which way round each loose part of a row goes. */
export function facings(stack: StackAnalysis | undefined, analysis: Analysis): Line[] {
  return (stack?.items ?? []).flatMap((item): Line[] =>
    item.role === 'spacer'
      ? [{ text: `${nameOf(item.id, analysis)}: ${wordWay(item)}`, mark: item.smallFace ?? 'same' }]
      : [],
  );
}

/** A stack and its pivot. */
export function stackOf(
  id: string | undefined,
  { pivots }: Analysis,
): { readonly pivot: PivotAnalysis; readonly stack: StackAnalysis } | undefined {
  for (const pivot of pivots) for (const stack of pivot.stacks) if (stack.id === id) return { pivot, stack };
  return undefined;
}

/** What stands over a row to tell its two ends, mm. */
const SIDES_mm = 4.5;
const SIDES_TYPE_mm = 2.8;

/** The section of a row between its two sides, as wide as `width_mm` and at most `height_mm` high. */
export function sidedSection(
  stack: StackAnalysis,
  analysis: Analysis,
  { width_mm, height_mm, apart }: { readonly width_mm: number; readonly height_mm: number; readonly apart: number },
): Drawing {
  const drawing = drawSection(stack, analysis, {
    theme: 'print',
    apart,
    width_px: width_mm * PX_PER_MM,
    column: false,
    bare: true,
  });
  const by = Math.min(1, (height_mm - SIDES_mm) / drawing.height_mm);
  const side = { weight: 700, fill: BLACK } as const;
  return {
    ...drawing,
    unit: 'mm',
    height_mm: SIDES_mm + drawing.height_mm * by,
    shapes: [
      words(capital(sideWord('non-drive')), 0, 3, SIDES_TYPE_mm, side),
      words(capital(sideWord('drive')), width_mm, 3, SIDES_TYPE_mm, { ...side, anchor: 'end' }),
      group(scaled(drawing.shapes, by), { at: [(width_mm * (1 - by)) / 2, SIDES_mm] }),
    ],
  };
}

/** A drawing in words: what it is, and what is seen in it. */
export function altOf({ label, description }: Drawing): string {
  return [label, description].filter((text) => text !== undefined).join('. ');
}
