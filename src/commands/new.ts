/**
 * `new`: a draft to be measured, every size a guess: a pivot of one manner, or a bike that is like the one on the stand.
 */
import packageJson from '../../package.json' with { type: 'json' };
import { draftOf, MANNERS, writeDraft, type LinkageModel } from '../../shared/index.ts';
import { commandOf, put, unknown, type Command, type Options } from './command.ts';

const KEYS = MANNERS.map(({ key }) => key);

/** The command. */
export const newCommand: Command = commandOf({
  name: 'new',
  summary: 'a draft to measure, from how a pivot is held together',
  subject: { name: '<manner>', says: `${KEYS.join(', ')}, or a model of a bike like yours` },
  options: { out: { type: 'string', value: 'FILE', says: 'write the draft here instead of to the screen' } },
  examples: ['new axle-and-nut', 'new two-bolts --out two-bolts.json'],
  begins(word, options) {
    const manner = MANNERS.find(({ key }) => key === word);
    if (manner) return write(manner.make(), options);
    if (/[./\\]/.test(word)) return undefined;
    throw unknown('new: manner', word, KEYS);
  },
  run: write,
});

function write(model: LinkageModel, options: Options): number {
  put(options, writeDraft(draftOf(model, 'guess'), `axlewright ${packageJson.version}`));
  return 0;
}
