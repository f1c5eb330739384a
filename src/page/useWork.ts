/**
 * Long work for a component: begun when it is asked for, shared with whoever asks for the same, stopped when the last
 * of them goes.
 */
import { useCallback, useEffect, useRef, useSyncExternalStore } from 'react';
import type { Analysis } from '../../shared/index.ts';
import type { WorkKind, Works } from '../worker.ts';
import { keyOf } from '../content.ts';
import { IDLE, restartWork, stopWork, waitForWork, watchWork, workState, type Order, type WorkState } from './work.ts';

/** How far the work is, with what stops it and what begins it again. */
export interface Work<T> {
  readonly state: WorkState<T>;
  readonly stop: () => void;
  readonly again: () => void;
}

/**
 * The work that `owner` and `key` name, `key` saying all that the owner does not; no owner or no order asks for
 * nothing.
 */
export function useWork<K extends WorkKind>(
  owner: Pick<Analysis, 'model' | 'variant'> | undefined,
  key: string,
  order: Order<K> | undefined,
): Work<Works[K]['given']> {
  const name = owner && order && `${order.kind} ${key} ${keyOf(owner)}`;
  const latest = useRef(order);
  useEffect(() => {
    latest.current = order;
  });
  useEffect(() => (name === undefined || !latest.current ? undefined : waitForWork(name, latest.current)), [name]);
  const state = useSyncExternalStore(watchWork, () => (name === undefined ? IDLE : workState(name)));
  return {
    state: state as WorkState<Works[K]['given']>,
    stop: useCallback(() => name !== undefined && stopWork(name), [name]),
    again: useCallback(() => name !== undefined && restartWork(name), [name]),
  };
}
