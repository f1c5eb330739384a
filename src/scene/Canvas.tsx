/**
 * The canvas: one root of fiber's on a plain canvas element, kept at the size of the box around it.
 *
 * Fiber's ready-made canvas names every class of three and so ships them all; this one names the few the picture is
 * made of. The root outlives a replay of effects and goes with the element.
 */
import { Component, useInsertionEffect, useLayoutEffect, useRef, useState, type ReactNode } from 'react';
import { createRoot, events, extend, type ReconcilerRoot, type RootState } from '@react-three/fiber';
import { CylinderGeometry, DirectionalLight, Group, LineSegments, Mesh } from 'three';

extend({ CylinderGeometry, DirectionalLight, Group, LineSegments, Mesh });

interface Props {
  /** Device pixels per CSS pixel, at least and at most. */
  readonly dpr: number | [number, number];
  readonly isAntialiased: boolean;
  readonly onCreated: (state: RootState) => void;
  /** A click that hit nothing. */
  readonly onMissed: (event: MouseEvent) => void;
  readonly children: ReactNode;
}

/** What a screen reader says of the picture, and how the keys move it. */
const WORDS =
  '3D picture. Arrow keys turn it, with Shift they shift it; Z brings it nearer, X backs away, Home puts it back.';

interface Size {
  readonly width: number;
  readonly height: number;
}

/** A canvas that draws on demand. */
export function Canvas({ dpr, isAntialiased, onCreated, onMissed, children }: Props): ReactNode {
  const box = useRef<HTMLDivElement>(null);
  const element = useRef<HTMLCanvasElement>(null);
  const root = useRef<ReconcilerRoot<HTMLCanvasElement> | undefined>(undefined);
  const [size, setSize] = useState<Size | undefined>(undefined);
  const [failure, setFailure] = useState<{ readonly cause: unknown } | undefined>(undefined);
  const missed = useRef(onMissed);

  useLayoutEffect(() => {
    missed.current = onMissed;
  });
  // An insertion effect is not replayed in strict mode: only the last unmount lets go of the root.
  useInsertionEffect(
    () => () => {
      root.current?.unmount();
      root.current = undefined;
    },
    [],
  );
  useLayoutEffect(() => {
    const own = box.current;
    if (!own) return undefined;
    const watch = new ResizeObserver(() => {
      const next = { width: own.clientWidth, height: own.clientHeight };
      setSize((now) => (now?.width === next.width && now.height === next.height ? now : next));
    });
    watch.observe(own);
    return () => watch.disconnect();
  }, []);
  useLayoutEffect(() => {
    const canvas = element.current;
    if (!canvas || !size || size.width === 0 || size.height === 0) return;
    root.current ??= createRoot(canvas);
    root.current
      .configure({
        events,
        frameloop: 'demand',
        shadows: 'variance',
        dpr,
        gl: { antialias: isAntialiased, alpha: true, powerPreference: 'high-performance' },
        camera: { fov: 24, near: 40, far: 12_000, position: [-500, 400, 900] },
        size: { ...size, top: 0, left: 0 },
        onCreated,
        onPointerMissed: (event) => missed.current(event),
      })
      .catch((cause: unknown) => setFailure({ cause }));
    root.current.render(<Guard onFailed={(cause) => setFailure({ cause })}>{children}</Guard>);
  });

  if (failure) throw failure.cause;
  return (
    <div ref={box} className="over clip">
      <canvas ref={element} tabIndex={0} role="application" aria-label={WORDS} />
    </div>
  );
}

/** What fails inside the canvas fails in the page around it, where somebody can say so. */
class Guard extends Component<
  { readonly onFailed: (cause: unknown) => void; readonly children: ReactNode },
  { readonly hasFailed: boolean }
> {
  override state = { hasFailed: false };

  static getDerivedStateFromError(): { readonly hasFailed: boolean } {
    return { hasFailed: true };
  }

  override componentDidCatch(cause: unknown): void {
    this.props.onFailed(cause);
  }

  override render(): ReactNode {
    return this.state.hasFailed ? null : this.props.children;
  }
}
