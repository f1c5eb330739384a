/**
 * What can be wrong with a part or a seat, what its measured sizes say, and what follows: an order, or a stop.
 *
 * Limits of wear come from the part's entry; a seat is held against the outside of its bearing and against itself, the
 * other way across. mm.
 */
import type { Condition, Job, SeatMark, StopCode } from '../envelope/job.ts';
import { LIMITS } from '../limits.ts';
import { kindOf } from '../parts/kinds.ts';
import { partSizes, sizeOf } from '../parts/measuring.ts';
import type { SizeName } from '../parts/sizes.ts';
import type { Analysis, PlacedItem } from '../types.ts';
import { JOB_LIMITS } from './limits.ts';

/** What a condition is told of. */
export interface Subject {
  readonly of: 'part' | 'seat';
  /** Scene id of the part, or of the bearing whose seat it is. */
  readonly id: string;
}

/** What can be found on a subject, `good` first. */
function conditionsOf({ of }: Subject, item: PlacedItem): readonly Condition[] {
  if (of === 'seat') return ['good', 'loose', 'oval', 'crack', 'pitted'];
  switch (item.role) {
    case 'bearing':
      return ['good', 'notchy', 'play', 'rust'];
    case 'axle':
      return ['good', 'groove', 'bent', 'thread-torn', 'socket-rounded', 'seized', 'crack', 'rust'];
    case 'receiver':
      return ['good', 'thread-torn', 'socket-rounded', 'crack', 'rust'];
    case 'boss':
      return ['good', 'thread-torn', 'crack'];
    case 'lining':
      return ['good', 'play', 'loose', 'crack'];
    case 'tip':
      return ['good', 'bent', 'thread-torn', 'socket-rounded', 'crack', 'rust'];
    case 'spacer':
      return ['good', 'short', 'faces-marked', 'crack', 'rust'];
  }
}

/** One size that is measured on a part, with the band it should be in and how far wear may take it. */
export interface MeasuredLimit {
  readonly field: 'length_mm' | 'across_mm' | 'other_way_mm';
  readonly size?: SizeName;
  readonly low_mm: number;
  readonly high_mm: number;
}

/** What a calliper is asked for on a subject: what of it wears, or the seat across two ways. */
function measuresOf({ of }: Subject, item: PlacedItem, { model }: Analysis): readonly MeasuredLimit[] {
  const part = item.part === undefined ? undefined : model.parts[item.part];
  if (!part) return [];
  const sizes = partSizes(part);
  if (of === 'seat') {
    const outside = sizes.outside_mm;
    if (!outside) return [];
    const band = {
      low_mm: outside.low - LIMITS.seatFit_mm.value,
      high_mm: outside.high,
    };
    return [
      { field: 'across_mm', ...band },
      { field: 'other_way_mm', ...band },
    ];
  }
  if (part.kind === 'bearing') return [];
  return (['length_mm', 'outside_mm', 'bore_mm'] as const).flatMap((name, k): MeasuredLimit[] => {
    const [size, wears] = [sizes[name], sizeOf(part.kind, name)?.wears];
    if (!size || !wears) return [];
    const limit = wears.limit.value;
    const field = k === 0 ? 'length_mm' : kindOf(part).family === 'shank' || k === 2 ? 'across_mm' : undefined;
    return field === undefined
      ? []
      : [
          {
            field,
            size: name,
            low_mm: size.low - (wears.toward < 0 ? limit : 0),
            high_mm: size.high + (wears.toward > 0 ? limit : 0),
          },
        ];
  });
}

/** What measured sizes come to: nothing where they are within their limits. */
function judgeMeasured(
  subject: Subject,
  item: PlacedItem,
  measured: SeatMark['measured'],
  analysis: Analysis,
): readonly Condition[] {
  if (!measured) return [];
  const found = new Set<Condition>();
  for (const { field, size, low_mm, high_mm } of measuresOf(subject, item, analysis)) {
    const met = measured[field];
    if (met === undefined) continue;
    if (subject.of === 'seat') {
      if (met > high_mm) found.add('loose');
    } else if (met < low_mm) found.add(size === 'length_mm' ? 'short' : 'groove');
    else if (met > high_mm && size === 'bore_mm') found.add('play');
  }
  const { across_mm, other_way_mm } = measured;
  if (subject.of === 'seat' && across_mm !== undefined && other_way_mm !== undefined)
    if (Math.abs(across_mm - other_way_mm) > JOB_LIMITS.oval_mm.value) found.add('oval');
  return [...found];
}

/** What is known of a subject's condition: what was said, and what its measured sizes say. */
function foundOn(subject: Subject, item: PlacedItem, job: Job, analysis: Analysis): readonly Condition[] {
  const mark = (subject.of === 'seat' ? job.seats : job.parts)[subject.id];
  const judged = judgeMeasured(subject, item, mark?.measured, analysis);
  return [...new Set([...(mark?.condition ?? []).filter((one) => one !== 'good' || judged.length === 0), ...judged])];
}

const SEAT_STOPS: Partial<Record<Condition, StopCode>> = {
  loose: 'loose-seat',
  oval: 'oval-seat',
  crack: 'cracked-arm',
};
const BOSS_STOPS: Partial<Record<Condition, StopCode>> = { 'thread-torn': 'torn-thread', crack: 'cracked-arm' };
const PART_STOPS: Partial<Record<Condition, StopCode>> = {
  seized: 'seized-axle',
  'socket-rounded': 'rounded-socket',
};

/** The stop that a condition comes to; none where a new part mends it. */
export function stopOf({ of }: Subject, { role }: PlacedItem, condition: Condition): StopCode | undefined {
  return (of === 'seat' ? SEAT_STOPS : role === 'boss' ? BOSS_STOPS : PART_STOPS)[condition];
}

/** How many things may be tried in a workshop, in order, before each stop; their words are in `words/job.ts`. */
export const STOP_TRIES: Readonly<Record<StopCode, number>> = {
  'seized-axle': 4,
  'rounded-socket': 4,
  'torn-thread': 3,
  'loose-seat': 2,
  'oval-seat': 1,
  'cracked-arm': 1,
};

/** A part or a seat, and what is known of it. */
export interface JobSubject extends Subject {
  readonly item: PlacedItem;
  readonly stackId: string;
  readonly choices: readonly Condition[];
  readonly measures: readonly MeasuredLimit[];
  /** What was found; empty where nobody has looked. */
  readonly found: readonly Condition[];
  readonly isBad: boolean;
  /** It can be fitted: good, renewed, mended, or fitted for now. */
  readonly isSettled: boolean;
}

/** Every part and every seat of a bike, and what is known of each. */
export function subjectsOf(analysis: Analysis, job: Job): JobSubject[] {
  return analysis.pivots.flatMap(({ stacks }) =>
    stacks.flatMap(({ id: stackId, items }) =>
      items
        .filter((item) => item.role !== 'boss' || item.rowId === 'receiver')
        .flatMap((item): Subject[] => [
          { of: 'part', id: item.id },
          ...(item.role === 'bearing' && item.seat ? [{ of: 'seat', id: item.id } as const] : []),
        ])
        .map((subject): JobSubject => {
          const item = items.find(({ id }) => id === subject.id)!;
          const found = foundOn(subject, item, job, analysis);
          const isBad = found.some((one) => one !== 'good');
          const told = { ...subject, item, stackId, found, isBad };
          return {
            ...told,
            choices: conditionsOf(subject, item),
            measures: measuresOf(subject, item, analysis),
            isSettled: found.length > 0 && (!isBad || isMended(told, job)),
          };
        }),
    ),
  );
}

/** Whether something found bad may be fitted all the same. */
function isMended(subject: Pick<JobSubject, 'of' | 'id' | 'item' | 'found'>, job: Job): boolean {
  const { of, id, item, found } = subject;
  const mark = job.parts[id];
  if (of === 'part' && item.role !== 'boss') return mark?.renewed !== undefined || mark?.for_now !== undefined;
  const stops = found.flatMap((one) => stopOf(subject, item, one) ?? []);
  return stops.every((stop) => job.decisions[`${keyOf(subject)}/${stop}`]?.came === 'mended');
}

/** A seat and its bearing share an id: the seat's decisions go by it with a word more. */
export function keyOf({ of, id }: Subject): string {
  return of === 'seat' ? `${id}/seat` : id;
}
