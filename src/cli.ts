/**
 * The command line: `npm run -s axlewright -- <command> <model.json> [options]`.
 *
 * A thin shell round the same core as the app. Results go to stdout, problems and usage to stderr. Exit code 0: sound;
 * 1: a stop finding, or a verdict that an estimate decides; 2: unreadable input or bad usage; 3: the program is wrong,
 * so that a fault of ours is never read as a verdict.
 */
import { systemWords } from './commands/command.ts';
import { runLine } from './commands/run.ts';

// Whoever reads may have seen enough: `| head` closes the pipe, which is no fault of anyone's.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') return;
  process.stderr.write(`The result cannot be written: ${systemWords(error)}\n`);
  process.exitCode = 2;
});
process.stderr.on('error', () => undefined);

process.exitCode = await runLine(process.argv.slice(2));
