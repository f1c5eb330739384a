/**
 * The user's own order of a plan: in the address, and kept.
 */
import { useCallback, useEffect, useMemo, useState } from 'react';
import { checkOrder, type Plan } from '../../shared/index.ts';
import { isOrderOf, lettered, type OrderView } from './order.ts';
import { recallOrder, rememberOrder } from './orderKept.ts';
import { buildName } from '../page/models.ts';
import { useApp } from '../page/store.ts';

/** The own order in force, the one before it, and what changes them. */
export function useOwnOrder(
  plan: Plan,
  view: OrderView,
): {
  readonly order: readonly number[];
  readonly before: readonly number[] | undefined;
  readonly isOwn: boolean;
  readonly isPossible: boolean;
  /** How many of its tasks, from the first, can be done as they stand. */
  readonly good: number;
  readonly isKept: boolean;
  readonly change: (own: readonly number[]) => Promise<void>;
  readonly putBack: () => void;
} {
  const { model, variant } = plan.analysis;
  const name = buildName(model.id, variant);
  const usual = useMemo(() => plan.tasks.map((_, k) => k), [plan]);
  const count = usual.length;
  const letters = useMemo(() => lettered(plan.tasks.map(({ id }) => id)), [plan]);
  const order = useMemo(
    () => (view.own && isOrderOf(view.own, count) ? view.own.map((letter) => letters.toPlace[letter]!) : usual),
    [view.own, count, letters, usual],
  );
  const [before, setBefore] = useState<readonly number[] | undefined>(undefined);
  const [isKept, setKept] = useState(true);

  useEffect(() => {
    let isLeft = false;
    void recallOrder(name).then((kept) => {
      if (isLeft) return;
      setBefore(
        kept.before && isOrderOf(kept.before, count)
          ? kept.before.map((letter) => letters.toPlace[letter]!)
          : undefined,
      );
      const { act, order: now } = useApp.getState();
      if (!now.own && kept.own && isOrderOf(kept.own, count)) act.setOrder({ ...now, own: kept.own });
    });
    return () => {
      isLeft = true;
    };
  }, [name, count, letters]);

  const put = useCallback(
    async (own: readonly number[], was: readonly number[]) => {
      const isUsual = own.every((task, k) => task === k);
      const write = (list: readonly number[]): number[] => list.map((place) => letters.toLetter[place]!);
      const isOnDisk = await rememberOrder(name, { own: isUsual ? undefined : write(own), before: write(was) });
      const { act, order: now } = useApp.getState();
      const { own: _, ...rest } = now;
      setKept(isOnDisk);
      setBefore(was);
      act.setOrder({ ...rest, at: now.of === 'own' ? 0 : now.at, ...(isUsual ? {} : { own: write(own) }) });
    },
    [name, letters],
  );
  const isOwn = order.some((task, k) => task !== k);
  const good = useMemo(() => {
    if (!isOwn) return count;
    const ids = order.map((k) => plan.tasks[k]!.id);
    const first = checkOrder(plan, ids).faults[0];
    return first ? ids.indexOf(first.task) : ids.length;
  }, [plan, order, isOwn, count]);
  return {
    order,
    before,
    isOwn,
    isPossible: good === count,
    good,
    isKept,
    change: useCallback((own) => put(own, order), [put, order]),
    putBack: useCallback(() => void (before && put(before, order)), [put, before, order]),
  };
}
