/**
 * Everything on the axles of one pivot, and the hit disc by which the closed pivot is picked.
 */
import { memo, useCallback, useMemo, type ReactNode } from 'react';
import type { ThreeEvent } from '@react-three/fiber';
import type { Group } from 'three';
import { inAxleOrder, type Member, type PivotAnalysis, type Place, type PlacedItem } from '../../shared/index.ts';
import { useScene, type Hands } from './context.ts';
import { Section } from './Cut.tsx';
import { lineGeometry, useGeometry } from './geometry.ts';
import type { Emphasis } from './emphasis.ts';
import type { State } from './materials.ts';
import { STAGE } from './palette.ts';
import { raycastNothing } from './picking.ts';
import { itemsOf, radiusOf, reachOf, type ItemPlace } from './placement.ts';
import { FaceMarks, RingMarks } from './RingMarks.tsx';
import { Solids } from './Solids.tsx';

interface Props {
  readonly pivot: PivotAnalysis;
  /** Where the travel has brought it; as drawn when absent. */
  readonly at?: Place | undefined;
  readonly members: Readonly<Record<string, Member>>;
  readonly isOpen: boolean;
  readonly isGhost: boolean;
  /** Drawn beside the opened pivot, for comparison: nothing to press. */
  readonly isBeside: boolean;
  readonly isCut: boolean;
  readonly cutAngle_rad: number;
  readonly places: Readonly<Record<string, ItemPlace>>;
  readonly emphasis: Emphasis;
}

/** One pivot. */
export function PivotParts({ pivot, at = pivot, members, isOpen, isGhost, isBeside, isCut, cutAngle_rad, places, emphasis }: Props): ReactNode {
  const { hands } = useScene();
  const items = useMemo(() => itemsOf(pivot), [pivot]);
  const ranks = useMemo(() => new Map(pivot.stacks.flatMap((stack) => inAxleOrder(stack).map((item, k) => [item.id, k] as const))), [pivot]);
  return (
    <group position={[at.x_mm, at.y_mm, 0]}>
      {items.map((item) => {
        // Bearings lie hidden in their bosses: a ghost shows only its hull.
        if (isGhost && item.role === 'bearing') return null;
        const member = item.member === undefined ? undefined : members[item.member];
        return (
          <Item
            key={item.id}
            item={item}
            state={isGhost ? 'ghost' : stateOf(item.id, places[item.id]?.isAway === true, emphasis)}
            isOpen={isOpen}
            isCut={isOpen && isCut}
            cutAngle_rad={cutAngle_rad}
            rank={ranks.get(item.id) ?? 0}
            rubs={emphasis.rubs}
            {...(member ? { memberMaterial: member.material } : {})}
          />
        );
      })}
      {!isOpen && !isGhost && !isBeside && <HitDisc pivot={pivot} hands={hands} />}
      {isOpen && <AxisLine pivot={pivot} places={places} />}
    </group>
  );
}

function stateOf(id: string, isAway: boolean, emphasis: Emphasis): State {
  if (id === emphasis.selectedId) return 'picked';
  if (id === emphasis.litId) return 'lit';
  if (isAway) return 'away';
  if (emphasis.troubled.has(id)) return 'trouble';
  return emphasis.active.has(id) ? 'active' : 'plain';
}

interface ItemProps {
  readonly item: PlacedItem;
  readonly state: State;
  readonly isOpen: boolean;
  readonly isCut: boolean;
  readonly cutAngle_rad: number;
  readonly rank: number;
  readonly rubs: ReadonlySet<string>;
  readonly memberMaterial?: string;
}

const Item = memo(function Item({ item, state, isOpen, isCut, cutAngle_rad, rank, rubs, memberMaterial }: ItemProps): ReactNode {
  const { hands, motion, sliders } = useScene();
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
  // A part that is not on the bike yet is a picture of where it will come from: it carries no marks and is not cut.
  const isAway = state === 'away';
  const isSplit = isCut && !isAway;
  const own = memberMaterial === undefined ? {} : { memberMaterial };
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
    <group ref={slide} {...handlers}>
      <Solids item={item} state={state} isOpen={isOpen} isCut={isSplit} {...own} />
      {item.role === 'ring' && state !== 'ghost' && !isAway && <RingMarks item={item} isCut={isSplit} />}
      {isOpen && !isAway && item.role !== 'boss' && item.role !== 'bearing' && <FaceMarks item={item} isCut={isSplit} rubs={rubs} />}
      {isSplit && (
        <group rotation={[0, 0, cutAngle_rad]}>
          <Section item={item} rank={rank} {...own} />
        </group>
      )}
    </group>
  );
});

const HIT_mm = 20;

/** An unseen disc, big enough for a thumb, that opens the pivot. */
function HitDisc({ pivot, hands }: { readonly pivot: PivotAnalysis; readonly hands: Hands }): ReactNode {
  const [from, to] = reachOf(pivot, {});
  const radius = Math.max(HIT_mm, ...itemsOf(pivot).map((item) => radiusOf(item) * 1.15));
  return (
    <mesh
      visible={false}
      position={[0, 0, (from + to) / 2]}
      rotation={[Math.PI / 2, 0, 0]}
      onPointerOver={() => hands.over(true)}
      onPointerOut={() => hands.over(false)}
      onClick={(event) => {
        event.stopPropagation();
        if (event.delta > 6) return;
        hands.over(false);
        hands.pick(pivot.id);
      }}
    >
      <cylinderGeometry args={[radius, radius, to - from + 8, 20]} />
    </mesh>
  );
}

const AXIS_OVERHANG_mm = 26;
const DASH_mm = { long: 10, gap: 2.2, short: 1.6 } as const;

/** The centre line, long dash and short dash as on a drawing. */
function AxisLine({ pivot, places }: { readonly pivot: PivotAnalysis; readonly places: Readonly<Record<string, ItemPlace>> }): ReactNode {
  const { materials, theme } = useScene();
  const [low, high] = reachOf(pivot, places);
  const from = 2 * Math.round((low - AXIS_OVERHANG_mm) / 2);
  const to = 2 * Math.round((high + AXIS_OVERHANG_mm) / 2);
  const geometry = useGeometry(`axis ${from} ${to}`, () => lineGeometry(centreLine(from, to)));
  return <lineSegments geometry={geometry} material={materials.axis(STAGE[theme].axis)} raycast={raycastNothing} />;
}

function centreLine(from_mm: number, to_mm: number): number[] {
  const points: number[] = [];
  for (let z = from_mm; z < to_mm; ) {
    const end = Math.min(to_mm, z + DASH_mm.long);
    points.push(0, 0, z, 0, 0, end);
    z = end + DASH_mm.gap;
    if (z + DASH_mm.short < to_mm) points.push(0, 0, z, 0, 0, z + DASH_mm.short);
    z += DASH_mm.short + DASH_mm.gap;
  }
  return points;
}
