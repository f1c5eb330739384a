/** Opens the built page, looks at it, and holds that nothing was said on the console and nothing left the machine. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { openApp, waitReady, type OpenedApp, type Opening } from './harness.ts';

/** Run `look` on a page that is ready; console lines or requests to elsewhere fail it. */
export async function using(opening: Opening, look: (app: OpenedApp, page: Page) => Promise<void>): Promise<void> {
  const app = await openApp(opening);
  try {
    await waitReady(app.page);
    await look(app, app.page);
    expect(app.noise).toEqual([]);
    expect(app.outside).toEqual([]);
  } finally {
    await app.close();
  }
}
