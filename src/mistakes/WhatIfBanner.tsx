/**
 * Says that what is seen is not the build as written, and takes back to it in one tap.
 */
import type { ReactNode } from 'react';
import { wordBrief, wordMistake } from '../../shared/index.ts';
import { focusPicked } from '../page/focus.ts';
import { act, useApp } from '../page/store.ts';

export function WhatIfBanner(): ReactNode {
  const whatIf = useApp((state) => state.whatIf);
  const written = useApp((state) => state.opened?.analysis);
  if (!whatIf || !written) return null;
  return (
    <div className="what-if line gap-5" role="status">
      <p className="what-if-words flow snug slim">
        <strong>What if: {wordMistake(whatIf.row.mistake, written)}</strong>
        <span className="what-if-brief numbers">{wordBrief(whatIf.row)}</span>
      </p>
      <BackToRight />
    </div>
  );
}

export function BackToRight(): ReactNode {
  return (
    <button
      type="button"
      className="button button-main what-if-back medium no-wrap"
      onClick={() => {
        act.leaveWhatIf();
        focusPicked();
      }}
    >
      ‹ As written
    </button>
  );
}
