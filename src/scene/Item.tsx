/**
 * One part of the opened pivot: it slides along the axis, can be pointed at, pulled and picked, and is cut open.
 */
import { memo, useCallback, useMemo, type ReactNode } from 'react';
import type { ThreeEvent } from '@react-three/fiber';
import type { Group } from 'three';
import type { PlacedItem } from '../../shared/index.ts';
import type { ClampBand } from './band.ts';
import { useScene } from './context.ts';
import { lineGeometry, toPaintedGeometry, useGeometry } from './geometry.ts';
import { FACETS, itemKey, itemLines, paintItems } from './item.ts';
import type { State } from './materials.ts';
import { PaintedMesh } from './PaintedMesh.tsx';
import { raycastBehind, raycastNothing, raycastTouched } from './picking.ts';
import { capLines, isUncut, paintSection, type HatchStyle } from './section.ts';

/** What the member that an item belongs to is made of. */
export type MemberMaterials = (item: PlacedItem) => string | undefined;

interface Props {
  readonly item: PlacedItem;
  readonly state: State;
  readonly isOpen: boolean;
  readonly isCut: boolean;
  readonly cutAngle_rad: number;
  readonly hatch: HatchStyle | undefined;
  readonly band: ClampBand | undefined;
  readonly rubs: ReadonlySet<string>;
  readonly memberMaterial: string | undefined;
  /** What of it lies behind other parts is drawn too. */
  readonly hasHidden: boolean;
}

/** The part. */
export const Item = memo(function Item({
  item,
  state,
  isOpen,
  isCut,
  cutAngle_rad,
  hatch,
  band,
  rubs,
  memberMaterial,
  hasHidden,
}: Props): ReactNode {
  const { hands, motion, sliders, materials } = useScene();
  const { id } = item;
  const slide = useCallback(
    (group: Group | null) => {
      if (!group) return;
      group.position.z = motion.at(id);
      sliders.set(id, group);
      return () => {
        if (sliders.get(id) === group) sliders.delete(id);
      };
    },
    [id, motion, sliders],
  );
  // A part that is not on the bike yet is a picture of where it will come from: it is not cut, nor is what stays whole.
  const isSplit = isCut && state !== 'away' && !isUncut(item);
  const facets = isOpen ? FACETS.open : FACETS.rest;
  const look = useMemo(() => itemKey(item, memberMaterial), [item, memberMaterial]);
  const key = `${look} ${facets} ${isOpen ? rubsOf(item, rubs) : ''}`;
  const geometry = useGeometry(`item ${key}`, () =>
    toPaintedGeometry(paintItems([item], { facets, rubs, hasBands: isOpen }, () => memberMaterial)),
  );
  const lines = useGeometry(`item lines ${key}`, () => lineGeometry(itemLines(item, facets)));
  const raycast = useMemo(
    () => (!isOpen ? raycastNothing : isSplit ? raycastBehind(materials.plane) : raycastTouched),
    [isOpen, isSplit, materials],
  );
  const handlers = isOpen
    ? {
        onPointerOver: (event: ThreeEvent<PointerEvent>) => {
          event.stopPropagation();
          hands.light(id);
          hands.over(true);
        },
        onPointerOut: () => {
          hands.light(undefined);
          hands.over(false);
        },
        onPointerDown: (event: ThreeEvent<PointerEvent>) => {
          event.stopPropagation();
          hands.grab(id, event);
        },
        onClick: (event: ThreeEvent<MouseEvent>) => {
          event.stopPropagation();
          // A drag ends in a click as well; it is no pick.
          if (event.delta <= 6) hands.select(id);
        },
      }
    : {};
  return (
    <group ref={slide} name={id} {...handlers}>
      <PaintedMesh
        geometry={geometry}
        lines={lines}
        state={state}
        isCut={isSplit}
        hasHidden={hasHidden}
        raycast={raycast}
      />
      {isSplit && hatch && (
        <group rotation={[0, 0, cutAngle_rad]}>
          <Section item={item} itemKey={key} hatch={hatch} band={band} memberMaterial={memberMaterial} />
        </group>
      )}
    </group>
  );
});

interface SectionProps {
  readonly item: PlacedItem;
  readonly itemKey: string;
  readonly hatch: HatchStyle;
  readonly band: ClampBand | undefined;
  readonly memberMaterial: string | undefined;
}

/** Height of the rim over the face, mm. */
const RIM_LIFT_mm = 0.03;

function Section({ item, itemKey: key, hatch, band, memberMaterial }: SectionProps): ReactNode {
  const { materials } = useScene();
  const faces = useGeometry(`section ${key} ${hatch.rise} ${hatch.spacing_px} ${JSON.stringify(band)}`, () =>
    toPaintedGeometry(paintSection(item, hatch, memberMaterial, band)),
  );
  const rim = useGeometry(`section rim ${key}`, () => lineGeometry(capLines(item)));
  return (
    <>
      <mesh geometry={faces} material={materials.paint('plain', false)} raycast={raycastTouched} />
      <lineSegments geometry={rim} material={materials.rim()} position={[0, RIM_LIFT_mm, 0]} raycast={raycastNothing} />
    </>
  );
}

function rubsOf(item: PlacedItem, rubs: ReadonlySet<string>): string {
  const touched = [...item.nonDrive.touches, ...item.drive.touches].map((touch) => touch.with);
  return touched.filter((id) => rubs.has(`${item.id} ${id}`)).join(',');
}
