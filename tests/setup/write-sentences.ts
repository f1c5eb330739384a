/** `npm run sentences`: prints every sentence that the program says of the demo models, each once, by who says it. */
import { demoModels } from '../bench/models.ts';
import { distinct, wordsOf } from './sentences.ts';

let last = '';
for (const { where, text } of distinct(demoModels()).sort((a, b) =>
  a.where < b.where ? -1 : a.where > b.where ? 1 : 0,
)) {
  if (where !== last) console.log(`\n${where}`);
  last = where;
  console.log(`${String(wordsOf(text)).padStart(3)}  ${text}`);
}
