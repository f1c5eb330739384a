/**
 * Says that what is seen is not the build as written, shows before and after, and takes back to it in one tap.
 */
import type { ReactNode } from 'react';
import { wordMistake } from '../../shared/index.ts';
import { focusPicked } from '../page/focus.ts';
import { act, useApp } from '../page/store.ts';
import { BeforeAfter } from './BeforeAfter.tsx';

export function WhatIfBanner(): ReactNode {
  const whatIf = useApp((state) => state.whatIf);
  const written = useApp((state) => state.opened?.analysis);
  if (!whatIf || !written) return null;
  const words = `What if: ${wordMistake(whatIf.row.mistake, written)}`;
  return (
    <div className="what-if line gap-3">
      <p className="what-if-words bold snug slim clip" role="status" title={words}>
        {words}
      </p>
      <BeforeAfter />
      <button
        type="button"
        className="button button-main what-if-back medium no-wrap rigid"
        onClick={() => {
          act.leaveWhatIf();
          focusPicked();
        }}
      >
        Put it right
      </button>
    </div>
  );
}
