/**
 * Measure up: a pivot of one's own from the row, its sizes one by one, and its fit check beside it.
 */
import { useEffect, useState, type ReactNode } from 'react';
import { act, useApp } from '../page/store.ts';
import { BenchPlace } from './BenchPlace.tsx';
import { Begin, takeDraft } from './Begin.tsx';
import { useMeasure } from './measureStore.ts';

export default function MeasurePlace(): ReactNode {
  const asked = useApp((state) => state.draft);
  const { id, draft, isGone, openFor } = useMeasure();
  useEffect(() => openFor(asked), [openFor, asked]);
  const refused = useDraftFile();
  if (asked === undefined || isGone) return <Begin isGone={asked !== undefined && isGone} refused={refused} />;
  if (!draft || id !== asked) return <main className="tray-wait">Opening…</main>;
  return <BenchPlace key={id} draft={draft} />;
}

/** Takes a draft file that was opened anywhere on the page; why not, where it is none. */
function useDraftFile(): string | undefined {
  const file = useApp((state) => state.draftFile);
  const [refused, setRefused] = useState<string | undefined>(undefined);
  useEffect(() => {
    if (!file) return;
    act.tookDraft();
    void takeDraft(file.name, file.text).then(setRefused);
  }, [file]);
  return refused;
}
