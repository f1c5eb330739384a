/**
 * Pieces of the page that are loaded when they are first wanted.
 *
 * One that the server does not send fails where it stands, and nowhere else; once its failure is forgotten it is asked
 * for again.
 */
import { createElement, use, type ComponentType, type ReactNode } from 'react';

/** What the server did not send. */
export class NotSent extends Error {}

const forgets = new Set<() => void>();

/** A component that is loaded when it is first drawn; until then its Suspense shows. */
export function later<P extends object>(
  load: () => Promise<{ readonly default: ComponentType<P> }>,
): (props: P) => ReactNode {
  let coming: Promise<{ readonly default: ComponentType<P> }> | undefined;
  const ask = (): Promise<{ readonly default: ComponentType<P> }> =>
    load().catch((error: unknown) => {
      forgets.add(() => (coming = undefined));
      throw isOfTheNet(error) ? new NotSent() : error;
    });
  return function Later(props: P): ReactNode {
    return createElement(use((coming ??= ask())).default, props);
  };
}

/** Ask again, at the next drawing, for all that did not come. */
export function forgetFailures(): void {
  for (const forget of forgets) forget();
  forgets.clear();
}

/** Browsers say in words of their own that a module did not come; its own faults are no type errors of these words. */
function isOfTheNet(error: unknown): boolean {
  return error instanceof Error && /import|fetch|load|network|module script/i.test(error.message);
}
