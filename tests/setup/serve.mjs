// `npm start`: builds the app and serves the build on the loopback address until stopped.
// Options: --port <number> (default 4173; the next free one is taken when it is in use); --share <address>, one address
// of this machine at which a class's tablets reach it in place of the loopback address.

import { parseArgs } from 'node:util';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { serveFolder, shareAddress } from './serving.mjs';

const parent = process.ppid;
const { port, host } = asked(process.argv.slice(2));
const configFile = fileURLToPath(new URL('../../vite.config.ts', import.meta.url));
await build({ configFile, logLevel: 'warn' });
const { origin } = await serveFolder({ folder: fileURLToPath(new URL('../../dist', import.meta.url)), port, host });
process.stdout.write(`Axlewright is ready: open ${origin} in a browser. Ctrl+C stops it.\n`);
if (host !== undefined)
  process.stdout.write(
    `Whoever reaches ${host} can open it: the app and the models that come with it, to read. Nothing is taken in, and what is entered stays on the device it is entered on.\n`,
  );

// A signal sent to npm ends npm and its shell but does not reach us: follow them, or the port stays taken.
if (process.env.npm_lifecycle_event === 'start') {
  setInterval(() => {
    if (process.ppid !== parent) process.exit(0);
  }, 500).unref();
}

function asked(args) {
  try {
    const { values } = parseArgs({
      args,
      options: { port: { type: 'string', default: '4173' }, share: { type: 'string' } },
    });
    const wanted = Number(values.port);
    if (!/^\d+$/.test(values.port) || wanted > 65535)
      throw new Error(`--port wants a number from 0 to 65535, not ${values.port}.`);
    return { port: wanted, host: values.share === undefined ? undefined : shareAddress(values.share) };
  } catch (error) {
    process.stderr.write(`axlewright: ${error.message}\n`);
    process.exit(2);
  }
}
