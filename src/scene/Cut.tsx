/**
 * The section of one item: its profiles as closed faces in the cutting plane, hatched, and the balls left whole.
 *
 * Local frame: x is the radius, z the axis, +y looks at the viewer; the caller turns it about the axis. A ball is drawn
 * where it lies in the plane or behind it, never in the half that was taken away.
 */
import { useLayoutEffect, useMemo, useRef, type ReactNode } from 'react';
import { Matrix4, SphereGeometry, type InstancedMesh } from 'three';
import type { Balls, PlacedItem, Polygon } from '../../shared/index.ts';
import { ballPlaces } from './balls.ts';
import { useScene } from './context.ts';
import { dressItem } from './dress.ts';
import { capGeometry, capLines, profileKey, useGeometry } from './geometry.ts';
import { BALL_LOOK, mix, solidLook } from './palette.ts';
import type { Tile } from './patterns.ts';
import { raycastNothing } from './picking.ts';

interface Props {
  readonly item: PlacedItem;
  /** Neighbours in the row lean their hatching opposite ways. */
  readonly rank: number;
  readonly memberMaterial?: string;
}

/** All caps and balls of an item. */
export function Section({ item, rank, memberMaterial }: Props): ReactNode {
  return (
    <>
      {dressItem(item).map(({ solid, cut }, k) => {
        const look = solidLook(item, solid, memberMaterial);
        const tile: Tile = (rank + k) % 2 === 0 ? 'hatch-a' : 'hatch-b';
        return <Cap key={k} polygon={cut} colour={sectionTone(look.colour, solid.role === 'seal')} tile={tile} />;
      })}
      {item.balls && <BallRow balls={item.balls} />}
    </>
  );
}

/** Sections are a little lighter than surfaces, as fresh metal is; rubber stays dark. */
function sectionTone(colour: string, isRubber: boolean): string {
  return isRubber ? mix(colour, '#ffffff', 0.12) : mix(colour, '#ffffff', 0.3);
}

/** Height of the rim over the face, mm. */
const RIM_LIFT_mm = 0.03;

function Cap({ polygon, colour, tile }: { readonly polygon: Polygon; readonly colour: string; readonly tile: Tile }): ReactNode {
  const { materials } = useScene();
  const key = profileKey(polygon);
  const face = useGeometry(`cap ${key}`, () => capGeometry(polygon));
  const rim = useGeometry(`cap rim ${key}`, () => capLines(polygon));
  return (
    <>
      <mesh geometry={face} material={materials.cap(colour, tile)} />
      <lineSegments geometry={rim} material={materials.rim()} position={[0, RIM_LIFT_mm, 0]} raycast={raycastNothing} />
    </>
  );
}

function BallRow({ balls }: { readonly balls: Balls }): ReactNode {
  const { materials } = useScene();
  const mesh = useRef<InstancedMesh>(null);
  const places = useMemo(() => ballPlaces(balls), [balls]);
  const geometry = useGeometry(`ball ${balls.diameter_mm}`, () => new SphereGeometry(balls.diameter_mm / 2, 24, 16));
  useLayoutEffect(() => {
    const matrix = new Matrix4();
    places.forEach(([x, y], k) => mesh.current?.setMatrixAt(k, matrix.makeTranslation(x, y, balls.z_mm)));
    if (mesh.current) mesh.current.instanceMatrix.needsUpdate = true;
  }, [places, balls]);
  return (
    <instancedMesh
      key={places.length}
      ref={mesh}
      args={[geometry, materials.surface(BALL_LOOK, 'plain', false), places.length]}
      raycast={raycastNothing}
      frustumCulled={false}
    />
  );
}
