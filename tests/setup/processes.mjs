// Starting other programs from the set-up: their words go to stderr, because a command of ours may
// be printing JSON on stdout, and they end with us. No dependencies: this runs before `npm ci`.

import { spawn } from 'node:child_process';

const running = new Set();
let stopCode;

for (const [signal, code] of [
  ['SIGINT', 130],
  ['SIGTERM', 143],
  ['SIGHUP', 129],
]) {
  process.on(signal, () => {
    stopCode = code;
    for (const child of running) child.kill(signal);
    endIfStopped();
  });
}

// npm clears away a broken-off install as it ends; were we gone before it, the next set-up would
// start in the folder that it is still emptying.
function endIfStopped() {
  if (stopCode !== undefined && running.size === 0) process.exit(stopCode);
}

/** Says one line on stderr. */
export function say(text) {
  process.stderr.write(`axlewright: ${text}\n`);
}

/** Runs a program to its end with its output on stderr; the exit code, or -1 if it could not start. */
export function run(program, args, options = {}) {
  return new Promise((resolve) => {
    const child = spawn(program, args, { ...options, stdio: ['ignore', 2, 2] });
    running.add(child);
    const end = (code) => {
      running.delete(child);
      endIfStopped();
      resolve(code ?? -1);
    };
    child.on('error', () => end(-1));
    child.on('close', end);
  });
}

/** Runs npm, by the copy that started us where there is one. */
export function npm(args, options = {}) {
  const own = process.env.npm_execpath;
  if (own !== undefined && /npm-cli\.[cm]?js$/.test(own)) return run(process.execPath, [own, ...args], options);
  // npm is a command script on Windows, which only a shell starts; the arguments are all ours.
  return run('npm', args, { ...options, shell: process.platform === 'win32' });
}
