/** A button that opens the browser's file picker for a file of ours, or for a picture. */
import { useRef, type ReactNode } from 'react';

interface Props {
  /** What the button says. */
  readonly children: ReactNode;
  /** What the field behind it is called. */
  readonly label: string;
  readonly className?: string;
  /** Kinds of file that are offered; files of ours if left out. */
  readonly accept?: string;
  readonly onPicked: (file: File) => void;
}

export function FilePicker({
  children,
  label,
  className = '',
  accept = '.json,application/json',
  onPicked,
}: Props): ReactNode {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" className={`button ${className} medium no-wrap`} onClick={() => picker.current?.click()}>
        {children}
      </button>
      <input
        ref={picker}
        className="away clip no-wrap"
        type="file"
        accept={accept}
        tabIndex={-1}
        aria-label={label}
        onChange={(event) => {
          const file = event.target.files?.[0];
          // The same file picked again after a correction must count as a new choice.
          event.target.value = '';
          if (file) onPicked(file);
        }}
      />
    </>
  );
}
