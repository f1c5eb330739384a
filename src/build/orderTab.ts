/**
 * To another tab of the build order's place; the run it tells of goes on where it was left.
 */
import { Kept } from '../content.ts';
import { runOfTab, type OrderTab, type RunName } from './order.ts';
import { useApp } from '../page/store.ts';

/** Steps each run of a build was left at, so that a look at another loses nothing. */
const left = new Kept<Map<RunName, number>>(8);

/** Go to a tab. */
export function pickTab(tab: OrderTab): void {
  const { act, order, opened } = useApp.getState();
  if (!opened) return;
  const of = tab === 'step' || tab === 'variants' ? order.of : runOfTab(tab);
  if (of === order.of) return act.setOrder({ ...order, tab });
  const kept = left.of(opened.analysis.key, () => new Map());
  kept.set(order.of, order.at);
  act.setOrder({ ...order, tab, of, at: kept.get(of) ?? 0 });
}
