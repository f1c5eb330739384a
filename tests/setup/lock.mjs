// A lock between processes, so that two set-ups of one checkout never write over each other.
// The lock is a file that names its holder; a holder that is gone (its process has ended, or the
// file is older than any set-up takes) is replaced. No dependencies: this runs before `npm ci`.

import { randomUUID } from 'node:crypto';
import { linkSync, mkdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { dirname } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

const pollEvery_ms = 300;
const abandonedAfter_ms = 20 * 60 * 1000;

/** Waits for the lock at `path`, calling `onWait` once if somebody holds it, and returns its release. */
export async function holdLock(path, onWait) {
  const own = JSON.stringify({ pid: process.pid, host: hostname(), id: randomUUID() });
  mkdirSync(dirname(path), { recursive: true });
  for (let waits = 0; !isTaken(path, own); waits += 1) {
    if (isAbandoned(path)) removeAbandoned(path);
    else {
      if (waits === 0) onWait();
      await pause(pollEvery_ms);
    }
  }
  return () => {
    if (contentOf(path) === own) rmSync(path, { force: true });
  };
}

function isTaken(path, own) {
  try {
    writeFileSync(path, own, { flag: 'wx' });
    return true;
  } catch (error) {
    if (error.code === 'EEXIST') return false;
    throw error;
  }
}

function isAbandoned(path) {
  let age_ms;
  try {
    age_ms = Date.now() - statSync(path).mtimeMs;
  } catch {
    return false;
  }
  if (age_ms > abandonedAfter_ms) return true;
  const holder = parse(contentOf(path));
  return holder !== undefined && holder.host === hostname() && !isAlive(holder.pid);
}

function removeAbandoned(path) {
  const seen = contentOf(path);
  const aside = `${path}.${randomUUID()}`;
  try {
    renameSync(path, aside);
  } catch {
    return;
  }
  // Another process may have replaced the lock between the look and the rename: give that one back.
  if (contentOf(aside) !== seen) {
    try {
      linkSync(aside, path);
    } catch {
      // Somebody holds a newer one already.
    }
  }
  rmSync(aside, { force: true });
}

function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

function contentOf(path) {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}

function parse(text) {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
