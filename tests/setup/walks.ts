/**
 * Walks away from a sound pivot: one size of one of its parts, or its torque, taken step by step from its written value
 * toward nothing or toward several times itself; every step is read as a file is and judged as the fit check judges it.
 */
import { readData, toldVerdict, type LinkageModel } from '../../shared/index.ts';
import { judge, verdictOf } from '../../shared/findings/judge.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import type { Finding } from '../../shared/types.ts';

/** A number of a model that a walk may take away: its keys from the top, and the pivot that is judged. */
export interface Size {
  readonly name: string;
  readonly path: readonly (string | number)[];
  readonly pivot: string;
  readonly written: number;
}

/** One step: the value met and the findings it raises, none where the file is refused. */
export interface Step {
  readonly value: number;
  readonly fits: boolean;
  readonly isRefused: boolean;
  readonly findings: readonly Finding[];
}

/** Every torque of a pivot and every size of the parts its rows name. */
export function sizesOf(model: LinkageModel): Size[] {
  return model.pivots.flatMap((pivot, p) =>
    pivot.stacks.flatMap((stack, s) => {
      const ids = [...new Set([stack.axle, stack.receiver, ...stack.row.flatMap(({ part }) => part ?? [])])];
      const torque: Size = {
        name: `${model.id} ${stack.id} torque`,
        path: ['pivots', p, 'stacks', s, 'torque_Nm'],
        pivot: pivot.id,
        written: stack.torque_Nm,
      };
      const parts = ids.flatMap((id) => (model.parts[id] ? leaves(model.parts[id], ['parts', id]) : []));
      return [
        torque,
        ...parts.map(({ path, value }) => ({
          name: `${model.id} ${stack.id} ${path.slice(1).join('.')}`,
          path,
          pivot: pivot.id,
          written: value,
        })),
      ];
    }),
  );
}

/** Numbers below a value that are lengths, with their paths; a thread's own size and pitch are no dimension to walk. */
function leaves(
  value: unknown,
  path: readonly (string | number)[],
): { path: readonly (string | number)[]; value: number }[] {
  const key = String(path.at(-1));
  if (typeof value === 'number') {
    const isLength = key.endsWith('_mm') && key !== 'pitch_mm' && key !== 'size_mm' && !key.endsWith('tol_mm');
    return isLength && value > 0 ? [{ path, value }] : [];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, inner]) =>
    leaves(inner, [...path, Array.isArray(value) ? Number(name) : name]),
  );
}

/** Shares of the written value by which a walk leaves it. */
const AWAY = [0.003, 0.01, 0.03, 0.06, 0.1, 0.16, 0.24, 0.35, 0.5, 0.7, 0.9, 0.99] as const;
const FURTHER = [1.3, 2, 4] as const;

/** The steps of a walk; `way` −1 goes toward nothing, 1 the other way. */
export function walk(model: LinkageModel, size: Size, way: 1 | -1, shares: readonly number[] = AWAY): Step[] {
  return [...shares, ...(way > 0 ? FURTHER : [])].map((share) => stepAt(model, size, size.written * (1 + way * share)));
}

/** The pivot of a size judged with another value in its place. */
export function stepAt(model: LinkageModel, size: Size, value: number): Step {
  const data = structuredClone(model) as unknown;
  let at = data as Record<string | number, unknown>;
  for (const key of size.path.slice(0, -1)) at = at[key] as Record<string | number, unknown>;
  at[size.path.at(-1)!] = value;
  const reading = readData(data);
  if (!reading.ok) return { value, fits: false, isRefused: true, findings: [] };
  const judged = judge(resolveModel(reading.model), size.pivot);
  const { findings } = judged;
  const isPlain = findings.every(({ severity }) => severity === 'note');
  const fits = isPlain && toldVerdict({ verdict: verdictOf(judged), findings }) === 'sound';
  return { value, fits, isRefused: false, findings };
}
