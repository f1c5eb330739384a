/**
 * The size of an element, followed as it changes.
 */
import { useLayoutEffect, useState, type RefObject } from 'react';

/** Whole CSS pixels of an element's content, and the page's size of type against 16 px. */
interface Size {
  readonly width_px: number;
  readonly height_px: number;
  readonly typeScale: number;
}

/** The size of the element; 0 by 0 before it has been measured. */
export function useSize(element: RefObject<HTMLElement | null>): Size {
  const [size, setSize] = useState<Size>({ width_px: 0, height_px: 0, typeScale: 1 });
  useLayoutEffect(() => {
    const target = element.current;
    if (!target) return;
    const measure = (): void => {
      const { width, height } = target.getBoundingClientRect();
      const next: Size = {
        // Client sizes are rounded: what is drawn for them may be wider than its place.
        width_px: Math.floor(Math.min(target.clientWidth, width)),
        height_px: Math.floor(Math.min(target.clientHeight, height)),
        typeScale: Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16 || 1,
      };
      setSize((known) =>
        known.width_px === next.width_px && known.height_px === next.height_px && known.typeScale === next.typeScale
          ? known
          : next,
      );
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(target);
    return () => observer.disconnect();
  }, [element]);
  return size;
}
