/**
 * The slip table of a pivot, or of the whole model, worked out in the worker and kept while its analysis is open.
 *
 * A table is asked for at once when `isWanted`, stopped when its place is left or by hand, and not asked for twice.
 */
import { useCallback, useEffect, useState } from 'react';
import type { Analysis } from '../../shared/index.ts';
import type { Jobs } from '../worker.ts';
import { startWork } from './work.ts';

/** A finished table. */
export type SlipTable = Jobs['slips']['given'];
/** How far a table is. */
export type TableState =
  | { readonly is: 'idle' }
  | { readonly is: 'running'; readonly done: number; readonly total: number }
  | { readonly is: 'stopped' }
  | { readonly is: 'failed'; readonly message: string }
  | { readonly is: 'done'; readonly table: SlipTable };

interface Asked {
  readonly analysis: Analysis;
  /** One pivot, or the whole model. */
  readonly pivotId?: string | undefined;
  readonly two: boolean;
  readonly isWanted: boolean;
}

const IDLE: TableState = { is: 'idle' };
const tables = new WeakMap<Analysis, Map<string, SlipTable>>();

function keep(analysis: Analysis, key: string, table: SlipTable): void {
  const known = tables.get(analysis) ?? new Map<string, SlipTable>();
  known.set(key, table);
  tables.set(analysis, known);
}

/** The table asked for, with what stops it and what starts it again. */
export function useSlips({ analysis, pivotId, two, isWanted }: Asked): {
  readonly state: TableState;
  readonly stop: () => void;
  readonly again: () => void;
} {
  const key = `${pivotId ?? ''} ${two}`;
  const [news, setNews] = useState<
    { readonly of: string; readonly by: Analysis; readonly state: TableState } | undefined
  >(undefined);
  const [tries, setTries] = useState(0);
  const [isStopped, setStopped] = useState<string | undefined>(undefined);
  const known = tables.get(analysis)?.get(key);
  const isHalted = isStopped === key;

  useEffect(() => {
    if (!isWanted || isHalted || tables.get(analysis)?.has(key)) return undefined;
    const tell = (state: TableState): void => setNews({ of: key, by: analysis, state });
    return startWork(
      'slips',
      { model: analysis.model, two, ...(pivotId === undefined ? {} : { pivot: pivotId }) },
      {
        progress: (done, total) => tell({ is: 'running', done, total }),
        done: (table) => {
          keep(analysis, key, table);
          tell({ is: 'done', table });
        },
        failed: (message) => tell({ is: 'failed', message }),
      },
    );
  }, [analysis, pivotId, two, key, isWanted, isHalted, tries]);

  const stop = useCallback(() => setStopped(key), [key]);
  const again = useCallback(() => {
    setStopped(undefined);
    setNews(undefined);
    setTries((count) => count + 1);
  }, []);
  const heard = news?.of === key && news.by === analysis ? news.state : undefined;
  const state: TableState = known
    ? { is: 'done', table: known }
    : isHalted
      ? { is: 'stopped' }
      : !isWanted
        ? IDLE
        : (heard ?? { is: 'running', done: 0, total: 0 });
  return { state, stop, again };
}
