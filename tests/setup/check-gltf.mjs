// The format's own validator on what comes in, its report as JSON on stdout. In a process of its own: it leaves keys on
// the prototypes of the language, and forms that other tests read by then refuse what they allow.

import { buffer } from 'node:stream/consumers';
import { validateBytes } from 'gltf-validator';

process.stdout.write(JSON.stringify(await validateBytes(new Uint8Array(await buffer(process.stdin)))));
