/**
 * The photo, to mark places on: by a tap, or by a cross that the arrow keys move and Enter sets. Made larger by steps.
 */
import { useRef, useState, type KeyboardEvent, type PointerEvent, type ReactNode } from 'react';
import type { OpenPhoto } from './open.ts';

interface Props {
  readonly photo: OpenPhoto;
  readonly clicks: readonly (readonly [number, number])[];
  readonly onClick: ((at_px: readonly [number, number]) => void) | undefined;
}

const SCALES = [1, 2, 4, 8] as const;
/** What an arrow key moves the cross by, px of the photo; with Shift, and without. */
const STEP_px = { large: 50, small: 2 } as const;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

export function PhotoPicture({ photo, clicks, onClick }: Props): ReactNode {
  const { width_px, height_px, address } = photo;
  const [scale, setScale] = useState<number>(1);
  const [cross, setCross] = useState<readonly [number, number] | undefined>(undefined);
  const frame = useRef<HTMLDivElement>(null);
  const tap = (event: PointerEvent<SVGSVGElement>): void => {
    const box = event.currentTarget.getBoundingClientRect();
    const at = [
      ((event.clientX - box.left) / box.width) * width_px,
      ((event.clientY - box.top) / box.height) * height_px,
    ] as const;
    setCross(at);
    onClick?.(at);
  };
  const key = (event: KeyboardEvent): void => {
    const way = ARROWS[event.key];
    const at = cross ?? ([width_px / 2, height_px / 2] as const);
    if (event.key === 'Enter') onClick?.(at);
    else if (way) {
      const step = event.shiftKey ? STEP_px.large : STEP_px.small;
      setCross([
        Math.min(width_px, Math.max(0, at[0] + way[0] * step)),
        Math.min(height_px, Math.max(0, at[1] + way[1] * step)),
      ]);
    } else return;
    event.preventDefault();
  };
  // Marks are as large on every photo at every scale.
  const unit = width_px / 70 / scale;
  return (
    <div className="stack gap-2">
      <div className="segments tinted" role="group" aria-label="Size of the photo">
        {SCALES.map((each) => (
          <button
            key={each}
            type="button"
            className="segment medium no-wrap"
            aria-pressed={scale === each}
            onClick={() => setScale(each)}
          >
            {each}×
          </button>
        ))}
      </div>
      <div
        ref={frame}
        className="photo-frame scroll"
        tabIndex={0}
        role="application"
        aria-label="Photo. Arrow keys move the cross, with Shift by more; Enter marks."
        onKeyDown={key}
      >
        <div className="photo-sheet anchor" style={{ width: `${100 * scale}%` }}>
          <img src={address} alt="" className="photo-image as-block" />
          <svg className="photo-marks" viewBox={`0 0 ${width_px} ${height_px}`} onPointerUp={tap}>
            {clicks.map(([x, y], k) => (
              <g key={k} className="photo-mark">
                <circle cx={x} cy={y} r={unit} strokeWidth={unit / 4} />
                <text x={x + 1.4 * unit} y={y - 0.6 * unit} fontSize={2.4 * unit} strokeWidth={unit / 3}>
                  {k + 1}
                </text>
              </g>
            ))}
            {cross && onClick && (
              <path
                className="photo-cross"
                strokeWidth={unit / 4}
                d={`M${cross[0] - 2 * unit} ${cross[1]}h${4 * unit}M${cross[0]} ${cross[1] - 2 * unit}v${4 * unit}`}
              />
            )}
          </svg>
        </div>
      </div>
    </div>
  );
}
