/** `npm run golden`: writes the golden files and what the README shows anew, from the commands as they are now. */
import { storeAll } from './golden.ts';
import { storeReadme } from './readme.ts';

console.log(`${await storeAll()} golden files`);
await storeReadme();
