/**
 * A button that makes a file on the device and saves it: what makes it is loaded at the first tap.
 */
import { useState, type ReactNode } from 'react';
import { saveFile, type FileType } from './saveFile.ts';

/** A file, made. */
export interface Made {
  readonly name: string;
  readonly content: string | Uint8Array<ArrayBuffer>;
  readonly type: FileType;
}

interface Props {
  readonly children: ReactNode;
  /** What it is made from is not there yet. */
  readonly isWaiting?: boolean;
  readonly make: () => Promise<Made>;
}

export function SaveButton({ children, isWaiting = false, make }: Props): ReactNode {
  const [state, setState] = useState<'idle' | 'making' | 'failed'>('idle');
  const isBusy = isWaiting || state === 'making';
  const save = (): void => {
    if (isBusy) return;
    setState('making');
    make().then(
      ({ name, content, type }) => {
        saveFile(name, new Blob([content], { type }), type);
        setState('idle');
      },
      (error: unknown) => {
        console.error(error);
        setState('failed');
      },
    );
  };
  return (
    <>
      <button
        type="button"
        className="button medium no-wrap"
        aria-disabled={isBusy}
        aria-busy={state === 'making'}
        onClick={save}
      >
        {children}
      </button>
      {state === 'failed' && <p role="alert">The file could not be made. Tap again to try once more.</p>}
    </>
  );
}

/** A sheet or drawings as a PDF, written on the device. */
export async function madePdf(
  name: string,
  pages: () => Promise<{
    readonly title: string;
    readonly pages: Parameters<typeof import('../drawings/pdf.ts').pdf>[0];
  }>,
): Promise<Made> {
  const [{ pdf }, sheet] = await Promise.all([import('../drawings/pdf.ts'), pages()]);
  return { name: `${name}.pdf`, content: await pdf(sheet.pages, { title: sheet.title }), type: 'application/pdf' };
}
