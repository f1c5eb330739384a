/**
 * A painted geometry on the picture: one mesh, its lines, and for a ghost its depth beforehand.
 *
 * What is seen through is drawn without its shell; a part that is not fitted yet without its marks as well. The ranges
 * are geometries on the same buffers.
 */
import { lazy, Suspense, useEffect, useMemo, type ReactNode } from 'react';
import { BufferGeometry, type Mesh, type Object3D } from 'three';
import { useScene } from './context.ts';
import type { Ranges } from './geometry.ts';
import { VEILED, type State } from './materials.ts';
import { raycastNothing } from './picking.ts';

const FatLines = lazy(() => import('./FatLines.tsx'));

interface Props {
  readonly geometry: BufferGeometry;
  readonly lines?: BufferGeometry | undefined;
  readonly state: State;
  readonly isCut?: boolean;
  /** Edges behind other parts are drawn as well, where lines have weights. */
  readonly hasHidden?: boolean;
  /** What a ray meets; nothing when absent. */
  readonly raycast?: Mesh['raycast'] | undefined;
}

/** Ghosts are drawn after everything else, surroundings last. */
const ORDER: Readonly<Partial<Record<State, number>>> = { ghost: 10, faint: 20 };

/** The mesh. */
export function PaintedMesh({ geometry, lines, state, isCut = false, hasHidden = false, raycast }: Props): ReactNode {
  const { materials, hasWeights } = useScene();
  const ranges = geometry.userData as Ranges;
  const veiled = useRange(geometry, state === 'away' ? ranges.touched : ranges.marked);
  const drawn = VEILED.has(state) ? veiled : geometry;
  const order = ORDER[state] ?? 0;
  const isSolid = !VEILED.has(state);
  return (
    <>
      {order > 0 && (
        <mesh geometry={veiled} material={materials.depth()} renderOrder={order - 1} raycast={raycastNothing} />
      )}
      <mesh
        geometry={drawn}
        material={materials.paint(state, isCut)}
        renderOrder={order}
        castShadow={isSolid}
        receiveShadow={isSolid}
        raycast={raycast ?? raycastNothing}
        onBeforeShadow={beforeShadow}
        onAfterShadow={afterShadow}
      />
      {lines &&
        (hasWeights && isSolid ? (
          <Suspense>
            <FatLines lines={lines} isCut={isCut} hasHidden={hasHidden} order={order + 1} />
          </Suspense>
        ) : (
          <lineSegments
            geometry={lines}
            material={materials.line(state, isCut)}
            renderOrder={order + 1}
            raycast={raycastNothing}
          />
        ))}
    </>
  );
}

/** A shadow is thrown by the part alone, not by its marks and its shell. */
const beforeShadow: Object3D['onBeforeShadow'] = (_renderer, _object, _camera, _shadowCamera, geometry) => {
  geometry.setDrawRange(0, (geometry.userData as Ranges).touched);
};

const afterShadow: Object3D['onAfterShadow'] = (_renderer, _object, _camera, _shadowCamera, geometry) => {
  geometry.setDrawRange(0, Infinity);
};

/** The first part of a geometry's index, on the same buffers. */
function useRange(geometry: BufferGeometry, end: number): BufferGeometry {
  const range = useMemo(() => {
    const part = new BufferGeometry();
    for (const [name, attribute] of Object.entries(geometry.attributes)) part.setAttribute(name, attribute);
    part.setIndex(geometry.index);
    part.setDrawRange(0, end);
    return part;
  }, [geometry, end]);
  useEffect(
    () => () => {
      // The buffers belong to the whole geometry: they must not be freed with a range of it.
      for (const name of Object.keys(range.attributes)) range.deleteAttribute(name);
      range.setIndex(null);
      range.dispose();
    },
    [range],
  );
  return range;
}
