/** `npm run golden`: writes the golden files anew, from the commands as they are now. */
import buildCommandLine from './command-line.ts';
import { storeAll } from './golden.ts';

await buildCommandLine();
console.log(`${await storeAll()} golden files`);
