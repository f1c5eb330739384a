/**
 * The steps that bring an older file up to date: by kind, the one from each version to the next, each in a file of its
 * own beside this one. A step takes the body as it was and gives it as it is one version later; what it makes is
 * checked afterwards like any other, so that it need not check itself.
 */

/** From one version of a body to the next; may throw on what cannot be meant. */
export type Migration = (body: unknown) => unknown;

/** Every step there is: none yet, since every kind is at its first version. */
export const MIGRATIONS: Readonly<
  Record<'kept' | 'job' | 'draft' | 'lesson' | 'progress', Readonly<Record<number, Migration>>>
> = {
  kept: {},
  job: {},
  draft: {},
  lesson: {},
  progress: {},
};
