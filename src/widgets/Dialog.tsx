/**
 * A sheet over the page: the browser's own dialog, with a title and a way out by button, Escape or a tap beside it.
 */
import { useEffect, useId, useRef, useState, type ReactNode } from 'react';

/** Whether a sheet of one's own is open, and what opens and closes it. */
export function useSheet(): { readonly isOpen: boolean; readonly open: () => void; readonly close: () => void } {
  const [isOpen, setOpen] = useState(false);
  return { isOpen, open: () => setOpen(true), close: () => setOpen(false) };
}

interface DialogProps {
  readonly title: string;
  readonly isWide?: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
}

export function Dialog({ title, isWide = false, onClose, children }: DialogProps): ReactNode {
  const sheet = useRef<HTMLDialogElement>(null);
  const titleId = useId();

  useEffect(() => {
    const element = sheet.current;
    if (!element || element.open) return;
    const before = document.activeElement;
    element.showModal();
    return () => {
      element.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);

  return (
    <dialog
      ref={sheet}
      className={isWide ? 'sheet sheet-wide on-sheet' : 'sheet on-sheet'}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClick={(event) => {
        if (event.target === sheet.current) onClose();
      }}
    >
      <div className="sheet-page stack">
        <header className="sheet-head line gap-5 apart-ends">
          <h2 id={titleId}>{title}</h2>
          <button type="button" className="button medium no-wrap" onClick={onClose}>
            Close
          </button>
        </header>
        <div className="sheet-body scroll" tabIndex={0} role="group" aria-labelledby={titleId}>
          {children}
        </div>
      </div>
    </dialog>
  );
}
