/**
 * The open job behind a hook: a thing that is kept, one field for one thing that a person would call one. What the
 * screen says is what is on the disk; only the text under a typing hand stands there before.
 */
import { create } from 'zustand';
import { fieldsOfJob, jobFrom, type FieldValue, type Job } from '../../shared/index.ts';
import { listThings, openThing, type Thing } from '../page/keep.ts';

/** A job of the list. */
export interface ListedJob {
  readonly id: string;
  readonly job: Job;
  readonly last_at_ms: number;
}

interface JobStore {
  readonly id: string | undefined;
  readonly job: Job | undefined;
  /** The open thing is no job, or is not here. */
  readonly isMissing: boolean;
  readonly steps: Thing['steps'];
  /** Of how many things two devices have said something else. */
  readonly clashes: number;
  readonly list: readonly ListedJob[] | undefined;
  /** Steps are read aloud, also after a look at another page of the job. */
  readonly isReading: boolean;
  readonly setReading: (isReading: boolean) => void;
  readonly openFor: (id: string | undefined) => void;
  /** `then`: once it is on the disk. */
  readonly put: (fields: Readonly<Record<string, FieldValue>>, isTyped?: boolean, then?: () => void) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly readList: () => void;
}

const nameOf = (id: string): string => `job/${id}`;

/** The open job, and the list of all. */
export const useJob = create<JobStore>((set, get) => {
  let thing: Thing | undefined;
  let leave = (): void => undefined;
  return {
    id: undefined,
    job: undefined,
    isMissing: false,
    steps: { undo: 0, redo: 0 },
    clashes: 0,
    list: undefined,
    isReading: false,
    setReading: (isReading) => set({ isReading }),
    openFor: (id) => {
      if (id === get().id) return;
      leave();
      thing = undefined;
      let isLeft = false;
      leave = () => {
        isLeft = true;
      };
      set({ id, job: undefined, isMissing: false, isReading: false, steps: { undo: 0, redo: 0 }, clashes: 0 });
      if (id === undefined) return;
      void openThing(nameOf(id)).then((opened) => {
        if (isLeft) return;
        thing = opened;
        const show = (): void => {
          const job = jobFrom(opened.sum);
          set({ job, isMissing: job === undefined, steps: opened.steps, clashes: opened.sum.clashes.size });
        };
        leave = opened.watch(show);
        show();
      });
    },
    put: (fields, isTyped, then) => void thing?.set(fields, isTyped).then(then),
    undo: () => void thing?.undo(),
    redo: () => void thing?.redo(),
    readList: () =>
      void listThings().then((things) =>
        set({
          list: things.flatMap(({ name, sum, last_at_ms }) => {
            const job = name.startsWith('job/') ? jobFrom(sum) : undefined;
            return job ? [{ id: name.slice('job/'.length), job, last_at_ms }] : [];
          }),
        }),
      ),
  };
});

/** Begin a job: keep it under a name nobody else gives; gives that name. */
export async function beginJob(job: Job): Promise<string> {
  const [chance = 0] = crypto.getRandomValues(new Uint32Array(1));
  const id = `${job.model}-${chance.toString(36)}`;
  await (await openThing(nameOf(id))).set(fieldsOfJob(job));
  return id;
}

/** Put one thing of another job than the open one. */
export async function putIn(id: string, fields: Readonly<Record<string, FieldValue>>): Promise<void> {
  await (await openThing(nameOf(id))).set(fields);
  useJob.getState().readList();
}
