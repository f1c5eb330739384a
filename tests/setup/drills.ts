/**
 * The row as the maker writes it, laid with the parts that a drill gives: by their sizes alone, as a hand would find
 * them.
 */
import type { LayAnswer, LayDrill, LinkageModel, Part, RowEntry } from '../../shared/index.ts';
import { WORKS } from '../../shared/index.ts';

const sizes = ({ name: _name, notes: _notes, count: _count, ...part }: Part): string =>
  JSON.stringify(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));

/** Throws where the drill lacks a part of the row. */
export function asWritten(model: LinkageModel, drill: LayDrill): LayAnswer {
  const stack = model.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === drill.stackId)!;
  const isGiven = ({ id }: RowEntry): boolean => drill.start.row.some((one) => one.id === id);
  const left = drill.start.out.map(({ entry }) => entry);
  const givenFor = (id: string): string =>
    Object.entries(drill.model.parts).find(
      ([key, part]) => key.startsWith('practice-') && sizes(part) === sizes(model.parts[id]!),
    )![0];
  const row = stack.row.map((entry): RowEntry => {
    if (isGiven(entry)) return entry;
    const at = left.findIndex(({ part }) => part === givenFor(entry.part!));
    if (at < 0) throw new Error(`drills: ${drill.stackId}: no part for ${entry.id}`);
    const [{ id, part }] = left.splice(at, 1) as [RowEntry];
    return { id, part: part!, ...(entry.turned === true ? { turned: true } : {}) };
  });
  return {
    row,
    axle: givenFor(stack.axle),
    ...(stack.receiver.includes('/') ? {} : { nut: givenFor(stack.receiver) }),
    from: stack.from,
    turned: stack.turned,
    treatment: stack.thread_treatment,
    greased: [
      ...(stack.greased?.includes('axle') ? (['axle'] as const) : []),
      ...(stack.row.some((entry) => entry.greased === true && !isGiven(entry)) ? (['spacers'] as const) : []),
      ...(stack.greased?.includes('receiver') ? (['receiver'] as const) : []),
    ],
    order: WORKS,
  };
}
