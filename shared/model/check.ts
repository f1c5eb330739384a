/**
 * The rules of the format that tie one place of a file to another: names that must exist, sizes that must fit inside
 * one part, and rows that must run the way they say. What is merely a bad build (a ring on the wrong side, a nut that
 * does not fit the axle) is no problem of the file: the fit check finds it.
 */
import { findBearing, suggestBearing } from '../standards/bearings.ts';
import { nearestName, showValue, type Problem, type ProblemCode } from './problems.ts';
import { entryOf, resolveBearing, seatsOf } from './resolve.ts';
import type { LinkageModel, Member, Part, PartKind, Stack, Variant } from './schema.ts';
import { applyVariant } from './variant.ts';

const AXLE_KINDS: readonly PartKind[] = ['axle', 'bolt', 'screw', 'sleeve'];
const RECEIVER_KINDS: readonly PartKind[] = ['nut', 'screw', 'bolt'];
const ROW_KINDS: readonly PartKind[] = ['spacer', 'washer', 'tapered-spacer', 'end-cap', 'bearing'];
/** Row ids that name the axle and what receives it. */
const RESERVED = ['axle', 'receiver'];
/** Two rings and the balls between them need at least this much between bore and outside, mm: a bound against slips. */
const LEAST_SECTION_mm = 1;

/** All problems of a file that the schema let through; empty when it can be analysed. */
export function checkModel(model: LinkageModel): Problem[] {
  const found = checkBase(model);
  (model.variants ?? []).forEach((variant, k) => {
    const at = `variants[${k}]`;
    const stackIds = model.pivots.flatMap((pivot) => pivot.stacks.map((stack) => stack.id));
    for (const id of Object.keys(variant.stacks)) {
      if (!stackIds.includes(id)) found.push(noSuch('no-such-stack', `${at}.stacks.${id}`, id, stackIds));
    }
    const base = new Set(found.map((problem) => `${problem.code} ${problem.path}`));
    for (const problem of checkBase(applyVariant(model, variant))) {
      if (!base.has(`${problem.code} ${problem.path}`))
        found.push({ ...problem, path: pathInVariant(model, variant, at, problem.path) });
    }
  });
  found.push(
    ...duplicates(
      (model.variants ?? []).map((variant) => variant.id),
      (k) => `variants[${k}].id`,
    ),
  );
  return found;
}

/** Where the file says what a variant gets wrong: in the variant itself, or, for what it breaks elsewhere, beside its name. */
function pathInVariant(model: LinkageModel, variant: Variant, at: string, path: string): string {
  const stacks = model.pivots.flatMap((pivot, p) =>
    pivot.stacks.map((stack, s) => ({ id: stack.id, path: `pivots[${p}].stacks[${s}].` })),
  );
  const stack = stacks.find((candidate) => path.startsWith(candidate.path));
  if (stack) {
    const rest = path.slice(stack.path.length);
    if (Object.hasOwn(entryOf(variant.stacks, stack.id) ?? {}, rest.split(/[.[]/)[0]!))
      return `${at}.stacks.${stack.id}.${rest}`;
  }
  const part = path.startsWith('parts.') ? path.split('.')[1] : undefined;
  return entryOf(variant.parts, part) ? `${at}.${path}` : `${at}: ${path}`;
}

function checkBase(model: LinkageModel): Problem[] {
  const found: Problem[] = [];
  for (const [id, part] of Object.entries(model.parts)) found.push(...checkPart(part, `parts.${id}`));
  for (const [id, member] of Object.entries(model.members)) found.push(...checkMember(model, id, member));
  found.push(
    ...duplicates(
      model.pivots.map((pivot) => pivot.id),
      (k) => `pivots[${k}].id`,
    ),
  );
  const stacks = model.pivots.flatMap((pivot, p) =>
    pivot.stacks.map((stack, s) => ({ stack, path: `pivots[${p}].stacks[${s}]` })),
  );
  found.push(
    ...duplicates(
      stacks.map(({ stack }) => stack.id),
      (k) => `${stacks[k]!.path}.id`,
    ),
  );
  for (const { stack, path } of stacks) found.push(...checkStack(model, stack, path));
  found.push(...checkBoreUse(model));
  if (model.order)
    found.push(
      ...checkOrder(
        model.order,
        stacks.map(({ stack }) => stack.id),
      ),
    );
  found.push(...checkWhole(model));
  return found;
}

function problem(code: ProblemCode, path: string, met: unknown, allowed: string, suggestion?: string): Problem {
  return { code, path, met: showValue(met), allowed, ...(suggestion === undefined ? {} : { suggestion }) };
}

function noSuch(code: ProblemCode, path: string, met: string, known: readonly string[]): Problem {
  return problem(
    code,
    path,
    met,
    known.length > 0 ? known.slice(0, 24).join(', ') : 'nothing is defined here',
    nearestName(met, known),
  );
}

function duplicates(ids: readonly string[], pathOf: (k: number) => string): Problem[] {
  const seen = new Map<string, number>();
  const found: Problem[] = [];
  ids.forEach((id, k) => {
    const first = seen.get(id);
    if (first === undefined) seen.set(id, k);
    else found.push(problem('duplicate-id', pathOf(k), id, `an id that is not already used at ${pathOf(first)}`));
  });
  return found;
}

/** Refuse `larger ≤ smaller` inside one part. */
function within(path: string, smaller: [string, number], larger: [string, number]): Problem[] {
  return larger[1] > smaller[1]
    ? []
    : [problem('impossible-size', `${path}.${larger[0]}`, larger[1], `more than ${smaller[0]} (${smaller[1]})`)];
}

function noMore(path: string, key: string, value: number, limit: number, what: string): Problem[] {
  return value <= limit + 1e-9
    ? []
    : [problem('impossible-size', `${path}.${key}`, value, `at most ${limit} (${what})`)];
}

function checkPart(part: Part, path: string): Problem[] {
  switch (part.kind) {
    case 'spacer':
    case 'washer': {
      const wall = Math.min((part.outside_mm - part.bore_mm) / 2, part.length_mm);
      return [
        ...within(path, ['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
        ...noMore(path, 'chamfer_mm', part.chamfer_mm ?? 0, Math.max(0, wall / 2), 'half the wall'),
      ];
    }
    case 'tapered-spacer':
      return [
        ...within(path, ['bore_mm', part.bore_mm], ['small_mm', part.small_mm]),
        ...within(path, ['small_mm', part.small_mm], ['large_mm', part.large_mm]),
        ...noMore(
          path,
          'small_land_mm',
          (part.small_land_mm ?? 0) + (part.large_land_mm ?? 0),
          part.length_mm,
          'both lands within length_mm',
        ),
      ];
    case 'end-cap':
      return [
        ...within(path, ['bore_mm', part.bore_mm], ['land_mm', part.land_mm]),
        ...within(path, ['land_mm', part.land_mm], ['outside_mm', part.outside_mm]),
        ...within(path, ['land_height_mm', part.land_height_mm], ['length_mm', part.length_mm]),
      ];
    case 'nut':
      return [
        ...within(path, ['thread.size_mm', part.thread.size_mm], ['outside_mm', part.outside_mm]),
        ...noMore(path, 'thread.length_mm', part.thread.length_mm, part.length_mm, 'length_mm'),
        ...checkLand(path, part.land_mm, part.land_height_mm, part.thread.size_mm, part.outside_mm, part.length_mm),
      ];
    case 'bearing':
      return checkBearing(part, path);
    default:
      return checkShanked(part, path);
  }
}

function checkLand(
  path: string,
  land?: number,
  height?: number,
  inside = 0,
  outside = Infinity,
  length = Infinity,
): Problem[] {
  if (land === undefined && height === undefined) return [];
  if (land === undefined || height === undefined) {
    const key = land === undefined ? 'land_mm' : 'land_height_mm';
    return [problem('missing', `${path}.${key}`, undefined, 'land_mm and land_height_mm together, or neither')];
  }
  return [
    ...within(path, ['the hole under it', inside], ['land_mm', land]),
    ...noMore(path, 'land_mm', land, outside, 'the flange'),
    ...noMore(path, 'land_height_mm', height, length, 'the whole length'),
  ];
}

function checkShanked(part: Extract<Part, { kind: 'axle' | 'bolt' | 'screw' | 'sleeve' }>, path: string): Problem[] {
  const length = part.shank.reduce((sum, cylinder) => sum + cylinder.length_mm, 0);
  const thinnest = Math.min(...part.shank.map((cylinder) => cylinder.diameter_mm));
  const first = part.shank[0]!.diameter_mm;
  const tip = part.shank.at(-1)!.diameter_mm;
  const inner = part.kind === 'sleeve';
  const found = [
    ...within(path, ['shank[0].diameter_mm', first], ['head.diameter_mm', part.head.diameter_mm]),
    ...checkLand(`${path}.head`, part.head.land_mm, part.head.land_height_mm, first, part.head.diameter_mm),
    ...noMore(path, 'thread.length_mm', part.thread.length_mm, length, 'the shank'),
    ...within(path, ['thread.pitch_mm × 2', 2 * part.thread.pitch_mm], ['thread.size_mm', part.thread.size_mm]),
  ];
  if (part.bore_mm !== undefined) {
    const limit = inner ? thinnest : Math.min(thinnest, part.thread.size_mm - 1.227 * part.thread.pitch_mm);
    if (part.bore_mm >= limit)
      found.push(
        problem(
          'impossible-size',
          `${path}.bore_mm`,
          part.bore_mm,
          `less than ${Math.round(limit * 1000) / 1000} (${inner ? 'the thinnest of the shank' : 'the thinnest of the shank and of the thread’s root'})`,
        ),
      );
    if (inner) found.push(...noMore(path, 'bore_mm', part.bore_mm, part.thread.size_mm, 'the thread it ends in'));
  }
  if (inner) found.push(...checkTube(part, length, path));
  else if (Math.abs(tip - part.thread.size_mm) > 0.35) {
    found.push(
      problem(
        'impossible-size',
        `${path}.shank[${part.shank.length - 1}].diameter_mm`,
        tip,
        `the thread's size_mm (${part.thread.size_mm}) within 0.35`,
      ),
    );
  }
  return found;
}

/** Every cylinder that an inner thread runs under must be thicker than the thread. */
function checkTube(part: Extract<Part, { kind: 'sleeve' }>, length: number, path: string): Problem[] {
  let end = 0;
  return part.shank.flatMap((cylinder, k) => {
    end += cylinder.length_mm;
    const isOverThread = end > length - part.thread.length_mm - 1e-9;
    return isOverThread
      ? within(path, ['thread.size_mm', part.thread.size_mm], [`shank[${k}].diameter_mm`, cylinder.diameter_mm])
      : [];
  });
}

function checkBearing(part: Extract<Part, { kind: 'bearing' }>, path: string): Problem[] {
  const row = part.designation === undefined ? undefined : findBearing(part.designation);
  if (part.designation !== undefined && !row) {
    return [
      problem(
        'bearing-unknown',
        `${path}.designation`,
        part.designation,
        'a designation of the bearing table, or bore_mm, outside_mm and width_mm alone',
        suggestBearing(part.designation),
      ),
    ];
  }
  const found: Problem[] = [];
  for (const key of ['bore_mm', 'outside_mm', 'width_mm'] as const) {
    const given = part[key];
    if (given === undefined && !row)
      found.push(problem('missing', `${path}.${key}`, undefined, 'a number in mm, or a designation'));
    else if (given !== undefined && row && Math.abs(given - row[key]) > 1e-6) {
      found.push(
        problem('bearing-contradicts', `${path}.${key}`, given, `${row[key]} (as ${row.designation} in the table)`),
      );
    }
  }
  const bore = part.bore_mm ?? row?.bore_mm;
  const outside = part.outside_mm ?? row?.outside_mm;
  if (bore === undefined || outside === undefined) return found;
  found.push(...within(path, [`bore_mm + ${LEAST_SECTION_mm}`, bore + LEAST_SECTION_mm], ['outside_mm', outside]));
  if (part.inner_shoulder_mm !== undefined)
    found.push(...within(path, ['bore_mm', bore], ['inner_shoulder_mm', part.inner_shoulder_mm]));
  if (part.outer_shoulder_mm !== undefined)
    found.push(...noMore(path, 'outer_shoulder_mm', part.outer_shoulder_mm, outside, 'outside_mm'));
  if (found.length > 0) return found;
  // A shoulder may be given beside one from the table or the estimate: the two must still leave room for a seal.
  const { innerShoulder_mm, outerShoulder_mm } = resolveBearing(part);
  const given = part.outer_shoulder_mm === undefined ? 'inner_shoulder_mm' : 'outer_shoulder_mm';
  if (innerShoulder_mm < outerShoulder_mm) return [];
  return given === 'outer_shoulder_mm'
    ? within(path, ['inner_shoulder_mm', innerShoulder_mm], [given, outerShoulder_mm])
    : [
        problem(
          'impossible-size',
          `${path}.${given}`,
          innerShoulder_mm,
          `less than outer_shoulder_mm (${outerShoulder_mm})`,
        ),
      ];
}

function checkMember(model: LinkageModel, id: string, member: Member): Problem[] {
  const found: Problem[] = [];
  const path = `members.${id}`;
  const places = [...Object.keys(member.bores), ...Object.keys(member.points ?? {})];
  for (const [boreId, bore] of Object.entries(member.bores)) {
    const at = `${path}.bores.${boreId}`;
    const width = bore.z_to_mm - bore.z_from_mm;
    found.push(...within(at, ['z_from_mm', bore.z_from_mm], ['z_to_mm', bore.z_to_mm]));
    found.push(...within(at, ['bore_mm', bore.bore_mm], ['boss_mm', bore.boss_mm]));
    (bore.seats ?? []).forEach((seat, k) => {
      found.push(...within(`${at}.seats[${k}]`, ['bore_mm', bore.bore_mm], ['diameter_mm', seat.diameter_mm]));
      found.push(...within(at, ['the seat', seat.diameter_mm], ['boss_mm', bore.boss_mm]));
    });
    const depth = (bore.seats ?? []).reduce((sum, seat) => sum + seat.depth_mm, 0);
    if (depth >= width && width > 0 && (bore.seats?.length ?? 0) > 0) {
      found.push(
        problem(
          'impossible-size',
          `${at}.seats`,
          depth,
          `depths of all seats together less than the boss’s width (${width}), so that a shoulder is left`,
        ),
      );
    }
    if (bore.seats?.length === 2 && bore.seats[0]!.side === bore.seats[1]!.side) {
      found.push(problem('row-contradicts', `${at}.seats`, bore.seats[0]!.side, 'one seat a side'));
    }
    if (bore.thread) found.push(...noMore(at, 'thread.length_mm', bore.thread.length_mm, width, 'the boss’s width'));
    if (bore.thread) found.push(...within(at, ['thread.size_mm', bore.thread.size_mm], ['boss_mm', bore.boss_mm]));
    if ((bore.x_mm === undefined || bore.y_mm === undefined) && !isOnPivot(model, id, boreId)) {
      found.push(problem('place-missing', at, undefined, 'x_mm and y_mm, or a row that names this bore'));
    }
  }
  (member.webs ?? []).forEach((web, k) => {
    for (const end of ['from', 'to'] as const) {
      if (!places.includes(web[end]))
        found.push(noSuch('no-such-point', `${path}.webs[${k}].${end}`, web[end], places));
    }
  });
  return found;
}

/** Whether a row or receiver of the model places this bore. */
function isOnPivot(model: LinkageModel, memberId: string, boreId: string): boolean {
  return model.pivots.some((pivot) =>
    pivot.stacks.some(
      (stack) =>
        stack.receiver === `${memberId}/${boreId}` ||
        stack.row.some((entry) => entry.member === memberId && entry.bore === boreId),
    ),
  );
}

function checkStack(model: LinkageModel, stack: Stack, path: string): Problem[] {
  const found: Problem[] = [];
  const partIds = Object.keys(model.parts);
  const axle = entryOf(model.parts, stack.axle);
  if (!axle) found.push(noSuch('no-such-part', `${path}.axle`, stack.axle, partIds));
  else if (!AXLE_KINDS.includes(axle.kind))
    found.push(problem('wrong-kind', `${path}.axle`, axle.kind, `a part of kind ${AXLE_KINDS.join(', ')}`));
  found.push(...checkReceiver(model, stack, axle, path));
  found.push(
    ...duplicates(
      stack.row.map((entry) => entry.id),
      (k) => `${path}.row[${k}].id`,
    ),
  );
  stack.row.forEach((entry, k) => found.push(...checkEntry(model, stack, k, `${path}.row[${k}]`)));
  const bores = stack.row.flatMap((entry, k) => {
    const bore = entryOf(entryOf(model.members, entry.member)?.bores, entry.bore);
    return bore ? [{ k, z: (bore.z_from_mm + bore.z_to_mm) / 2 }] : [];
  });
  bores.slice(1).forEach((bore, k) => {
    if (bore.z <= bores[k]!.z)
      found.push(
        problem(
          'row-contradicts',
          `${path}.row[${bore.k}]`,
          `z ${bore.z} mm`,
          `more than ${bores[k]!.z} mm: a row runs from the non-drive to the drive side`,
        ),
      );
  });
  if (stack.turned === 'receiver' && stack.receiver.includes('/')) {
    found.push(
      problem(
        'row-contradicts',
        `${path}.turned`,
        stack.turned,
        'head or tip: the thread is in a member, which no wrench turns',
      ),
    );
  } else if (!stack.drives[stack.turned]) {
    found.push(
      problem('drive-missing', `${path}.drives.${stack.turned}`, undefined, 'the tool and size at the end that turns'),
    );
  }
  return found;
}

function checkReceiver(model: LinkageModel, stack: Stack, axle: Part | undefined, path: string): Problem[] {
  const at = `${path}.receiver`;
  const [memberId, boreId, ...more] = stack.receiver.split('/');
  if (boreId !== undefined && memberId !== undefined) {
    if (more.length > 0)
      return [problem('row-contradicts', at, stack.receiver, 'a part, or member/bore with one slash between them')];
    const member = entryOf(model.members, memberId);
    if (!member) return [noSuch('no-such-member', at, memberId, Object.keys(model.members))];
    const bore = entryOf(member.bores, boreId);
    if (!bore) return [noSuch('no-such-bore', at, boreId, Object.keys(member.bores))];
    if (!bore.thread) return [problem('wrong-kind', at, stack.receiver, 'a bore with a thread')];
    if (axle?.kind === 'sleeve')
      return [problem('wrong-kind', at, stack.receiver, 'a screw: a sleeve has its thread inside')];
    return stack.row.some((entry) => entry.member === memberId && entry.bore === boreId)
      ? [problem('row-contradicts', at, stack.receiver, 'a bore that the row does not name as well')]
      : [];
  }
  const part = entryOf(model.parts, stack.receiver);
  if (!part) {
    const bores = Object.entries(model.members).flatMap(([m, member]) =>
      Object.keys(member.bores).map((b) => `${m}/${b}`),
    );
    return [noSuch('no-such-part', at, stack.receiver, [...Object.keys(model.parts), ...bores])];
  }
  if (!RECEIVER_KINDS.includes(part.kind))
    return [problem('wrong-kind', at, part.kind, `a part of kind ${RECEIVER_KINDS.join(', ')}, or member/bore`)];
  const outer = part.kind !== 'nut';
  if (axle && AXLE_KINDS.includes(axle.kind) && outer !== (axle.kind === 'sleeve')) {
    return [
      problem(
        'wrong-kind',
        at,
        part.kind,
        axle.kind === 'sleeve' ? 'a screw or bolt, whose thread goes into the sleeve' : 'a nut or a threaded bore',
      ),
    ];
  }
  return [];
}

function checkEntry(model: LinkageModel, stack: Stack, k: number, at: string): Problem[] {
  const entry = stack.row[k]!;
  const found: Problem[] = [];
  if (RESERVED.includes(entry.id))
    found.push(problem('duplicate-id', `${at}.id`, entry.id, 'any id but axle and receiver'));
  const namesPart = entry.part !== undefined;
  const namesBore = entry.member !== undefined || entry.bore !== undefined;
  if (namesPart === namesBore)
    return [...found, problem('row-contradicts', at, entry.id, 'either part, or member and bore')];
  if (namesBore) {
    if (entry.turned !== undefined)
      found.push(problem('unknown-key', `${at}.turned`, entry.turned, 'only beside part'));
    if (entry.greased !== undefined)
      found.push(problem('unknown-key', `${at}.greased`, entry.greased, 'only beside part'));
    if (entry.proud_mm !== undefined)
      found.push(problem('unknown-key', `${at}.proud_mm`, entry.proud_mm, 'only beside a bearing'));
    if (entry.member === undefined || entry.bore === undefined)
      return [...found, problem('missing', at, entry.id, 'member and bore together')];
    const member = entryOf(model.members, entry.member);
    if (!member) return [...found, noSuch('no-such-member', `${at}.member`, entry.member, Object.keys(model.members))];
    if (!entryOf(member.bores, entry.bore))
      found.push(noSuch('no-such-bore', `${at}.bore`, entry.bore, Object.keys(member.bores)));
    return found;
  }
  const part = entryOf(model.parts, entry.part);
  if (!part) return [...found, noSuch('no-such-part', `${at}.part`, entry.part!, Object.keys(model.parts))];
  if (!ROW_KINDS.includes(part.kind))
    return [...found, problem('wrong-kind', `${at}.part`, part.kind, `a part of kind ${ROW_KINDS.join(', ')}`)];
  if (part.kind !== 'bearing' && entry.proud_mm !== undefined)
    found.push(problem('unknown-key', `${at}.proud_mm`, entry.proud_mm, 'only beside a bearing'));
  if (part.kind === 'bearing' && !seatsOf(model, stack).has(k)) {
    found.push(
      problem(
        'seat-missing',
        at,
        entry.id,
        'next to a bore with a free seat on that side: before it for a non-drive seat, after it for a drive seat',
      ),
    );
  }
  return found;
}

function checkBoreUse(model: LinkageModel): Problem[] {
  const used = new Map<string, string>();
  const found: Problem[] = [];
  model.pivots.forEach((pivot, p) =>
    pivot.stacks.forEach((stack, s) => {
      const names = stack.row.flatMap((entry, k) =>
        entry.member && entry.bore ? [{ name: `${entry.member}/${entry.bore}`, at: `row[${k}]` }] : [],
      );
      if (stack.receiver.includes('/')) names.push({ name: stack.receiver, at: 'receiver' });
      for (const { name, at } of names) {
        const path = `pivots[${p}].stacks[${s}].${at}`;
        const first = used.get(name);
        if (first === undefined) used.set(name, path);
        else
          found.push(problem('row-contradicts', path, name, `a bore that no other row holds (it stands at ${first})`));
      }
    }),
  );
  return found;
}

function checkOrder(order: readonly string[], stackIds: readonly string[]): Problem[] {
  const found = duplicates(order, (k) => `order[${k}]`);
  order.forEach((id, k) => {
    if (!stackIds.includes(id)) found.push(noSuch('no-such-stack', `order[${k}]`, id, stackIds));
  });
  for (const id of stackIds) {
    if (!order.includes(id)) found.push(problem('missing', 'order', undefined, `every stack once; ${id} is not in it`));
  }
  return found;
}

function checkWhole(model: LinkageModel): Problem[] {
  const found: Problem[] = [];
  const members = Object.keys(model.members);
  if (model.shock) {
    for (const key of ['body', 'shaft'] as const) {
      if (!members.includes(model.shock[key]))
        found.push(noSuch('no-such-member', `shock.${key}`, model.shock[key], members));
    }
  }
  if (model.wheel) {
    const member = entryOf(model.members, model.wheel.member);
    const points = Object.keys(member?.points ?? {});
    if (!member) found.push(noSuch('no-such-member', 'wheel.member', model.wheel.member, members));
    else if (!points.includes(model.wheel.point))
      found.push(noSuch('no-such-point', 'wheel.point', model.wheel.point, points));
  }
  (model.obstacles ?? []).forEach((obstacle, k) =>
    found.push(...within(`obstacles[${k}]`, ['z_from_mm', obstacle.z_from_mm], ['z_to_mm', obstacle.z_to_mm])),
  );
  found.push(
    ...duplicates(
      (model.obstacles ?? []).map((obstacle) => obstacle.id),
      (k) => `obstacles[${k}].id`,
    ),
  );
  return found;
}
