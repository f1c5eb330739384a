/**
 * The user's own order as it is kept: the one in force and the one before the last change.
 *
 * The address holds the order in force, so that it can be sent on; this brings it back when the place is left by
 * another way and entered again, and keeps what a reset would lose.
 */
import { readOwn, writeOwn } from './order.ts';
import { openThing } from '../page/keep.ts';

/** What is kept of one build. */
export interface KeptOrder {
  readonly own: readonly number[] | undefined;
  readonly before: readonly number[] | undefined;
}

/** Where the first versions kept it, for the tab alone. */
const OLD_KEY = 'axlewright.order.';

const open = (name: string): ReturnType<typeof openThing> =>
  openThing(`order/${name}`, {
    where: 'sessionStorage',
    key: OLD_KEY + (name.includes(' ') ? name : `${name} `),
    fieldsOf: (text) => {
      const [own = '', before = ''] = text.split(' ');
      return { own, before };
    },
  });

/** What is kept of a build. */
export async function recallOrder(name: string): Promise<KeptOrder> {
  const { fields } = (await open(name)).sum;
  const read = (field: string): readonly number[] | undefined => {
    const text = fields.get(field);
    return typeof text === 'string' ? readOwn(text) : undefined;
  };
  return { own: read('own'), before: read('before') };
}

/** Keep an order; false where the browser keeps nothing. */
export async function rememberOrder(name: string, { own, before }: KeptOrder): Promise<boolean> {
  return (await open(name)).set({ own: writeOwn(own), before: writeOwn(before) });
}
