/**
 * Everything on the axles of one pivot, and the hit disc by which the closed pivot is picked.
 *
 * Parts of the opened pivot are meshes of their own, since each slides; those of a closed one that need no attention
 * are joined into a single mesh.
 */
import { useMemo, type ReactNode } from 'react';
import type { Frame, PivotAnalysis, Place, PlacedItem } from '../../shared/index.ts';
import { asideOf, isLoose, isThere } from './build.ts';
import { clampBands } from './band.ts';
import { paintContacts } from './contacts.ts';
import { useScene, type Hands } from './context.ts';
import { lineGeometry, toPaintedGeometry, useGeometry } from './geometry.ts';
import type { Emphasis } from './props.ts';
import type { Held } from './hold.ts';
import { FACETS, itemKey, itemLines, paintItems } from './item.ts';
import { Item, type MemberMaterials } from './Item.tsx';
import type { State } from './materials.ts';
import { PaintedMesh } from './PaintedMesh.tsx';
import { raycastNothing } from './picking.ts';
import { freed, itemsOf, radiusOf, accessOf, type ItemPlace } from './placement.ts';
import { pivotHatches } from './section.ts';

interface Props {
  readonly pivot: PivotAnalysis;
  /** Where the travel has brought it; as drawn when absent. */
  readonly at?: Place | undefined;
  readonly materialOf: MemberMaterials;
  readonly isOpen: boolean;
  readonly isGhost: boolean;
  readonly isCut: boolean;
  readonly cutAngle_rad: number;
  /** The joint is tight: its parts carry the clamp force. */
  readonly isClamped: boolean;
  readonly places: Readonly<Record<string, ItemPlace>>;
  /** The part in the hand and what makes way for it. */
  readonly hold?: Held | undefined;
  readonly emphasis: Emphasis;
  /** How brightly the faces that bear are lit, 0 to 1. */
  readonly lit: number;
  /** A moment of a step. */
  readonly frame?: Frame | undefined;
}

/** One pivot. */
export function PivotParts({
  pivot,
  at = pivot,
  materialOf,
  isOpen,
  isGhost,
  isCut,
  cutAngle_rad,
  isClamped,
  places,
  hold,
  emphasis,
  lit,
  frame,
}: Props): ReactNode {
  const { hands } = useScene();
  const items = useMemo(() => itemsOf(pivot), [pivot]);
  const hatches = useMemo(() => pivotHatches(pivot.stacks), [pivot]);
  const bands = useMemo(() => new Map(pivot.stacks.flatMap((stack) => [...clampBands(stack)])), [pivot]);
  const stateFor = (item: PlacedItem): State =>
    hold?.faded.has(item.id) ? 'ghost' : stateOf(item.id, places[item.id]?.isAway === true, emphasis);
  // With a part in the hand only what is on the bike is there beside it.
  const there = items.filter(({ id }) => isThere(frame, id) && !(hold && places[id]?.isAway));
  const isApart = Object.values(places).some(({ offset_mm }) => offset_mm !== 0);
  const isFree = (place?: ItemPlace): boolean =>
    place !== undefined && (place.isAway || place.offset_mm !== 0 || (isClamped && isApart));
  const own = isOpen ? there : there.filter((item) => isLoose(frame, item) || (!isGhost && stateFor(item) !== 'plain'));
  const joined = isOpen ? [] : there.filter((item) => !own.includes(item));
  return (
    <group position={[at.x_mm, at.y_mm, 0]}>
      {joined.length > 0 && <Joined pivot={pivot} items={joined} isGhost={isGhost} materialOf={materialOf} />}
      {own.map((item) => (
        <Aside key={item.id} at={asideOf(frame, item.id)}>
          <Item
            item={isFree(places[item.id]) ? freed(item) : item}
            state={stateFor(item)}
            isOpen={isOpen}
            isCut={isOpen && (isCut || hold?.opened.has(item.id) === true)}
            cutAngle_rad={cutAngle_rad}
            hatch={hatches.get(item.id)}
            band={isClamped ? bands.get(item.id) : undefined}
            rubs={emphasis.rubs}
            memberMaterial={materialOf(item)}
            hasHidden={isOpen && lit > 0}
          />
        </Aside>
      ))}
      {!isOpen && !isGhost && <HitDisc pivot={pivot} hands={hands} />}
      {isOpen && lit > 0 && <Contacts pivot={pivot} rubs={emphasis.rubs} lit={lit} />}
      {isOpen && <AxisLine pivot={pivot} places={places} />}
    </group>
  );
}

/** The faces that bear, lit through whatever lies before them, as hidden lines are drawn. */
function Contacts({
  pivot,
  rubs,
  lit,
}: {
  readonly pivot: PivotAnalysis;
  readonly rubs: ReadonlySet<string>;
  readonly lit: number;
}): ReactNode {
  const { materials } = useScene();
  const key = useMemo(() => itemsOf(pivot).map(({ id, drive }) => [id, drive.touches]), [pivot]);
  const geometry = useGeometry(`contacts ${JSON.stringify(key)} ${[...rubs].join(',')}`, () =>
    toPaintedGeometry(paintContacts(pivot, rubs)),
  );
  return <mesh geometry={geometry} material={materials.contact(lit)} renderOrder={30} raycast={raycastNothing} />;
}

/** Beside its axle and turned, while it is on its way. */
function Aside({ at, children }: { readonly at: ReturnType<typeof asideOf>; readonly children: ReactNode }): ReactNode {
  return (
    <group position={[at?.x_mm ?? 0, at?.y_mm ?? 0, 0]} rotation={[0, 0, at?.turn_rad ?? 0]}>
      {children}
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

interface JoinedProps {
  readonly pivot: PivotAnalysis;
  readonly items: readonly PlacedItem[];
  readonly isGhost: boolean;
  readonly materialOf: MemberMaterials;
}

const NO_RUBS: ReadonlySet<string> = new Set();

/** The parts of a closed pivot as one mesh. Bearings lie hidden in their bosses: a ghost goes without. */
function Joined({ pivot, items, isGhost, materialOf }: JoinedProps): ReactNode {
  const drawn = isGhost ? items.filter(({ role }) => role !== 'bearing') : items;
  const ids = drawn.map(({ id }) => id).join(' ');
  // biome-ignore lint/correctness/useExhaustiveDependencies: the list is new at every look, its parts are not.
  const key = useMemo(() => drawn.map((item) => itemKey(item, materialOf(item))).join(' '), [ids, pivot, materialOf]);
  const geometry = useGeometry(`joined ${key}`, () =>
    toPaintedGeometry(paintItems(drawn, { facets: FACETS.rest, rubs: NO_RUBS, hasBands: false }, materialOf)),
  );
  const lines = useGeometry(`joined lines ${key}`, () =>
    lineGeometry(drawn.flatMap((item) => itemLines(item, FACETS.rest))),
  );
  const state: State = isGhost ? 'ghost' : 'plain';
  return <PaintedMesh geometry={geometry} lines={lines} state={state} />;
}

const HIT_mm = 20;

/** An unseen disc, big enough for a thumb, that opens the pivot. */
function HitDisc({ pivot, hands }: { readonly pivot: PivotAnalysis; readonly hands: Hands }): ReactNode {
  const [from, to] = accessOf(pivot, {});
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
function AxisLine({
  pivot,
  places,
}: {
  readonly pivot: PivotAnalysis;
  readonly places: Readonly<Record<string, ItemPlace>>;
}): ReactNode {
  const { materials } = useScene();
  const [low, high] = accessOf(pivot, places);
  const from = 2 * Math.round((low - AXIS_OVERHANG_mm) / 2);
  const to = 2 * Math.round((high + AXIS_OVERHANG_mm) / 2);
  const geometry = useGeometry(`axis ${from} ${to}`, () => lineGeometry(centreLine(from, to)));
  return <lineSegments geometry={geometry} material={materials.axis()} raycast={raycastNothing} />;
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
