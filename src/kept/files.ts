/**
 * What is kept, as files: written for whoever wants to have it elsewhere, read from whoever brings it.
 *
 * The name of a file says what lies in it by the id of a model; nothing that a person has typed stands in it, initials
 * least of all.
 */
import {
  keptJob,
  keptProgress,
  readEnvelope,
  writeEnvelope,
  type EnvelopeReading,
  type KeptBody,
} from '../../shared/index.ts';
import { takeOut } from '../page/keep.ts';
import { APP_VERSION } from '../page/version.ts';
import { saveFile } from '../widgets/saveFile.ts';

/** Save one thing, or all of them, as a file that can be taken in again. */
export async function saveThings(name?: string): Promise<void> {
  const body = await takeOut(name === undefined ? undefined : [name]);
  const what = name === undefined ? 'own-files' : name.replace(/^(practice)\/.*/, '$1').replace(/[^a-z0-9]+/g, '-');
  saveFile(`axlewright-${what}.json`, writeEnvelope('kept', APP_VERSION, body), 'application/json');
}

/** Save a model of the user's own as the file it was. */
export function saveModel(id: string, text: string): void {
  saveFile(`${id}.json`, text, 'application/json');
}

/** What a file that a hand has opened says; one of a job, or of what was practised, is taken in like any other. */
export function readThings(text: string): EnvelopeReading<KeptBody> {
  const [, kind] = /^\ufeff?\s*\{\s*"kind"\s*:\s*"(job|progress)"/.exec(text.slice(0, 400)) ?? [];
  if (kind === 'job') {
    const reading = readEnvelope(text, 'job');
    return reading.ok ? { ...reading, body: keptJob(reading.body) } : reading;
  }
  if (kind === 'progress') {
    const reading = readEnvelope(text, 'progress');
    return reading.ok ? { ...reading, body: keptProgress(reading.body) } : reading;
  }
  return readEnvelope(text, 'kept');
}
