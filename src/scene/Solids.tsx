/**
 * The solids of one item: turned surface, drawn lines, socket linings, and the outline that makes it stand out.
 */
import { useMemo, type ReactNode } from 'react';
import type { PlacedItem } from '../../shared/index.ts';
import { useScene } from './context.ts';
import { grown } from './detail.ts';
import { dressItem, type DressedSolid } from './dress.ts';
import { edgeCircles, profileKey, socketGeometry, toGeometry, useGeometry } from './geometry.ts';
import type { State } from './materials.ts';
import { SIGNAL, STAGE, solidLook, type Look } from './palette.ts';
import { raycastBehind, raycastNothing } from './picking.ts';
import { revolve } from './surface.ts';

/** Facets of a lathe in the opened pivot, and in the rest of the bike. */
export const FACETS = { open: 72, rest: 30 } as const;
/** Outlines of what is lit, and of what is picked or in trouble, mm. */
const OUTLINE_mm = { thin: 0.45, bold: 0.8 } as const;
/** Ghosts are drawn after everything else, their depth first. */
const GHOST_ORDER = 10;

interface Props {
  readonly item: PlacedItem;
  readonly state: State;
  readonly isOpen: boolean;
  readonly isCut: boolean;
  readonly memberMaterial?: string;
}

/** Everything of an item that is turned on the lathe. */
export function Solids({ item, state, isOpen, isCut, memberMaterial }: Props): ReactNode {
  return dressItem(item).map((dressed, k) => (
    <SolidMesh
      key={k}
      dressed={dressed}
      look={solidLook(item, dressed.solid, memberMaterial)}
      state={state}
      isOpen={isOpen}
      isCut={isCut}
    />
  ));
}

interface MeshProps {
  readonly dressed: DressedSolid;
  readonly look: Look;
  readonly state: State;
  readonly isOpen: boolean;
  readonly isCut: boolean;
}

function SolidMesh({ dressed, look, state, isOpen, isCut }: MeshProps): ReactNode {
  const { materials } = useScene();
  const facets = isOpen ? FACETS.open : FACETS.rest;
  const { flats, linings, solid } = dressed;
  // Thread ridges are too fine to be seen on the whole bike.
  const turned = isOpen ? dressed.turned : dressed.plain;
  const key = `${profileKey(turned)} ${flats ? JSON.stringify(flats) : ''} ${facets}`;
  const geometry = useGeometry(`lathe ${key}`, () => toGeometry(revolve(turned, facets, flats)));
  const lines = useGeometry(`lines ${profileKey(solid.polygon)} ${facets}`, () => edgeCircles(solid.polygon, facets));
  const raycast = useMemo(
    () => (!isOpen ? raycastNothing : isCut ? raycastBehind(materials.plane) : undefined),
    [isOpen, isCut, materials],
  );
  const isGhost = state === 'ghost';
  const surface = materials.surface(look, state, isCut);
  return (
    <>
      {isGhost && <mesh geometry={geometry} material={materials.depth()} renderOrder={GHOST_ORDER - 1} raycast={raycastNothing} />}
      <mesh geometry={geometry} material={surface} renderOrder={isGhost ? GHOST_ORDER : 0} {...(raycast ? { raycast } : {})} />
      {!flats && (
        <lineSegments geometry={lines} material={materials.line(state, isCut)} renderOrder={isGhost ? GHOST_ORDER + 1 : 1} raycast={raycastNothing} />
      )}
      {linings.map((lining, k) => (
        <group key={k} position={[0, 0, lining.end_mm]} rotation={lining.sign > 0 ? [0, 0, 0] : [Math.PI, 0, 0]}>
          <LiningMesh lining={lining} look={look} state={state} isCut={isCut} />
        </group>
      ))}
      <Outline dressed={dressed} state={state} isCut={isCut} facets={facets} />
    </>
  );
}

function LiningMesh({ lining, look, state, isCut }: Pick<MeshProps, 'look' | 'state' | 'isCut'> & { readonly lining: DressedSolid['linings'][number] }): ReactNode {
  const { materials } = useScene();
  const { socket, plug_mm } = lining;
  const key = `socket ${socket.shape} ${socket.around_mm} ${socket.within_mm} ${socket.depth_mm} ${plug_mm}`;
  const geometry = useGeometry(key, () => socketGeometry(socket, plug_mm));
  return <mesh geometry={geometry} material={materials.surface(look, state, isCut)} renderOrder={state === 'ghost' ? GHOST_ORDER : 0} raycast={raycastNothing} />;
}

function Outline({ dressed, state, isCut, facets }: Pick<MeshProps, 'dressed' | 'state' | 'isCut'> & { readonly facets: number }): ReactNode {
  const { materials, theme } = useScene();
  const isDrawn = (state === 'lit' || state === 'picked' || state === 'trouble') && dressed.solid.role !== 'seal';
  if (!isDrawn) return null;
  const grow = state === 'lit' ? OUTLINE_mm.thin : OUTLINE_mm.bold;
  const colour = state === 'trouble' ? SIGNAL.trouble : STAGE[theme].pick;
  return <OutlineMesh dressed={dressed} grow_mm={grow} facets={facets} material={materials.outline(colour, isCut)} />;
}

interface OutlineProps {
  readonly dressed: DressedSolid;
  readonly grow_mm: number;
  readonly facets: number;
  readonly material: ReturnType<ReturnType<typeof useScene>['materials']['outline']>;
}

function OutlineMesh({ dressed, grow_mm, facets, material }: OutlineProps): ReactNode {
  const { polygon } = dressed.solid;
  const geometry = useGeometry(`outline ${grow_mm} ${profileKey(polygon)} ${facets}`, () => toGeometry(revolve(grown(polygon, grow_mm), facets)));
  return <mesh geometry={geometry} material={material} raycast={raycastNothing} />;
}
