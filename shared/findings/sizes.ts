/**
 * Sizes of a pivot's threads that no standard has, or that cannot belong together: mistakes of measuring or typing that
 * every other rule would take for granted.
 *
 * A thread's size and pitch against the series of ISO 261; the hole of a threaded bore against the thread in it (ISO
 * 724): wider than the thread there is nothing to cut, narrower than its core the thread cannot run through. mm.
 */
import type { Joint, JointItem } from '../joint/joint.ts';
import type { Thread } from '../parts/fields.ts';
import { LIMITS } from '../limits.ts';
import { metricThread, nearestThread } from '../standards/index.ts';
import type { Finding, Measure } from '../types.ts';

const mm = (value: number): Measure => ({ value, unit: 'mm' });

/** What looks mistaken in the sizes of a pivot's threads. */
export function sizeFindings({ pivot, stacks }: Joint): Finding[] {
  return stacks.flatMap(({ stack, thread, axle, receiver }): Finding[] => {
    const about = { pivot: pivot.id, stack: stack.id };
    const ends: readonly (readonly [JointItem, Thread])[] = [
      [axle, thread.axle],
      [receiver, thread.receiver],
    ];
    return [
      ...ends.flatMap(([item, own]) => seriesFindings(item, own).map((found) => ({ ...about, ...found }))),
      ...boreFindings(receiver).map((found) => ({ ...about, ...found })),
    ];
  });
}

function seriesFindings(item: JointItem, { size_mm, pitch_mm }: Thread): Omit<Finding, 'pivot' | 'stack'>[] {
  const near = nearestThread({ size_mm, pitch_mm });
  if (near.size_mm === size_mm && near.pitch_mm === pitch_mm) return [];
  const isSize = near.size_mm !== size_mm;
  return [
    {
      code: 'size-doubtful',
      severity: 'warn',
      parts: [item.id],
      numbers: { threadSize_mm: mm(size_mm), threadPitch_mm: mm(pitch_mm) },
      limit: { ...mm(isSize ? near.size_mm : near.pitch_mm), source: 'ISO 261, from memory' },
      about: { what: isSize ? 'size' : 'pitch' },
    },
  ];
}

/** A drilled hole of its thread's own size is how a model may draw it; further off it is mistaken. */
function boreFindings(receiver: JointItem): Omit<Finding, 'pivot' | 'stack'>[] {
  const bore = receiver.boss;
  if (!bore?.thread) return [];
  const { size_mm, length_mm } = bore.thread;
  const { minorDiameter_mm } = metricThread(bore.thread);
  const isThrough = length_mm >= bore.z_to_mm - bore.z_from_mm - LIMITS.home_mm.value;
  const isWide = bore.bore_mm > size_mm + LIMITS.threadBore_mm.value;
  const isNarrow = isThrough && bore.bore_mm < minorDiameter_mm - LIMITS.threadBore_mm.value;
  if (!isWide && !isNarrow) return [];
  return [
    {
      code: 'size-doubtful',
      severity: 'warn',
      parts: [receiver.id],
      numbers: { bore_mm: mm(bore.bore_mm), threadSize_mm: mm(size_mm) },
      limit: { ...mm(isWide ? size_mm : minorDiameter_mm), source: `ISO 724; ${LIMITS.threadBore_mm.source}` },
      about: { what: isWide ? 'bore-wide' : 'bore-narrow' },
    },
  ];
}
