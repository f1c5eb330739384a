// `npm start`: builds the app and serves the build on the loopback address until stopped.
// Options: --port <number> (default 4173; the next free one is taken when it is in use).

import { parseArgs } from 'node:util';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { serveFolder } from './serving.mjs';

const parent = process.ppid;
const port = portFrom(process.argv.slice(2));
const configFile = fileURLToPath(new URL('../../vite.config.ts', import.meta.url));
await build({ configFile, logLevel: 'warn' });
const { origin } = await serveFolder({ folder: fileURLToPath(new URL('../../dist', import.meta.url)), port });
process.stdout.write(`Axlewright is ready: open ${origin} in a browser. Ctrl+C stops it.\n`);

// A signal sent to npm ends npm and its shell but does not reach us: follow them, or the port stays taken.
if (process.env.npm_lifecycle_event === 'start') {
  setInterval(() => {
    if (process.ppid !== parent) process.exit(0);
  }, 500).unref();
}

function portFrom(args) {
  try {
    const { values } = parseArgs({ args, options: { port: { type: 'string', default: '4173' } } });
    const wanted = Number(values.port);
    if (!/^\d+$/.test(values.port) || wanted > 65535)
      throw new Error(`--port wants a number from 0 to 65535, not ${values.port}.`);
    return wanted;
  } catch (error) {
    process.stderr.write(`axlewright: ${error.message}\n`);
    process.exit(2);
  }
}
