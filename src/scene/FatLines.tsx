/**
 * Drawn edges with a weight of their own, where a graphics card draws them for nothing: creases fine, edges that lie
 * behind other parts as a fine dashed line. Loaded there alone: a software renderer would pay half its speed for them.
 */
import { useEffect, useMemo, type ReactNode } from 'react';
import { GreaterDepth, type BufferGeometry } from 'three';
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js';
import { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/examples/jsm/lines/LineSegmentsGeometry.js';
import { PICTURE, type Theme } from '../look.ts';
import { useScene } from './context.ts';
import type { Materials } from './materials.ts';
import { raycastNothing } from './picking.ts';

interface Props {
  /** Pairs of points. */
  readonly lines: BufferGeometry;
  readonly isCut: boolean;
  /** Edges behind other parts are drawn as well. */
  readonly hasHidden: boolean;
  readonly order: number;
}

/** Widths of lines, px; the outline round a silhouette is heavier than both. */
const WEIGHT_px = { crease: 1, hidden: 0.9 } as const;
const DASH_mm = { on: 1.1, off: 0.9 } as const;
const HIDDEN_OPACITY = 0.4;

/** The lines of one item. */
export default function FatLines({ lines, isCut, hasHidden, order }: Props): ReactNode {
  const { materials, theme } = useScene();
  const geometry = useMemo(() => {
    const own = new LineSegmentsGeometry();
    own.setPositions(lines.attributes.position!.array as Float32Array);
    return own;
  }, [lines]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  const crease = useMemo(
    () => drawn(geometry, creaseOf(materials, theme, isCut), order),
    [geometry, materials, theme, isCut, order],
  );
  const hidden = useMemo(
    () => (hasHidden ? drawn(geometry, hiddenOf(materials, theme, isCut), order + 1) : undefined),
    [geometry, materials, theme, isCut, order, hasHidden],
  );
  return (
    <>
      <primitive object={crease} />
      {hidden && <primitive object={hidden} />}
    </>
  );
}

function drawn(geometry: LineSegmentsGeometry, material: LineMaterial, order: number): LineSegments2 {
  const lines = new LineSegments2(geometry, material);
  if (material.dashed) lines.computeLineDistances();
  lines.renderOrder = order;
  lines.raycast = raycastNothing;
  return lines;
}

function creaseOf(materials: Materials, theme: Theme, isCut: boolean): LineMaterial {
  return materials.keep(
    `crease ${isCut}`,
    () =>
      // Opaque: where two runs of a circle meet, a clear one would leave a dot.
      new LineMaterial({
        color: PICTURE[theme].crease,
        linewidth: WEIGHT_px.crease,
        ...(isCut ? { clippingPlanes: [materials.plane] } : {}),
      }),
  );
}

function hiddenOf(materials: Materials, theme: Theme, isCut: boolean): LineMaterial {
  return materials.keep(
    `hidden ${isCut}`,
    () =>
      new LineMaterial({
        color: PICTURE[theme].line,
        linewidth: WEIGHT_px.hidden,
        transparent: true,
        opacity: HIDDEN_OPACITY,
        depthWrite: false,
        depthFunc: GreaterDepth,
        dashed: true,
        dashSize: DASH_mm.on,
        gapSize: DASH_mm.off,
        ...(isCut ? { clippingPlanes: [materials.plane] } : {}),
      }),
  );
}
