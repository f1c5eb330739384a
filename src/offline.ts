/**
 * The app without a network: keeps every file of one build, and gives the page those and no others.
 *
 * The build puts in place of `FILES` the path and the content of each file. All are fetched before any counts, each
 * checked against its content, so that half of a new version is never kept. A new version waits until a hand asks for
 * it. Files are named by their content, and those of the version before stay: a tab that still runs it finds all that
 * it may yet load. Only the page itself comes from the version in force.
 */
interface Waiting {
  waitUntil: (work: Promise<unknown>) => void;
}
interface Fetching extends Waiting {
  readonly request: Request;
  respondWith: (answer: Promise<Response>) => void;
}
/** Put in by the build: the page itself has the empty path, since some servers send its name on to that. */
declare const FILES: { readonly version: string; readonly files: readonly (readonly [path: string, check: string])[] };
/** What of a service worker's scope is used; the compiler knows the page's alone. */
interface Scope {
  readonly registration: { readonly scope: string };
  readonly clients: { readonly claim: () => Promise<void> };
  readonly skipWaiting: () => Promise<void>;
  addEventListener(what: 'install' | 'activate', hear: (event: Waiting) => void): void;
  addEventListener(what: 'fetch', hear: (event: Fetching) => void): void;
  addEventListener(what: 'message', hear: (event: MessageEvent) => void): void;
}

const { version, files } = FILES;
const scope = globalThis as unknown as Scope;
const CACHES = 'axlewright ';
const here = CACHES + version;
const addressOf = (path: string): string => new URL(path, scope.registration.scope).href;
const known = new Map(files.map(([path, integrity]) => [addressOf(path), integrity]));

async function keepAll(): Promise<void> {
  const cache = await caches.open(here);
  await Promise.all(
    [...known].map(async ([address, integrity]) => {
      // Named by its content it is the same file in any version, and may have come a moment ago.
      const isSame = address.includes('/assets/');
      const before = isSame ? await caches.match(address) : undefined;
      const answer = before ?? (await fetch(address, { integrity, cache: isSame ? 'default' : 'no-cache' }));
      if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
      await cache.put(address, answer);
    }),
  );
}

/** Lets go of all versions but this one and the one before it. */
async function letGo(): Promise<void> {
  const names = (await caches.keys()).filter((name) => name.startsWith(CACHES) && name !== here);
  await Promise.all(names.slice(0, -1).map((name) => caches.delete(name)));
}

async function answer(request: Request): Promise<Response> {
  const address = new URL(request.url);
  address.hash = '';
  address.search = '';
  const page = scope.registration.scope;
  const kept = [page, addressOf('index.html')].includes(address.href)
    ? await (await caches.open(here)).match(page)
    : ((await (await caches.open(here)).match(address.href)) ?? (await caches.match(address.href)));
  return kept ?? fetch(request);
}

scope.addEventListener('install', (event) => event.waitUntil(keepAll()));
scope.addEventListener('activate', (event) => event.waitUntil(letGo().then(() => scope.clients.claim())));
scope.addEventListener('message', ({ data }) => {
  if (data === 'take over') void scope.skipWaiting();
});
scope.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method === 'GET' && request.url.startsWith(scope.registration.scope)) event.respondWith(answer(request));
});
