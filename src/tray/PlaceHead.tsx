/**
 * The head of a place: the way back, its name, which has the focus when the place is entered, and its tools.
 */
import { useEffect, useRef, type ReactNode } from 'react';

interface Props {
  readonly title: string;
  readonly said: ReactNode;
  readonly isPrinted?: boolean;
  readonly children: ReactNode;
}

export function PlaceHead({ title, said, isPrinted = true, children }: Props): ReactNode {
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => head.current?.focus({ preventScroll: true }), []);
  return (
    <div className={isPrinted ? 'tray-head line wrap' : 'tray-head no-print line wrap'}>
      <h2 className="tray-title large" ref={head} tabIndex={-1}>
        {title}
      </h2>
      {said}
      <div className="tray-tools flow gap-3 end">{children}</div>
    </div>
  );
}
