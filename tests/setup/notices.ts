/**
 * The licences of everything that ships: of each package that a build takes something from, of the fonts, and our own.
 * A package that says nothing of its licence ends the build.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = fileURLToPath(new URL('../..', import.meta.url));
/** Letters of a font that are drawn into sheets; their licence lies beside them. */
const LETTERS = 'src/drawings/fonts';
const RULE = '\n\n----------------------------------------------------------------------\n\n';

/** A package that ships. */
interface Shipped {
  readonly name: string;
  readonly version: string;
  /** Its licence as its `package.json` names it, and that text where it has one. */
  readonly licence: string;
  readonly text?: string;
}

/** The folder of the package that a module lies in; undefined for a module of our own. */
function folderOf(id: string): string | undefined {
  const at = /^\0?(.*\/node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(id.replaceAll('\\', '/'));
  return at?.[1];
}

/** The packages that modules come from, by name. */
function shippedOf(ids: Iterable<string>): Shipped[] {
  const folders = new Set([...ids].flatMap((id) => folderOf(id) ?? []));
  return [...folders].map(read).sort((a, b) => (a.name < b.name ? -1 : 1));
}

function read(folder: string): Shipped {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as {
    readonly name: string;
    readonly version: string;
    readonly license?: string;
  };
  const file = readdirSync(folder).find((entry) => /^(licen[cs]e|copying)/i.test(entry));
  const text = file === undefined ? undefined : readFileSync(join(folder, file), 'utf8').trim();
  if (license === undefined && text === undefined)
    throw new Error(`notices: ${name} has no licence, allowed: a name in its package.json or a text beside it`);
  return { name, version, licence: license ?? 'as its text says', ...(text === undefined ? {} : { text }) };
}

/** The text of the notices file of a build that is made of these modules. */
export function noticesOf(ids: Iterable<string>): string {
  const own = readFileSync(join(top, 'LICENSE'), 'utf8').trim();
  const modules = [...ids];
  const letters = modules.some((id) => id.includes(LETTERS))
    ? readFileSync(join(top, LETTERS, 'LICENSE.txt'), 'utf8')
    : undefined;
  return `${[
    `Axlewright\n\n${own}`,
    'What follows ships with it, each under its own licence.',
    ...shippedOf(modules).map(
      ({ name, version, licence, text }) =>
        `${name} ${version}\nLicence: ${licence}${text === undefined ? '' : `\n\n${text}`}`,
    ),
    ...(letters === undefined ? [] : [`Letters in sheets\n\n${letters.trim()}`]),
  ].join(RULE)}\n`;
}
