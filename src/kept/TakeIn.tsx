/**
 * A file of what was kept elsewhere: what lies in it, and whether to take it in. Nothing that is here is written over.
 */
import { useMemo, useState, type ReactNode } from 'react';
import { logOf, sumOf, wordEnvelopeTrouble } from '../../shared/index.ts';
import { putIn, type TakenIn } from '../page/keep.ts';
import type { KeptFile } from '../page/state.ts';
import { KEPT_WORDS, wordTakenIn } from '../words.ts';
import { readThings } from './files.ts';
import { tellThing } from './things.ts';

export function TakeIn({ file, onDone }: { readonly file: KeptFile; readonly onDone: () => void }): ReactNode {
  const reading = useMemo(() => readThings(file.text), [file.text]);
  const [last, setLast] = useState<{ readonly of: KeptFile; readonly came: TakenIn } | undefined>(undefined);
  // What came of one file says nothing of the next one.
  const taken = last?.of === file ? last.came : undefined;
  if (!reading.ok)
    return (
      <div className="callout callout-trouble stack gap-1" role="alert">
        <p className="strong any-break">{file.name}</p>
        <p className="any-break">{wordEnvelopeTrouble(reading.trouble)}</p>
      </div>
    );
  const { things } = reading.body;
  return (
    <section className="kept-in callout stack gap-3" aria-label="What the file holds">
      <p>
        <strong className="any-break">{file.name}</strong>, saved by Axlewright {reading.app}
      </p>
      {taken ? (
        <div role="status" className="stack gap-1">
          {wordTakenIn(taken).map((words) => (
            <p key={words}>{words}</p>
          ))}
        </div>
      ) : (
        <>
          <ul className="kept-inside">
            {things.map(({ name, events }) => (
              <li key={name} className="any-break">
                {tellThing(name, sumOf(logOf(events))).title}
              </li>
            ))}
          </ul>
          <p className="soft">{KEPT_WORDS.joins}</p>
          <button
            type="button"
            className="button button-main medium no-wrap kept-take"
            onClick={() =>
              void putIn(reading.body).then((came) => {
                setLast({ of: file, came });
                onDone();
              })
            }
          >
            Take in
          </button>
        </>
      )}
    </section>
  );
}
