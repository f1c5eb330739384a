/**
 * Many of one joint for the tests of scale: rockers each by itself on one frame, and links each on the one before.
 *
 * Every joint is the reference joint, on a grid walked row by row to and fro, so that a link's two joints are neighbours.
 * Varied, the joints have sides, tools and threadlocker in turn, and few are alike. Larger than a file may be, so that
 * they are put together from what was read. mm.
 */
import type { LinkageModel } from '../../shared/index.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';

type Stack = LinkageModel['pivots'][number]['stacks'][number];

const APART_mm = 200;
const WIDE = 14;

function rowOf(count: number, isChain: boolean, isVaried: boolean): LinkageModel {
  const base = referenceModel();
  const { frame, rocker } = base.members;
  const { left, right } = rocker!.bores;
  const shell = frame!.bores['shell']!;
  const names = Array.from({ length: count }, (_, k) => `link-${k}`);
  const [pivot] = base.pivots;
  const [stack] = pivot!.stacks;
  return {
    ...base,
    id: `${isChain ? 'chain' : 'rockers'}-${count}${isVaried ? '-varied' : ''}`,
    parts: Object.fromEntries(
      Object.entries(base.parts).map(([id, { count: _count, ...part }]) => [id, part]),
    ) as LinkageModel['parts'],
    members: {
      frame: { ...frame!, bores: isChain ? { shell } : Object.fromEntries(names.map((name) => [name, shell])) },
      ...Object.fromEntries(
        names.map((name, k) => {
          const bores = { left: left!, right: right!, ...(isChain && k + 1 < count ? { shell } : {}) };
          return [name, { ...rocker!, name: `Rocker ${k + 1}`, bores }];
        }),
      ),
    },
    pivots: names.map((name, k) => {
      const line = Math.floor(k / WIDE);
      const along = line % 2 === 0 ? k % WIDE : WIDE - 1 - (k % WIDE);
      const holder = isChain ? { member: names[k - 1] ?? 'frame' } : { bore: name };
      const row = stack!.row.map((entry) => {
        if (entry.member === 'rocker') return { ...entry, member: name };
        return entry.member === 'frame' ? { ...entry, ...holder } : entry;
      });
      return {
        ...pivot!,
        id: name,
        name: `Rocker pivot ${k + 1}`,
        x_mm: along * APART_mm,
        y_mm: line * APART_mm,
        stacks: [{ ...stack!, ...(isVaried ? varied(k) : {}), id: name, row }],
      };
    }),
  };
}

/** Side, turned end, key and thread of the `k`th joint. */
function varied(k: number): Partial<Stack> {
  return {
    from: k % 2 === 0 ? 'non-drive' : 'drive',
    turned: k % 3 === 0 ? 'receiver' : 'head',
    ...(k % 4 < 2 ? {} : { thread_treatment: 'threadlocked', threadlocker: 'medium strength' }),
    drives: { head: { tool: 'hex-key', size_mm: k % 5 < 2 ? 8 : 10 }, receiver: { tool: 'spanner', size_mm: 24 } },
  };
}

/** Rockers each on a pivot of its own of one frame. */
export function rockersOf(count: number, isVaried = false): LinkageModel {
  return rowOf(count, false, isVaried);
}

/** Links each on the one before it, the first on the frame. */
export function chainOf(count: number, isVaried = false): LinkageModel {
  return rowOf(count, true, isVaried);
}
