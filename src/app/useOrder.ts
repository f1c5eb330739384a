/**
 * The plan of the open build for the build order's place, worked out in the worker and kept while its analysis is open.
 *
 * A plan takes some tenths of a second: too long to hold up a page. Its strip-down comes with it. What the worker gives
 * back names a copy of the analysis; the page's own is put in its place, so that what is asked of the plan later finds
 * what is known of it.
 */
import { useEffect, useMemo, useState } from 'react';
import type { Analysis, Plan, Reach, Strip, VariantOrder } from '../../shared/index.ts';
import type { JobKind, Jobs } from '../worker.ts';
import { startWork } from './work.ts';

/** How far something asked of the worker is. */
export type Worked<T> =
  | { readonly is: 'running' }
  | { readonly is: 'failed'; readonly message: string }
  | { readonly is: 'done'; readonly given: T };

type OrderJob = Extract<JobKind, `order-${string}`>;

/** The page's own number of a build, for the worker. */
const builds = new WeakMap<Analysis, number>();
let count = 0;

/** A build as the worker is asked about it. */
export function ofBuild(analysis: Analysis): { readonly analysis: Analysis; readonly build: number } {
  const build = builds.get(analysis) ?? ++count;
  builds.set(analysis, build);
  return { analysis, build };
}

const RUNNING = { is: 'running' } as const;
const kept = new WeakMap<object, Map<string, unknown>>();

/** Ask the worker once for what belongs to `owner` under a name; `asked` undefined asks for nothing. */
function useWorked<K extends OrderJob>(
  kind: K,
  owner: object,
  name: string,
  asked: Jobs[K]['asked'] | undefined,
): Worked<Jobs[K]['given']> {
  const key = `${kind} ${name}`;
  const [news, setNews] = useState<
    { readonly owner: object; readonly key: string; readonly failed?: string } | undefined
  >(undefined);
  const known = kept.get(owner)?.get(key) as Jobs[K]['given'] | undefined;
  useEffect(() => {
    if (asked === undefined || kept.get(owner)?.has(key)) return undefined;
    return startWork(kind, asked, {
      progress: () => undefined,
      done: (given) => {
        kept.set(owner, (kept.get(owner) ?? new Map<string, unknown>()).set(key, given));
        setNews({ owner, key });
      },
      failed: (message) => setNews({ owner, key, failed: message }),
    });
  }, [kind, owner, key, asked]);
  if (known !== undefined) return { is: 'done', given: known };
  return news?.owner === owner && news.key === key && news.failed !== undefined
    ? { is: 'failed', message: news.failed }
    : RUNNING;
}

/** The plan of an analysis and its strip-down. */
export function usePlan(analysis: Analysis): Worked<{ readonly plan: Plan; readonly strip: Strip }> {
  const asked = useMemo(() => ofBuild(analysis), [analysis]);
  const worked = useWorked('order-plan', analysis, '', asked);
  const given = worked.is === 'done' ? worked.given : undefined;
  const own = useMemo(() => given && { plan: { ...given.plan, analysis }, strip: given.strip }, [given, analysis]);
  return worked.is === 'done' ? { is: 'done', given: own! } : worked;
}

/** The steps of an order of jobs that works, and its strip-down; no jobs ask for nothing. */
export function useOwnSteps(
  analysis: Analysis,
  jobs: readonly string[] | undefined,
): Worked<Jobs['order-own']['given']> {
  const name = jobs?.join(' ') ?? '';
  // biome-ignore lint/correctness/useExhaustiveDependencies: the same jobs in a new list ask for the same.
  const asked = useMemo(() => jobs && { ...ofBuild(analysis), jobs }, [analysis, name]);
  return useWorked('order-own', analysis, name, asked);
}

/** What it takes to reach one thing by its id; none asks for nothing. */
export function useReach(analysis: Analysis, id: string | undefined): Worked<Reach> {
  const asked = useMemo(() => (id === undefined ? undefined : { ...ofBuild(analysis), id }), [analysis, id]);
  return useWorked('order-reach', analysis, id ?? '', asked);
}

/** The orders of a model's variants beside that of the model as written; undefined asks for nothing. */
export function useVariants(analysis: Analysis, model: Analysis['model'] | undefined): Worked<readonly VariantOrder[]> {
  const asked = useMemo(() => model && { model }, [model]);
  return useWorked('order-variants', model ?? analysis, '', asked);
}
