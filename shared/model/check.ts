/**
 * The rules of the format that tie one place of a file to another: names that must exist, sizes that must fit inside
 * one part, and rows that must run the way they say. What is merely a bad build (a spacer on the wrong side, a nut that
 * does not fit the axle) is no problem of the file: the fit check finds it.
 */
import { noMore, within, type Contradiction } from '../parts/contradictions.ts';
import { kindOf, kindsFor, stands, type Part } from '../parts/kinds.ts';
import type { Shanked } from '../parts/shanked.ts';
import { MOST_PROBLEMS, nearestName, showValue, type Problem, type ProblemCode, type Problems } from './problems.ts';
import { clippedAt, entryOf, isAtTip, linedAt, seatsOf } from './resolve.ts';
import type { RowEntry, LinkageModel, Member, Stack, Variant } from './schema.ts';
import { applyVariant } from './variant.ts';

/** Row ids that name the axle and what receives it. */
const RESERVED = ['axle', 'receiver'];

/**
 * A problem whose list of names and nearest name are looked for only if it is told: a file may have tens of thousands.
 */
interface Found extends Problem {
  readonly near?: { readonly met: string; readonly known: () => readonly string[] };
}

/** Names of a list that a problem shows. */
const NAMES_SHOWN = 24;

/**
 * The problems of a file that the schema let through; none when it can be analysed. Variants are looked at while there
 * is room to tell of them. Told as data, never thrown. About 10 ms a bike.
 */
export function checkModel(model: LinkageModel): Problems {
  const found = checkAll(model);
  return {
    problems: found.slice(0, MOST_PROBLEMS).map(asTold),
    more: Math.max(0, found.length - MOST_PROBLEMS),
  };
}

function asTold({ near, ...found }: Found): Problem {
  if (!near) return found;
  const known = near.known();
  const suggestion = nearestName(near.met, known);
  return {
    ...found,
    allowed: known.length > 0 ? known.slice(0, NAMES_SHOWN).join(', ') : 'nothing is defined here',
    ...(suggestion === undefined ? {} : { suggestion }),
  };
}

function checkAll(model: LinkageModel): Found[] {
  const found = checkBase(model);
  const stackIds = model.pivots.flatMap((pivot) => pivot.stacks.map((stack) => stack.id));
  const known = new Set(stackIds);
  (model.variants ?? []).forEach((variant, k) => {
    if (found.length > MOST_PROBLEMS) return;
    const at = `variants[${k}]`;
    for (const id of Object.keys(variant.stacks)) {
      if (!known.has(id)) found.push(noSuch('no-such-stack', `${at}.stacks.${id}`, id, () => stackIds));
    }
    for (const [id, bores] of Object.entries(variant.bores ?? {})) {
      const member = entryOf(model.members, id);
      if (!member) found.push(noSuch('no-such-member', `${at}.bores.${id}`, id, () => Object.keys(model.members)));
      else
        for (const bore of Object.keys(bores))
          if (!Object.hasOwn(member.bores, bore))
            found.push(noSuch('no-such-bore', `${at}.bores.${id}.${bore}`, bore, () => Object.keys(member.bores)));
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

/**
 * Where the file says what a variant gets wrong: in the variant itself, or, for what it breaks elsewhere, beside its
 * name.
 */
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
  const [where, member, , bore, ...inBore] = path.split('.');
  if (where === 'members' && bore !== undefined && entryOf(entryOf(variant.bores, member), bore))
    return [`${at}.bores.${member}.${bore}`, ...inBore].join('.');
  const part = path.startsWith('parts.') ? path.split('.')[1] : undefined;
  return entryOf(variant.parts, part) ? `${at}.${path}` : `${at}: ${path}`;
}

function checkBase(model: LinkageModel): Found[] {
  const found: Found[] = [];
  for (const [id, part] of Object.entries(model.parts)) found.push(...told(`parts.${id}`, kindOf(part).check(part)));
  const onPivots = boresOnPivots(model);
  for (const [id, member] of Object.entries(model.members)) found.push(...checkMember(onPivots, id, member));
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

function noSuch(code: ProblemCode, path: string, met: string, known: () => readonly string[]): Found {
  return { ...problem(code, path, met, ''), near: { met, known } };
}

function duplicates(ids: readonly string[], pathOf: (k: number) => string): Found[] {
  const seen = new Map<string, number>();
  const found: Found[] = [];
  ids.forEach((id, k) => {
    const first = seen.get(id);
    if (first === undefined) seen.set(id, k);
    else found.push(problem('duplicate-id', pathOf(k), id, `an id that is not already used at ${pathOf(first)}`));
  });
  return found;
}

/** What contradicts itself in one thing, as problems of the file. */
function told(path: string, found: readonly Contradiction[]): Found[] {
  return found.map(({ code, key, met, allowed, suggestion }) =>
    problem(code, `${path}.${key}`, met, allowed, suggestion),
  );
}

function checkMember(onPivots: ReadonlySet<string>, id: string, member: Member): Found[] {
  const found: Found[] = [];
  const path = `members.${id}`;
  const places = [...Object.keys(member.bores), ...Object.keys(member.points ?? {})];
  for (const [boreId, bore] of Object.entries(member.bores)) {
    const at = `${path}.bores.${boreId}`;
    const width = bore.z_to_mm - bore.z_from_mm;
    found.push(...told(at, within(['z_from_mm', bore.z_from_mm], ['z_to_mm', bore.z_to_mm])));
    found.push(...told(at, within(['bore_mm', bore.bore_mm], ['boss_mm', bore.boss_mm])));
    (bore.seats ?? []).forEach((seat, k) => {
      found.push(...told(`${at}.seats[${k}]`, within(['bore_mm', bore.bore_mm], ['diameter_mm', seat.diameter_mm])));
      found.push(...told(at, within(['the seat', seat.diameter_mm], ['boss_mm', bore.boss_mm])));
      if (seat.groove) {
        const { diameter_mm, margin_mm, width_mm } = seat.groove;
        found.push(
          ...told(`${at}.seats[${k}].groove`, within(['the seat', seat.diameter_mm], ['diameter_mm', diameter_mm])),
          ...told(at, within(['the groove', diameter_mm], ['boss_mm', bore.boss_mm])),
          ...told(
            `${at}.seats[${k}].groove`,
            noMore(['width_mm', width_mm], seat.depth_mm - margin_mm, 'what the seat leaves'),
          ),
        );
      }
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
    if (bore.slot_mm !== undefined)
      found.push(...told(at, noMore(['slot_mm', bore.slot_mm], bore.bore_mm / 2, 'half the bore')));
    if (bore.thread)
      found.push(...told(at, noMore(['thread.length_mm', bore.thread.length_mm], width, 'the boss’s width')));
    if (bore.thread)
      found.push(...told(at, within(['thread.size_mm', bore.thread.size_mm], ['boss_mm', bore.boss_mm])));
    if (bore.thread?.sleeve) {
      const outside = ['thread.sleeve.outside_mm', bore.thread.sleeve.outside_mm] as const;
      found.push(...told(at, within(['thread.size_mm', bore.thread.size_mm], outside)));
      found.push(...told(at, within(outside, ['boss_mm', bore.boss_mm])));
    }
    if ((bore.x_mm === undefined || bore.y_mm === undefined) && !onPivots.has(`${id}/${boreId}`)) {
      found.push(problem('place-missing', at, undefined, 'x_mm and y_mm, or a row that names this bore'));
    }
  }
  (member.webs ?? []).forEach((web, k) => {
    for (const end of ['from', 'to'] as const) {
      if (!places.includes(web[end]))
        found.push(noSuch('no-such-point', `${path}.webs[${k}].${end}`, web[end], () => places));
    }
  });
  return found;
}

/** The bores that a row or receiver of the model places, as `member/bore`. */
function boresOnPivots(model: LinkageModel): ReadonlySet<string> {
  return new Set(
    model.pivots.flatMap((pivot) =>
      pivot.stacks.flatMap((stack) => [stack.receiver, ...stack.row.map((entry) => `${entry.member}/${entry.bore}`)]),
    ),
  );
}

function checkStack(model: LinkageModel, stack: Stack, path: string): Found[] {
  const found: Found[] = [];
  const axle = entryOf(model.parts, stack.axle);
  if (!axle) found.push(noSuch('no-such-part', `${path}.axle`, stack.axle, () => Object.keys(model.parts)));
  else if (!stands(axle, 'axle'))
    found.push(problem('wrong-kind', `${path}.axle`, axle.kind, `a part of kind ${kindsFor('axle').join(', ')}`));
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

function checkReceiver(model: LinkageModel, stack: Stack, axle: Part | undefined, path: string): Found[] {
  const at = `${path}.receiver`;
  const [memberId, boreId, ...more] = stack.receiver.split('/');
  if (boreId !== undefined && memberId !== undefined) {
    if (more.length > 0)
      return [problem('row-contradicts', at, stack.receiver, 'a part, or member/bore with one slash between them')];
    const member = entryOf(model.members, memberId);
    if (!member) return [noSuch('no-such-member', at, memberId, () => Object.keys(model.members))];
    const bore = entryOf(member.bores, boreId);
    if (!bore) return [noSuch('no-such-bore', at, boreId, () => Object.keys(member.bores))];
    if (!bore.thread) return [problem('wrong-kind', at, stack.receiver, 'a bore with a thread')];
    if (bore.slot_mm !== undefined)
      return [
        problem('wrong-kind', at, stack.receiver, 'a bore without a slot: a pinch bolt closes a boss of the row'),
      ];
    if (axle && kindOf(axle).thread === 'inner')
      return [problem('wrong-kind', at, stack.receiver, 'a screw: a sleeve has its thread inside')];
    return stack.row.some((entry) => entry.member === memberId && entry.bore === boreId)
      ? [problem('row-contradicts', at, stack.receiver, 'a bore that the row does not name as well')]
      : [];
  }
  const part = entryOf(model.parts, stack.receiver);
  if (!part) {
    const bores = (): string[] =>
      Object.entries(model.members).flatMap(([m, member]) => Object.keys(member.bores).map((b) => `${m}/${b}`));
    return [noSuch('no-such-part', at, stack.receiver, () => [...Object.keys(model.parts), ...bores()])];
  }
  if (!stands(part, 'receiver')) {
    const allowed = [...kindsFor('receiver')].reverse().join(', ');
    return [problem('wrong-kind', at, part.kind, `a part of kind ${allowed}, or member/bore`)];
  }
  // A thread goes into the other half of one.
  if (axle && stands(axle, 'axle') && kindOf(axle).thread === kindOf(part).thread) {
    const allowed =
      kindOf(axle).thread === 'inner'
        ? 'a screw or bolt, whose thread goes into the sleeve'
        : 'a nut or a threaded bore';
    return [problem('wrong-kind', at, part.kind, allowed)];
  }
  return [];
}

/** What is tightened by itself says its torque and tool, and nothing else does. */
function checkTightened(entry: RowEntry, at: string, what: string | undefined): Found[] {
  return (['torque_Nm', 'drive'] as const).flatMap((key) => {
    if (what !== undefined && entry[key] === undefined) {
      const code = key === 'drive' ? 'drive-missing' : 'missing';
      return [problem(code, `${at}.${key}`, undefined, `what tightens ${what}`)];
    }
    return what === undefined && entry[key] !== undefined
      ? [
          problem(
            'unknown-key',
            `${at}.${key}`,
            entry[key],
            'only beside a slotted boss, or what is tightened on the tip',
          ),
        ]
      : [];
  });
}

function checkEntry(model: LinkageModel, stack: Stack, k: number, at: string): Found[] {
  const entry = stack.row[k]!;
  const found: Found[] = [];
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
    if (!member)
      return [...found, noSuch('no-such-member', `${at}.member`, entry.member, () => Object.keys(model.members))];
    const bore = entryOf(member.bores, entry.bore);
    if (!bore) found.push(noSuch('no-such-bore', `${at}.bore`, entry.bore, () => Object.keys(member.bores)));
    return [...found, ...checkTightened(entry, at, bore?.slot_mm === undefined ? undefined : 'its pinch bolt')];
  }
  const part = entryOf(model.parts, entry.part);
  if (!part) return [...found, noSuch('no-such-part', `${at}.part`, entry.part!, () => Object.keys(model.parts))];
  const isSeated = stands(part, 'seat');
  const isOnTip = isAtTip(model, stack, k);
  if (!isOnTip && !stands(part, 'loose', 'seat', 'groove', 'bore')) {
    const inRow = kindsFor('loose', 'seat', 'groove', 'bore').join(', ');
    const atTip = kindsFor('tip').join(', ');
    const allowed = `a part of kind ${inRow}; at the end where the axle is received also ${atTip}`;
    return [...found, problem('wrong-kind', `${at}.part`, part.kind, allowed)];
  }
  if (!isSeated && entry.proud_mm !== undefined)
    found.push(problem('unknown-key', `${at}.proud_mm`, entry.proud_mm, 'only beside a bearing'));
  if (stands(part, 'bore') && linedAt(stack, k) === undefined)
    found.push(problem('seat-missing', at, entry.id, 'next to the bore it is pressed into'));
  const isTightened = isOnTip && kindOf(part).secures !== undefined;
  found.push(...checkTightened(entry, at, isTightened ? 'it on the tip' : undefined));
  if (isOnTip && kindOf(part).snapsIn && !axleOf(model, stack)?.groove)
    found.push(problem('groove-missing', at, entry.id, 'in the row of an axle with a groove at its tip'));
  if (stands(part, 'groove') && !hasGroove(model, stack, k))
    found.push(
      problem('groove-missing', at, entry.id, 'next to a bearing, on the open side of its seat, which has a groove'),
    );
  if (isSeated && !seatsOf(model, stack).has(k)) {
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

/** The axle of a stack as far as it is one. */
function axleOf(model: LinkageModel, stack: Stack): Shanked | undefined {
  const axle = entryOf(model.parts, stack.axle);
  return axle && stands(axle, 'axle') ? (axle as Shanked) : undefined;
}

function hasGroove(model: LinkageModel, stack: Stack, k: number): boolean {
  const seats = seatsOf(model, stack);
  const seat = seats.get(clippedAt(seats, k) ?? Number.NaN);
  const bore = seat && entryOf(entryOf(model.members, seat.member)?.bores, seat.bore);
  return bore?.seats?.some(({ side, groove }) => side === seat!.side && groove !== undefined) === true;
}

function checkBoreUse(model: LinkageModel): Found[] {
  const used = new Map<string, string>();
  const found: Found[] = [];
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

function checkOrder(order: readonly string[], stackIds: readonly string[]): Found[] {
  const found = duplicates(order, (k) => `order[${k}]`);
  const [known, listed] = [new Set(stackIds), new Set(order)];
  order.forEach((id, k) => {
    if (!known.has(id)) found.push(noSuch('no-such-stack', `order[${k}]`, id, () => stackIds));
  });
  for (const id of stackIds) {
    if (!listed.has(id)) found.push(problem('missing', 'order', undefined, `every stack once; ${id} is not in it`));
  }
  return found;
}

function checkWhole(model: LinkageModel): Found[] {
  const found: Found[] = [];
  const members = Object.keys(model.members);
  if (model.shock) {
    for (const key of ['body', 'shaft'] as const) {
      if (!members.includes(model.shock[key]))
        found.push(noSuch('no-such-member', `shock.${key}`, model.shock[key], () => members));
    }
  }
  if (model.wheel) {
    const member = entryOf(model.members, model.wheel.member);
    const points = Object.keys(member?.points ?? {});
    if (!member) found.push(noSuch('no-such-member', 'wheel.member', model.wheel.member, () => members));
    else if (!points.includes(model.wheel.point))
      found.push(noSuch('no-such-point', 'wheel.point', model.wheel.point, () => points));
  }
  (model.obstacles ?? []).forEach((obstacle, k) =>
    found.push(...told(`obstacles[${k}]`, within(['z_from_mm', obstacle.z_from_mm], ['z_to_mm', obstacle.z_to_mm]))),
  );
  found.push(
    ...duplicates(
      (model.obstacles ?? []).map((obstacle) => obstacle.id),
      (k) => `obstacles[${k}].id`,
    ),
  );
  return found;
}
