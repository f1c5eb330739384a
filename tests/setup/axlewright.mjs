#!/usr/bin/env node
// The command line as package.json's `bin` starts it: the built file, built first where a source is newer.

import { pathToFileURL } from 'node:url';
import { COMMAND_LINE, makeCommandLine } from './bundle.mjs';

await makeCommandLine();
await import(pathToFileURL(COMMAND_LINE).href);
