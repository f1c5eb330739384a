/**
 * To another tab of the build order's place; the run it tells of goes on where it was left.
 */
import { runOfTab, type OrderTab } from './order.ts';
import { useApp } from './store.ts';

/** Steps each run was left at, by the opening of its model and its name, so that a look at another loses nothing. */
const left = new Map<string, number>();

/** Go to a tab. */
export function pickTab(tab: OrderTab): void {
  const { act, order, opened } = useApp.getState();
  if (!opened) return;
  const of = tab === 'step' || tab === 'variants' ? order.of : runOfTab(tab);
  if (of === order.of) return act.setOrder({ ...order, tab });
  left.set(`${opened.count} ${order.of}`, order.at);
  act.setOrder({ ...order, tab, of, at: left.get(`${opened.count} ${of}`) ?? 0 });
}
