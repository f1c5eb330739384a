/** The built command line, made before the first test that runs it. */
import { COMMAND_LINE, makeCommandLine } from './bundle.mjs';

export { COMMAND_LINE };

/** Vitest calls it before the first test of the core. */
export default async function setup(): Promise<void> {
  await makeCommandLine();
}
