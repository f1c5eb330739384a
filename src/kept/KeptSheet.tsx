/**
 * What is kept on this device: a list to open from, rename, save, take back and remove, a file of it to take in, and
 * how the app itself is kept.
 */
import { useCallback, useEffect, useState, type ReactNode } from 'react';
import { isAnythingKept, listThings, removeAll, type Listed } from '../page/keep.ts';
import { act, useApp } from '../page/store.ts';
import { KEPT_WORDS } from '../words.ts';
import { Dialog } from '../widgets/Dialog.tsx';
import { FilePicker } from '../widgets/FilePicker.tsx';
import { Removal } from '../widgets/Removal.tsx';
import { AppPart } from './AppPart.tsx';
import { saveThings } from './files.ts';
import { TakeIn } from './TakeIn.tsx';
import { ThingRow } from './ThingRow.tsx';
import { partsOf } from './things.ts';

export default function KeptSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  const keptFile = useApp((state) => state.keptFile);
  const [list, setList] = useState<readonly Listed[] | undefined>(undefined);
  const [isAny, setAny] = useState(false);
  const read = useCallback(() => {
    void listThings().then(setList);
    void isAnythingKept().then(setAny);
  }, []);
  useEffect(read, [read]);
  const models = list?.filter(({ name }) => partsOf(name).kind === 'model') ?? [];
  const others = list?.filter(({ name }) => partsOf(name).kind !== 'model') ?? [];
  const rows = (things: readonly Listed[]): ReactNode => (
    <ul className="kept-list">
      {things.map((thing) => (
        <ThingRow key={thing.name} thing={thing} onChange={read} onOpened={onClose} />
      ))}
    </ul>
  );
  return (
    <Dialog title="Own files" isWide onClose={onClose}>
      {keptFile && <TakeIn file={keptFile} onDone={read} />}
      <p className="lead">{KEPT_WORDS.stays}</p>
      <section className="sheet-part">
        <h3>Models</h3>
        {list !== undefined && models.length === 0 ? <p className="soft">{KEPT_WORDS.noModels}</p> : rows(models)}
      </section>
      {others.length > 0 && (
        <section className="sheet-part">
          <h3>Readings and settings</h3>
          {rows(others)}
        </section>
      )}
      <section className="sheet-part">
        <h3>All of it</h3>
        <div className="flow gap-3">
          <button
            type="button"
            className="button medium no-wrap"
            aria-disabled={list?.length === 0}
            onClick={() => list && list.length > 0 && void saveThings()}
          >
            Save all as one file
          </button>
          <FilePicker
            label="Saved file"
            onPicked={(file) => void file.text().then((text) => act.gotFile({ name: file.name, text }))}
          >
            Take in a saved file…
          </FilePicker>
          {isAny && <RemoveAll onRemove={() => void removeAll().then(read)} />}
        </div>
      </section>
      <AppPart />
    </Dialog>
  );
}

/** Asks once more: what is removed is gone. */
function RemoveAll({ onRemove }: { readonly onRemove: () => void }): ReactNode {
  const [isAsking, setAsking] = useState(false);
  if (!isAsking)
    return (
      <button type="button" className="button medium no-wrap" onClick={() => setAsking(true)}>
        Remove all…
      </button>
    );
  return <Removal label="Remove all" says={KEPT_WORDS.removeAll} onRemove={onRemove} onKeep={() => setAsking(false)} />;
}
