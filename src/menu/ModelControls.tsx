/**
 * Which model is open, which of its variants, and the way to a file of one's own.
 */
import { useState, type ReactNode } from 'react';
import { BUNDLED, openBundled, openFile, openVariant, sampleFile } from '../page/models.ts';
import { FilePicker } from '../widgets/FilePicker.tsx';
import { saveFile } from '../widgets/saveFile.ts';
import { routeOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { serverName } from '../widgets/PlaceBoundary.tsx';

/** Model and variant choice with the file button; `onOpened` after a choice. */
export function ModelControls({ onOpened }: { readonly onOpened?: () => void }): ReactNode {
  return (
    <div className="model-controls flow gap-3">
      <ModelSelect {...(onOpened ? { onOpened } : {})} />
      <VariantSelect />
      <OpenButton {...(onOpened ? { onOpened } : {})} />
      <SampleButton />
    </div>
  );
}

/** The list of models that come with Axlewright, and the user's own file where one is open. */
export function ModelSelect({ onOpened }: { readonly onOpened?: () => void }): ReactNode {
  const opened = useApp((state) => state.opened);
  const own = opened?.source.kind === 'file' ? opened : undefined;
  const value = own ? 'own file' : opened?.source.kind === 'bundled' ? opened.source.id : '';
  return (
    <select
      className="select model-select strong slim on-sheet"
      aria-label="Model"
      value={value}
      onChange={(event) => {
        void openBundled(event.target.value);
        onOpened?.();
      }}
    >
      {value === '' && <option value="">Opening…</option>}
      {own && <option value="own file">{own.analysis.model.name} (your file)</option>}
      {BUNDLED.map(({ id, name }) => (
        <option key={id} value={id}>
          {name}
        </option>
      ))}
    </select>
  );
}

/** The variants of the open model, if it has any. */
export function VariantSelect(): ReactNode {
  const opened = useApp((state) => state.opened);
  const variants = opened?.analysis.model.variants ?? [];
  if (variants.length === 0) return null;
  return (
    <select
      className="select variant-select strong slim on-sheet"
      aria-label="Variant"
      value={opened?.analysis.variant ?? ''}
      onChange={(event) =>
        void openVariant(event.target.value === '' ? undefined : event.target.value, routeOf(useApp.getState()))
      }
    >
      <option value="">As first built</option>
      {variants.map(({ id, name }) => (
        <option key={id} value={id}>
          {name}
        </option>
      ))}
    </select>
  );
}

/** Saves a model to begin one's own from. */
export function SampleButton(): ReactNode {
  const [isMissing, setMissing] = useState(false);
  const save = (): void => {
    sampleFile().then(
      ({ name, text }) => saveFile(name, text, 'application/json'),
      () => setMissing(true),
    );
  };
  return (
    <>
      <button type="button" className="button medium no-wrap" onClick={save}>
        Save a sample file
      </button>
      {isMissing && <p role="alert">The server at {serverName()} did not send it. Try again.</p>}
    </>
  );
}

/** Opens the browser's file picker. */
export function OpenButton({ onOpened }: { readonly onOpened?: () => void }): ReactNode {
  return (
    <FilePicker
      label="Model file"
      className="open-button"
      onPicked={(file) => {
        void openFile(file);
        onOpened?.();
      }}
    >
      Open a model…
    </FilePicker>
  );
}
