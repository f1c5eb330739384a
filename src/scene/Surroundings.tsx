/**
 * The shock's bodies, and wheel, chainset and chainring as faint shapes: where the pivots are, not what is checked.
 */
import { memo, useMemo, type ReactNode } from 'react';
import { Quaternion, Vector3 } from 'three';
import type { Frame, LinkageModel, Motion, Obstacle } from '../../shared/index.ts';
import { lineGeometry, toPaintedGeometry, useGeometry } from './geometry.ts';
import type { State } from './materials.ts';
import { obstacleShape } from './obstacles.ts';
import { Painted } from './painted.ts';
import { PaintedMesh } from './PaintedMesh.tsx';
import type { Anchor } from './placement.ts';
import { movedBy, Posed } from './Posed.tsx';
import { paintShockBody, paintShockShaft, shockShape } from './shock.ts';

interface ShockProps {
  readonly model: LinkageModel;
  readonly anchors: Readonly<Record<string, Readonly<Record<string, Anchor>>>>;
  readonly isGhost: boolean;
  readonly pose?: Readonly<Record<string, Motion>> | undefined;
}

/** Can, shaft and O-ring along the line between the eyes; the shaft slides into the can, which pushes the O-ring. */
export function Shock({ model, anchors, isGhost, pose }: ShockProps): ReactNode {
  const shape = useMemo(() => shockShape(model, anchors), [model, anchors]);
  const turn = useMemo(() => {
    if (!shape) return undefined;
    const line = new Vector3(...shape.to).sub(new Vector3(...shape.from)).normalize();
    return new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), line);
  }, [shape]);
  const key = useMemo(() => JSON.stringify(shape), [shape]);
  const material = model.members[model.shock?.body ?? '']?.material ?? 'aluminium-6061';
  const body = useGeometry(`shock body ${material} ${key}`, () =>
    toPaintedGeometry(shape ? paintShockBody(shape, material) : new Painted()),
  );
  const shaft = useGeometry(`shock shaft ${key}`, () =>
    toPaintedGeometry(shape ? paintShockShaft(shape) : new Painted()),
  );
  if (!shape || !turn) return null;
  const state: State = isGhost ? 'ghost' : 'plain';
  return (
    <>
      <Posed motion={pose?.[model.shock?.body ?? '']}>
        <group position={[...shape.from]} quaternion={turn}>
          <PaintedMesh geometry={body} state={state} />
        </group>
      </Posed>
      <Posed motion={pose?.[model.shock?.shaft ?? '']}>
        <group position={[...shape.from]} quaternion={turn}>
          <PaintedMesh geometry={shaft} state={state} />
        </group>
      </Posed>
    </>
  );
}

interface ObstaclesProps {
  readonly obstacles: readonly Obstacle[];
  readonly isBikeShown: boolean;
  /** Of the member that carries the wheel. */
  readonly wheelMotion?: Motion | undefined;
  /** Where a step has them. */
  readonly at?: Frame['obstacles'] | undefined;
  readonly hidden?: ReadonlySet<string> | undefined;
}

/** Wheel, chainset and chainring. */
export function Obstacles({ obstacles, isBikeShown, wheelMotion, at, hidden }: ObstaclesProps): ReactNode {
  // A wheel is too big a veil before an opened pivot; cranks and chainring stay, since they say which side is free.
  const shown = obstacles.filter(({ id, kind }) => hidden?.has(id) !== true && (isBikeShown || kind !== 'wheel'));
  return shown.map((obstacle) => (
    <group
      key={obstacle.id}
      position={[
        ...movedBy(
          at ? at[obstacle.id] : obstacle.kind === 'wheel' ? wheelMotion : undefined,
          obstacle.x_mm,
          obstacle.y_mm,
        ),
        at?.[obstacle.id]?.z_mm ?? 0,
      ]}
    >
      <ObstacleBody obstacle={obstacle} />
    </group>
  ));
}

const ObstacleBody = memo(function ObstacleBody({ obstacle }: { readonly obstacle: Obstacle }): ReactNode {
  const key = JSON.stringify([obstacle.kind, obstacle.radius_mm, obstacle.z_from_mm, obstacle.z_to_mm]);
  const geometry = useGeometry(`obstacle ${key}`, () => toPaintedGeometry(obstacleShape(obstacle).painted));
  const lines = useGeometry(`obstacle lines ${key}`, () => lineGeometry(obstacleShape(obstacle).lines));
  return <PaintedMesh geometry={geometry} lines={lines} state="faint" />;
});
