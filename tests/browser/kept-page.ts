/**
 * A bare page on the store that the app is built on: it counts, as fast as each number reaches the disk, and says each
 * one only then. `kept-disk.spec.ts` kills its browser and looks what is left. Opened at `#count` it does so by itself,
 * and tells the server what it has found and each number: nobody else need reach into that browser.
 */
import { openThing, useKeep } from '../../src/page/keep.ts';

/** What the page found when it was opened. */
export interface Found {
  /** The number counted to, and whether it, its copy and its square agree. */
  readonly count: number;
  readonly isWhole: boolean;
  /** Steps that can be taken back. */
  readonly steps: number;
  readonly damaged: number;
  readonly isLost: boolean;
  readonly trouble: string | undefined;
}

async function find(): Promise<Found> {
  const thing = await openThing('draft/count');
  const { fields, clashes } = thing.sum;
  const count = Number(fields.get('count') ?? 0);
  const { damaged, isLost, trouble } = useKeep.getState();
  const isWhole = count === 0 || (fields.get('copy') === `no. ${count}` && fields.get('square') === count * count);
  return { count, isWhole: isWhole && clashes.size === 0, steps: thing.steps.undo, damaged, isLost, trouble };
}

/** Count on, one number a step; every fifth step is taken back and put back. Says each number that is kept. */
async function countOn(to: number, say: (count: number) => void): Promise<void> {
  const thing = await openThing('draft/count');
  let at = Number(thing.sum.fields.get('count') ?? 0);
  while (at < to) {
    at++;
    if (!(await thing.set({ count: at, copy: `no. ${at}`, square: at * at }))) return;
    if (at % 5 === 0) {
      await thing.undo();
      await thing.redo();
    }
    say(at);
  }
}

/** Keep a text of so many characters under a name, one that nothing can press together; whether it is on the disk. */
async function fill(name: string, length: number): Promise<boolean> {
  const thing = await openThing(`draft/${name}`);
  const texts: string[] = [];
  for (let left = length; left > 0; left -= 60_000)
    texts.push(String.fromCharCode(...crypto.getRandomValues(new Uint8Array(60_000)).map((byte) => 48 + (byte & 63))));
  return thing.set({ text: texts.join('') });
}

declare global {
  interface Window {
    readonly bare: {
      readonly find: typeof find;
      readonly countOn: typeof countOn;
      readonly fill: typeof fill;
      readonly keep: typeof useKeep;
    };
  }
}
Object.assign(window, { bare: { find, countOn, fill, keep: useKeep } });

async function countAlone(): Promise<void> {
  const tell = (what: Found | number): Promise<unknown> =>
    fetch('said', { method: 'POST', body: JSON.stringify(what) }).catch(() => undefined);
  await tell(await find());
  await countOn(1e6, (count) => void tell(count));
}
if (window.location.hash === '#count') void countAlone();
document.title = 'ready';
