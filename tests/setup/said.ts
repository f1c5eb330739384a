/**
 * What a command line says, run in this process: what the command line is as a program of its own is held by
 * `tests/unit/cli.test.ts`; elsewhere the start of a program costs more than what it works out, and everything that is
 * kept by its content is lost with it.
 */
import { runLine } from '../../src/commands/run.ts';

/** What was printed, and the exit code. */
export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs the words of a command line, in a folder if one is named. */
export async function said(words: readonly string[], folder?: string): Promise<Said> {
  const before = process.cwd();
  const { stdout, stderr } = process;
  const kept = [stdout.write, stderr.write] as const;
  let [out, err] = ['', ''];
  stdout.write = (text) => ((out += String(text)), true);
  stderr.write = (text) => ((err += String(text)), true);
  try {
    if (folder !== undefined) process.chdir(folder);
    const code = await runLine(words);
    return { code, out, err };
  } finally {
    process.chdir(before);
    [stdout.write, stderr.write] = kept;
  }
}
