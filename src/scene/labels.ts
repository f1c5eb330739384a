/**
 * Which words stand on the picture: names of parts, of pivots to pick, and of the two sides.
 *
 * A pure function of the same things as the picture. Where the words go on the screen is settled frame by frame by
 * `layout.ts`; here is only what they say and which point of the bike they belong to.
 */
import { inAxleOrder, type Analysis, type PivotAnalysis, type PlacedItem } from '../../shared/index.ts';
import type { Emphasis } from './props.ts';
import { accessOf, drawnPivots, itemsOf, radiusOf, type ItemPlace, type Place } from './placement.ts';

/** One label. `item` is set where the anchor slides with that item. */
export interface LabelSpec {
  readonly id: string;
  readonly kind: 'part' | 'pivot' | 'drive' | 'non-drive';
  readonly text: string;
  /** What a screen reader says, where the text is cut short for want of room. */
  readonly spoken?: string;
  readonly at: Place;
  readonly radius_mm: number;
  /** From where to where the stacks of a pivot reach along the axis, mm; the label stands at the one nearest the eye. */
  readonly stacks_mm?: readonly (readonly [from: number, to: number])[];
  /** Half the length of a part along the axis, mm. */
  readonly half_mm?: number;
  readonly item?: string;
  /** Side of the pivot a part stands on; none in its middle, nor for what goes through all of it. */
  readonly letter?: string;
  /** Place in the row. */
  readonly rank?: number;
  readonly isTroubled: boolean;
  readonly isPicked: boolean;
  readonly isLit: boolean;
  readonly isFirst: boolean;
}

const LONGEST_NAME = 28;
/** Of the head of an axle in from its end, about its middle. */
const HEAD_mm = 2;

/** Labels of the parts of an opened pivot. */
export function partLabels(
  pivot: PivotAnalysis,
  places: Readonly<Record<string, ItemPlace>>,
  emphasis: Emphasis,
): LabelSpec[] {
  const [low, high] = accessOf(pivot, {});
  return rowOf(pivot).flatMap((item, rank): LabelSpec[] => {
    if (emphasis.heldId !== undefined && places[item.id]?.isAway) return [];
    const isPicked = item.id === emphasis.selectedId || item.id === emphasis.heldId;
    const isLit = item.id === emphasis.litId;
    const isTroubled = emphasis.troubled.has(item.id);
    const isActive = emphasis.active.has(item.id);
    return [
      {
        id: item.id,
        kind: 'part',
        text: shortName(item.name),
        at: [pivot.x_mm, pivot.y_mm, anchorOf(item, pivot, places[item.id]?.offset_mm ?? 0)],
        radius_mm: radiusOf(item),
        half_mm: (item.to_mm - item.from_mm) / 2,
        item: item.id,
        rank,
        ...letterOf(item, (low + high) / 2),
        isTroubled,
        isPicked,
        isLit,
        isFirst: isPicked || isLit || isTroubled || isActive,
      },
    ];
  });
}

/** The parts of a pivot from the non-drive to the drive side as they stand fully apart, the axles outside. */
function rowOf(pivot: PivotAnalysis): readonly PlacedItem[] {
  const middle = (items: readonly PlacedItem[]): number =>
    items.reduce((sum, { from_mm, to_mm }) => sum + from_mm + to_mm, 0) / Math.max(1, items.length);
  const rows = pivot.stacks.map(inAxleOrder).sort((a, b) => middle(a) - middle(b));
  const known = new Map(itemsOf(pivot).map((item) => [item.id, item]));
  return [...new Set(rows.flat().map(({ id }) => id))].map((id) => known.get(id)!);
}

/** Middle of a part; of an axle that is in, the end it went in by, which alone is to be seen. */
function anchorOf({ id, role, from_mm, to_mm }: PlacedItem, pivot: PivotAnalysis, offset_mm: number): number {
  const middle = (from_mm + to_mm) / 2;
  const from = pivot.stacks.find(({ items }) => items.some((item) => item.id === id))?.from;
  if (role !== 'axle' || from === undefined) return middle;
  const head = from === 'drive' ? to_mm - HEAD_mm : from_mm + HEAD_mm;
  const out = Math.min(1, Math.abs(offset_mm) / Math.max(1, to_mm - from_mm));
  return head + (middle - head) * out;
}

/** A part that lies wholly on one side of the middle has that side's letter. */
function letterOf({ role, from_mm, to_mm }: PlacedItem, middle_mm: number): Pick<LabelSpec, 'letter'> {
  if (role === 'axle') return {};
  if (from_mm >= middle_mm) return { letter: 'D' };
  return to_mm <= middle_mm ? { letter: 'N' } : {};
}

/** Where a travel has brought the pivots, what each has turned, and what is not on the bike. */
interface Travelled {
  readonly pivotPlaces?: Readonly<Record<string, { readonly x_mm: number; readonly y_mm: number }>> | undefined;
  readonly pivotWords?: Readonly<Record<string, string>> | undefined;
  readonly hidden?: ReadonlySet<string> | undefined;
  /** Pivots that do not fit; those of the analysis unless said. */
  readonly faulty?: ReadonlySet<string> | undefined;
  /** No room for names beside the angles. */
  readonly isBrief?: boolean;
}

/** Labels by which the pivots of the whole bike are picked; in a travel each says what it has turned. */
export function pivotLabels(
  analysis: Analysis,
  { pivotPlaces, pivotWords, hidden, faulty, isBrief = false }: Travelled = {},
): LabelSpec[] {
  return drawnPivots(analysis, undefined)
    .filter(({ id }) => hidden?.has(id) !== true)
    .map((pivot) => {
      const place = pivotPlaces?.[pivot.id] ?? pivot;
      const turned = pivotWords?.[pivot.id];
      return {
        id: `pivot ${pivot.id}`,
        kind: 'pivot',
        text: turned === undefined ? shortName(pivot.name) : isBrief ? turned : `${shortName(pivot.name)} ${turned}`,
        ...(turned !== undefined && isBrief ? { spoken: `${pivot.name} ${turned}` } : {}),
        at: [place.x_mm, place.y_mm, 0],
        stacks_mm: reachesOf(pivot),
        radius_mm: Math.max(0, ...itemsOf(pivot).map(radiusOf)),
        isTroubled: faulty ? faulty.has(pivot.id) : pivot.verdict === 'faulty',
        isPicked: false,
        isLit: false,
        isFirst: true,
      };
    });
}

/** From where to where its stacks reach; stacks with no air between them count as one. */
function reachesOf(pivot: PivotAnalysis): readonly (readonly [number, number])[] {
  const reaches: [number, number][] = [];
  for (const [from, to] of pivot.stacks
    .filter(({ items }) => items.length > 0)
    .map(({ items }): [number, number] => [
      Math.min(...items.map(({ from_mm }) => from_mm)),
      Math.max(...items.map(({ to_mm }) => to_mm)),
    ])
    .sort((a, b) => a[0] - b[0])) {
    const last = reaches.at(-1);
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else reaches.push([from, to]);
  }
  return reaches;
}

/**
 * The two side markers, at the ends of a line along z; `radius_mm` of the parts that stand there, 0 where none does.
 */
export function sideLabels(
  x_mm: number,
  y_mm: number,
  ends: readonly [number, number],
  radius_mm: number,
): LabelSpec[] {
  const common = { radius_mm, isTroubled: false, isPicked: false, isLit: false, isFirst: true } as const;
  return [
    { ...common, id: 'side non-drive', kind: 'non-drive', text: 'NON-DRIVE SIDE', at: [x_mm, y_mm, ends[0]] },
    { ...common, id: 'side drive', kind: 'drive', text: 'DRIVE SIDE', at: [x_mm, y_mm, ends[1]] },
  ];
}

/** A name that fits a label: cut at a word where it is too long. */
export function shortName(name: string): string {
  if (name.length <= LONGEST_NAME) return name;
  const cut = name.slice(0, LONGEST_NAME - 1);
  const space = cut.lastIndexOf(' ');
  return `${space > LONGEST_NAME / 2 ? cut.slice(0, space) : cut}…`;
}
