/**
 * The brute-force twin of the search for placements: every way of laying a pivot's spacers, each one solved by itself.
 *
 * It takes nothing from the search: the ways are counted out here, folded by what the fit check can tell apart, laid
 * into a model of that pivot alone and judged by `analyse`.
 */
import {
  analyse,
  isSamePart,
  kindOf,
  partProfile,
  toldVerdict,
  type LinkageModel,
  type Placement,
  type RowEntry,
} from '../../shared/index.ts';
import { pivotAlone, withStacks } from './models.ts';

type Way = Placement['filled'];

/** Slots for loose spacers, stack by stack in row order; what seals carries nothing and is no spacer. */
function slotsOf(model: LinkageModel, pivotId: string): { stack: string; entry: RowEntry }[] {
  const pivot = model.pivots.find(({ id }) => id === pivotId)!;
  return pivot.stacks.flatMap((stack) =>
    stack.row
      .filter((entry) => {
        const kind = entry.part === undefined ? undefined : kindOf(model.parts[entry.part]!);
        return kind !== undefined && kind.stands.includes('loose') && kind.seals === undefined;
      })
      .map((entry) => ({ stack: stack.id, entry })),
  );
}

/** Every way that differs to the solve, in a fixed order. */
export function everyWay(model: LinkageModel, pivotId: string): Way[] {
  const slots = slotsOf(model, pivotId);
  const namedAs = (part: string): string =>
    slots.find(({ entry }) => isSamePart(model.parts[entry.part!]!, model.parts[part]!))!.entry.part!;
  let ways: { way: Way; left: readonly string[] }[] = [
    { way: [], left: slots.map(({ entry }) => namedAs(entry.part!)) },
  ];
  for (const { stack, entry } of slots)
    ways = ways.flatMap(({ way, left }) =>
      [...new Set(left)].flatMap((part) => {
        const rest = left.filter((_one, k) => k !== left.indexOf(part));
        const facings = partProfile(model.parts[part]!).hasTwoWays ? [false, true] : [false];
        return facings.map((turned) => ({ way: [...way, { stack, row: entry.id, part, turned }], left: rest }));
      }),
    );
  return ways.map(({ way }) => way);
}

/** The placements that pass, found by solving them all. */
export function placementsByBruteForce(
  model: LinkageModel,
  pivotId: string,
): { readonly ways: number; readonly passing: readonly Placement[] } {
  const alone = pivotAlone(model, pivotId);
  const slots = slotsOf(alone, pivotId);
  const all = everyWay(alone, pivotId);
  const passing = all.flatMap((filled): Placement[] => {
    const laid = withStacks(alone, (stack) => ({
      ...stack,
      row: stack.row.map((entry) => {
        const now = filled.find((one) => one.stack === stack.id && one.row === entry.id);
        return now ? { ...entry, part: now.part, turned: now.turned } : entry;
      }),
    }));
    const { verdict, findings } = analyse(laid).pivots[0]!;
    if (verdict === 'faulty' || findings.some(({ severity }) => severity === 'stop')) return [];
    const isWritten = slots.every(({ entry }, k) => {
      const [was, now] = [alone.parts[entry.part!]!, filled[k]!];
      const isSameWay = !partProfile(was).hasTwoWays || (entry.turned ?? false) === now.turned;
      return isSamePart(was, alone.parts[now.part]!) && isSameWay;
    });
    const told = toldVerdict({ verdict, findings });
    return told === 'faulty' ? [] : [{ filled, isWritten, verdict: told }];
  });
  return { ways: all.length, passing };
}
