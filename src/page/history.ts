/**
 * Ties the state to the address bar.
 *
 * Another model, variant, pivot or stack is a place of its own and gets an entry, so that the browser's back button
 * returns to it; movement within a place (apart, step, view, cut) only rewrites the entry, and no oftener than browsers
 * allow. What one hand does at once (to a pivot, and a mistake in its picture) is one entry.
 */
import { dropOpening, openRoute } from './models.ts';
import { isNewPlace, readRoute, writeRoute, type Route } from './route.ts';
import { routeOf, show, type AppState } from './state.ts';
import { act, useApp } from './store.ts';

const REWRITE_AFTER_ms = 200;

/** Open what the address says and keep both in step from then on; returns what ends it. */
export function followAddress(): () => void {
  /** The route of the entry the browser is at; none while a model is opened for an entry that exists already. */
  let entry: Route | undefined;
  let later: number | undefined;

  const rewrite = (route: Route): void => {
    window.clearTimeout(later);
    later = undefined;
    entry = route;
    write('replaceState', route);
  };

  /** The state before the first of what is done at once; none where nothing is. */
  let before: AppState | undefined;

  const follow = (): void => {
    const state = useApp.getState();
    const was = before;
    before = undefined;
    // A model that did not come leaves its address alone for as long as that is said: it may be asked for again.
    if (!was || state.isOpening || !state.opened || (entry === undefined && state.trouble)) return;
    const route = routeOf(state);
    if (entry === undefined) rewrite(route);
    else if (isNewPlace(entry, route)) {
      if (later !== undefined) rewrite(routeOf(was));
      entry = route;
      write('pushState', route);
    } else {
      window.clearTimeout(later);
      later = window.setTimeout(() => rewrite(routeOf(useApp.getState())), REWRITE_AFTER_ms);
    }
  };

  const stopWatching = useApp.subscribe((_, was) => {
    if (before === undefined) queueMicrotask(follow);
    before ??= was;
  });

  const read = (): void => {
    const state = useApp.getState();
    const route = readRoute(window.location.hash);
    const shown = routeOf(state);
    window.clearTimeout(later);
    later = undefined;
    if (route.model === shown.model && route.file === shown.file && route.variant === shown.variant) {
      // Another model may be on its way for the entry that was left just now.
      dropOpening();
      entry = routeOf({ ...state, ...show(state, route) });
      act.show(route);
    } else {
      entry = undefined;
      void openRoute(route);
    }
  };

  window.addEventListener('popstate', read);
  void openRoute(readRoute(window.location.hash));
  return () => {
    stopWatching();
    before = undefined;
    window.clearTimeout(later);
    window.removeEventListener('popstate', read);
  };
}

function write(how: 'pushState' | 'replaceState', route: Route): void {
  const hash = writeRoute(route);
  if (hash === window.location.hash) return;
  try {
    window.history[how](null, '', hash);
  } catch {
    // A sandboxed or over-used history throws; the page works without it.
  }
}
