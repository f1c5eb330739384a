/**
 * Says what could not be kept and why, for as long as that is so, and offers it as a file.
 */
import { useState, type ReactNode } from 'react';
import { useKeep } from '../page/keep.ts';
import { takeUpdate, useOffline } from '../page/offline.ts';
import { APP_WORDS, KEPT_WORDS, TAKE_UPDATE, wordDamaged, wordReplaced, wordTrouble } from '../words.ts';
import { saveThings } from './files.ts';

export function KeptLine(): ReactNode {
  const { trouble, unkept, damaged, isLost, replaced } = useKeep();
  // Who only looks has nothing to lose to a browser that keeps nothing.
  const isTrouble = trouble !== undefined && (unkept > 0 || trouble === 'newer' || trouble === 'older');
  const notes = [
    ...(isTrouble ? [wordTrouble(trouble, unkept)] : []),
    ...(isLost ? [KEPT_WORDS.lost] : []),
    ...(damaged > 0 ? [wordDamaged(damaged)] : []),
    ...(replaced === undefined ? [] : [wordReplaced(replaced)]),
  ];
  if (notes.length === 0) return <UpdateLine />;
  return (
    <div className="kept-line callout callout-warn gap-5" role="status">
      <div className="stack gap-1 slim">
        {notes.map((words) => (
          <p key={words} className="any-break">
            {words}
          </p>
        ))}
      </div>
      <div className="flow gap-3">
        {(isTrouble || damaged > 0) && (
          <button type="button" className="button medium no-wrap" onClick={() => void saveThings()}>
            {KEPT_WORDS.save}
          </button>
        )}
        {trouble === 'newer' && (
          <button type="button" className="button medium no-wrap" onClick={() => window.location.reload()}>
            Load the page again
          </button>
        )}
        {!isTrouble && (
          <button
            type="button"
            className="button medium no-wrap"
            onClick={() => useKeep.setState({ isLost: false, damaged: 0, replaced: undefined })}
          >
            Close
          </button>
        )}
      </div>
    </div>
  );
}

/** A newer app waits: said once, in passing, until it is taken or put off. */
function UpdateLine(): ReactNode {
  const { is } = useOffline();
  const [isPutOff, setPutOff] = useState(false);
  if (is !== 'update' || isPutOff) return null;
  return (
    <div className="kept-line callout gap-5" role="status">
      <p className="slim">{APP_WORDS.update}</p>
      <div className="flow gap-3">
        <button type="button" className="button medium no-wrap" onClick={takeUpdate}>
          {TAKE_UPDATE}
        </button>
        <button type="button" className="button medium no-wrap" onClick={() => setPutOff(true)}>
          Not now
        </button>
      </div>
    </div>
  );
}
