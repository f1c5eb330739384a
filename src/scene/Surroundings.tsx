/**
 * The shock's bodies, and wheel, chainset and chainring as faint shapes: where the pivots are, not what is checked.
 */
import { memo, useMemo, type ReactNode } from 'react';
import { Quaternion, Vector3 } from 'three';
import type { LinkageModel, Motion, Obstacle, Polygon } from '../../shared/index.ts';
import { useScene } from './context.ts';
import { edgeCircles, profileKey, toGeometry, useGeometry } from './geometry.ts';
import type { State } from './materials.ts';
import { memberLook, type Look } from './palette.ts';
import { raycastNothing } from './picking.ts';
import type { Anchor } from './placement.ts';
import { movedBy, Posed } from './Posed.tsx';
import { shockShape } from './shock.ts';
import { revolve } from './surface.ts';

const RUBBER: Look = { colour: '#202326', metal: 0, rough: 0.7 };
const STEEL = memberLook('shock-shaft', 'steel');

interface ShockProps {
  readonly model: LinkageModel;
  readonly anchors: Readonly<Record<string, Readonly<Record<string, Anchor>>>>;
  readonly isGhost: boolean;
  readonly pose?: Readonly<Record<string, Motion>> | undefined;
}

/** Can, shaft and travel ring along the line between the eyes; the shaft slides into the can, which pushes the ring. */
export function Shock({ model, anchors, isGhost, pose }: ShockProps): ReactNode {
  const shape = useMemo(() => shockShape(model, anchors), [model, anchors]);
  const turn = useMemo(() => {
    if (!shape) return undefined;
    const line = new Vector3(...shape.to).sub(new Vector3(...shape.from)).normalize();
    return new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), line);
  }, [shape]);
  if (!shape || !turn) return null;
  const state: State = isGhost ? 'ghost' : 'plain';
  const body = model.members[model.shock?.body ?? ''];
  return (
    <>
      <Posed motion={pose?.[model.shock?.body ?? '']}>
        <group position={[...shape.from]} quaternion={turn}>
          <Turned polygon={shape.can} look={memberLook('shock-body', body?.material ?? 'aluminium-6061')} state={state} />
          <Turned polygon={shape.travelRing} look={RUBBER} state={state} />
        </group>
      </Posed>
      <Posed motion={pose?.[model.shock?.shaft ?? '']}>
        <group position={[...shape.from]} quaternion={turn}>
          <Turned polygon={shape.shaft} look={STEEL} state={state} />
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
}

/** Wheel, chainset and chainring. */
export function Obstacles({ obstacles, isBikeShown, wheelMotion }: ObstaclesProps): ReactNode {
  // A wheel is too big a veil before an opened pivot; cranks and chainring stay, since they say which side is free.
  const shown = obstacles.filter(({ kind }) => isBikeShown || kind !== 'wheel');
  return shown.map((obstacle) => (
    <group key={obstacle.id} position={[...movedBy(obstacle.kind === 'wheel' ? wheelMotion : undefined, obstacle.x_mm, obstacle.y_mm), 0]}>
      <ObstacleBody obstacle={obstacle} />
    </group>
  ));
}

const ObstacleBody = memo(function ObstacleBody({ obstacle }: { readonly obstacle: Obstacle }): ReactNode {
  return obstacleProfiles(obstacle).map((polygon, k) => <Turned key={k} polygon={polygon} look={RUBBER} state="faint" facets={96} />);
});

interface TurnedProps {
  readonly polygon: Polygon;
  readonly look: Look;
  readonly state: State;
  readonly facets?: number;
}

const Turned = memo(function Turned({ polygon, look, state, facets = 56 }: TurnedProps): ReactNode {
  const { materials } = useScene();
  const key = `${profileKey(polygon)} ${facets}`;
  const geometry = useGeometry(`lathe ${key}`, () => toGeometry(revolve(polygon, facets)));
  const lines = useGeometry(`lines ${key}`, () => edgeCircles(polygon, facets));
  const isVeiled = state === 'ghost' || state === 'faint';
  const order = state === 'faint' ? 20 : 10;
  return (
    <>
      {isVeiled && <mesh geometry={geometry} material={materials.depth()} renderOrder={order - 1} raycast={raycastNothing} />}
      <mesh geometry={geometry} material={materials.surface(look, state, false)} renderOrder={isVeiled ? order : 0} raycast={raycastNothing} />
      <lineSegments geometry={lines} material={materials.line(state, false)} renderOrder={isVeiled ? order + 1 : 1} raycast={raycastNothing} />
    </>
  );
});

/** Profiles of an obstacle: a tyre and its rim, or a ring of teeth, or a plain disc. */
export function obstacleProfiles({ kind, radius_mm, z_from_mm, z_to_mm }: Obstacle): Polygon[] {
  const middle = (z_from_mm + z_to_mm) / 2;
  const half = Math.abs(z_to_mm - z_from_mm) / 2;
  if (kind === 'wheel') {
    const section = Math.min(half, radius_mm * 0.2);
    const hub = radius_mm - section;
    const tyre = Array.from({ length: 20 }, (_, k): [number, number] => {
      const t = (2 * Math.PI * k) / 20;
      return [hub + section * Math.cos(t), middle + section * Math.sin(t)];
    });
    return [tyre];
  }
  const inner = kind === 'chainring' ? radius_mm * 0.78 : Math.min(12, radius_mm * 0.3);
  return [
    [
      [inner, z_from_mm],
      [radius_mm, z_from_mm],
      [radius_mm, z_to_mm],
      [inner, z_to_mm],
    ],
  ];
}
