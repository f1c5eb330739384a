/**
 * A few poses side by side, folded away until asked for, and to take along as a file.
 */
import { useMemo, useState, type ReactNode } from 'react';
import type { Travelled } from './travel.ts';
import { useTheme } from '../page/useScreen.ts';
import { drawPoses } from '../drawings/poses.ts';
import { svg } from '../drawings/svg.ts';
import { saveFile } from '../widgets/saveFile.ts';

export function Strip({ travelled, name }: { readonly travelled: Travelled; readonly name: string }): ReactNode {
  const [isOpen, setOpen] = useState(false);
  const theme = useTheme();
  const html = useMemo(() => (isOpen ? { __html: stripOf(travelled, theme) } : undefined), [isOpen, travelled, theme]);
  return (
    <details className="fold travel-fold" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Poses side by side</summary>
      {html && (
        <div className="travel-fold-page stack gap-3">
          <div
            className="travel-strip"
            role="group"
            aria-label="Poses, to scroll sideways"
            tabIndex={0}
            dangerouslySetInnerHTML={html}
          />
          <button
            type="button"
            className="button button-small small medium no-wrap"
            onClick={() => saveFile(`${name}-travel.svg`, stripOf(travelled), 'image/svg+xml')}
          >
            Save the strip for printing
          </button>
        </div>
      )}
    </details>
  );
}

function stripOf(travelled: Travelled, theme?: 'light' | 'dark'): string {
  const strip = drawPoses(travelled, theme && { theme });
  return strip ? svg(strip) : '';
}
