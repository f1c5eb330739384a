/**
 * Where the part in the hand goes: the ghost of it on its seat, and an arrow over it from where it stands.
 */
import { useMemo, type ReactNode } from 'react';
import type { PivotAnalysis } from '../../shared/index.ts';
import { PICTURE } from '../look.ts';
import { useScene } from './context.ts';
import { lineGeometry, toPaintedGeometry, useGeometry } from './geometry.ts';
import type { Held } from './hold.ts';
import { FACETS, itemKey, itemLines, paintItems } from './item.ts';
import type { MemberMaterials } from './Item.tsx';
import { Painted } from './painted.ts';
import { PaintedMesh } from './PaintedMesh.tsx';
import { raycastNothing } from './picking.ts';
import { radiusOf, type Place } from './placement.ts';
import { revolve } from './surface.ts';

interface Props {
  readonly pivot: PivotAnalysis;
  readonly held: Held;
  readonly materialOf: MemberMaterials;
  /** Up on the screen, across the axle. */
  readonly up: Place;
}

const NO_RUBS: ReadonlySet<string> = new Set();
/** Of the arrow, as shares of the part's radius, but no smaller than this, mm. */
const ARROW = { shaft: 0.09, head: 0.24, long: 0.62, least_mm: 0.55 } as const;
/** How far over the part it runs, as a share of the radius, and mm. */
const OVER = { share: 0.1, least_mm: 3 } as const;
const SIDES = 20;

/** The ghost and the arrow; nothing of a part that stays on its seat. */
export function Hold(props: Props): ReactNode {
  return props.held.from === undefined ? null : <OnItsWay {...props} />;
}

function OnItsWay({ pivot, held, materialOf, up }: Props): ReactNode {
  const { item, seat_mm, offset_mm } = held;
  const { theme, materials } = useScene();
  const material = materialOf(item);
  const key = useMemo(() => itemKey(item, material), [item, material]);
  const seat = useGeometry(`seat ${key}`, () =>
    toPaintedGeometry(paintItems([item], { facets: FACETS.open, rubs: NO_RUBS, hasBands: false }, () => material)),
  );
  const lines = useGeometry(`seat lines ${key}`, () => lineGeometry(itemLines(item, FACETS.open)));
  const radius = radiusOf(item);
  const way = seat_mm - offset_mm;
  const colour = PICTURE[theme].pick;
  const arrow = useGeometry(`arrow ${radius} ${way} ${colour}`, () =>
    toPaintedGeometry(paintArrow(radius, way, colour)),
  );
  const across = Math.hypot(up[0], up[1]) || 1;
  const over = radius + Math.max(OVER.least_mm, OVER.share * radius) + size(radius, ARROW.head);
  const middle = (item.from_mm + item.to_mm) / 2 + offset_mm;
  return (
    <group position={[pivot.x_mm, pivot.y_mm, 0]}>
      <group position={[0, 0, seat_mm]}>
        <PaintedMesh geometry={seat} lines={lines} state="away" />
      </group>
      <mesh
        geometry={arrow}
        material={materials.paint('plain', false)}
        position={[(up[0] / across) * over, (up[1] / across) * over, middle]}
        raycast={raycastNothing}
      />
    </group>
  );
}

const size = (radius_mm: number, share: number): number => Math.max(ARROW.least_mm, share * radius_mm);

/** An arrow along the axis, from 0 to `way_mm`. */
function paintArrow(radius_mm: number, way_mm: number, colour: string): Painted {
  const [shaft, head] = [size(radius_mm, ARROW.shaft), 2 * size(radius_mm, ARROW.head)];
  const length = Math.abs(way_mm);
  const neck = length - Math.min(length * 0.6, 1.6 * head);
  const sign = Math.sign(way_mm);
  const outline: [number, number][] = [
    [0, 0],
    [shaft, 0],
    [shaft, sign * neck],
    [head / 2, sign * neck],
    [0, sign * length],
  ];
  const into = new Painted();
  into.add(revolve(outline, SIDES), { kind: 'flat', colour });
  into.mark('touched');
  into.mark('marked');
  return into;
}
