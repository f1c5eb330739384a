/**
 * What the page asks the worker about the order of the open build: its plan for the whole page, and for the build order's
 * place the steps of an own order, what it takes to get at a part, and the variants.
 *
 * What has come once is kept by what the build holds, so that a look at another place loses nothing.
 */
import { useEffect, useMemo, useState } from 'react';
import { buildKey, type Analysis, type Reach, type VariantOrder } from '../../shared/index.ts';
import type { JobKind, Jobs } from '../worker.ts';
import { planCame, type Worked } from './planned.ts';
import { useApp } from './store.ts';
import { startWork } from './work.ts';

/** Asks for the plan of the written build, and again when another order is to be followed. */
export function usePlanning(): void {
  const analysis = useApp((state) => state.whatIf?.written ?? state.opened?.analysis);
  const follow = useApp((state) => state.follow);
  const count = useApp((state) => state.opened?.count);
  const act = useApp((state) => state.act);
  useEffect(() => {
    if (!analysis || count === undefined) return undefined;
    return startWork(
      'order-plan',
      { analysis, follow },
      {
        progress: () => undefined,
        done: ({ plan, strip }) => act.planned(planCame({ plan: { ...plan, analysis }, strip })),
        failed: (message) => act.planned({ is: 'failed', message }),
      },
    );
  }, [analysis, follow, count, act]);
}

type OrderJob = Extract<JobKind, `order-${string}`>;

const RUNNING = { is: 'running' } as const;
const kept = new Map<string, unknown>();
const MOST_KEPT = 60;

/** Ask the worker once for what goes by a key; `asked` undefined asks for nothing. */
function useWorked<K extends OrderJob>(
  kind: K,
  name: string,
  asked: Jobs[K]['asked'] | undefined,
): Worked<Jobs[K]['given']> {
  const key = `${kind} ${name}`;
  const [news, setNews] = useState<{ readonly key: string; readonly failed?: string } | undefined>(undefined);
  const known = kept.get(key) as Jobs[K]['given'] | undefined;
  useEffect(() => {
    if (asked === undefined || kept.has(key)) return undefined;
    return startWork(kind, asked, {
      progress: () => undefined,
      done: (given) => {
        kept.set(key, given);
        for (const oldest of kept.keys()) if (kept.size > MOST_KEPT) kept.delete(oldest);
        setNews({ key });
      },
      failed: (message) => setNews({ key, failed: message }),
    });
  }, [kind, key, asked]);
  if (known !== undefined) return { is: 'done', given: known };
  return news?.key === key && news.failed !== undefined ? { is: 'failed', message: news.failed } : RUNNING;
}

function useKey(analysis: Analysis): string {
  return useMemo(() => buildKey(analysis), [analysis]);
}

/** The steps of an order of tasks that works, and its strip-down; no tasks ask for nothing. */
export function useOwnSteps(
  analysis: Analysis,
  jobs: readonly string[] | undefined,
): Worked<Jobs['order-own']['given']> {
  const name = jobs?.join(' ') ?? '';
  // eslint-disable-next-line react-hooks/exhaustive-deps -- the same tasks in a new list ask for the same.
  const asked = useMemo(() => jobs && { analysis, jobs }, [analysis, name]);
  return useWorked('order-own', `${name} ${useKey(analysis)}`, asked);
}

/** What it takes to get at one thing by its id; none asks for nothing. */
export function useReach(analysis: Analysis, id: string | undefined): Worked<Reach> {
  const asked = useMemo(() => (id === undefined ? undefined : { analysis, id }), [analysis, id]);
  return useWorked('order-reach', `${id ?? ''} ${useKey(analysis)}`, asked);
}

/** The orders of a model's variants beside that of the model as written; undefined asks for nothing. */
export function useVariants(model: Analysis['model'] | undefined): Worked<readonly VariantOrder[]> {
  const asked = useMemo(() => model && { model }, [model]);
  return useWorked(
    'order-variants',
    useMemo(() => JSON.stringify(model ?? ''), [model]),
    asked,
  );
}
