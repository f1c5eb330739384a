/**
 * The demo models as the tests and the bench use them: read from `models/`, seen from the other side, moved, renamed,
 * or repeated into one large model.
 */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  partProfile,
  resolveModel,
  readModel,
  type LinkageModel,
  type MemberBore,
  type Side,
  type Stack,
} from '../../shared/index.ts';

const FOLDER = fileURLToPath(new URL('../../models', import.meta.url));

/** Every model of the folder; throws when the folder holds none or one cannot be read. */
export function demoModels(): LinkageModel[] {
  const files = readdirSync(FOLDER)
    .filter((name) => name.endsWith('.json'))
    .sort();
  if (files.length === 0) throw new Error(`models: ${FOLDER} holds no model`);
  return files.map((name) => {
    const reading = readModel(readFileSync(join(FOLDER, name), 'utf8'));
    if (!reading.ok) throw new Error(`models: ${name}: ${JSON.stringify(reading.problems)}`);
    return reading.model;
  });
}

/** The model with one pivot left; the bores of the others keep their places, since arms are measured between them. */
export function pivotAlone(model: LinkageModel, pivotId: string): LinkageModel {
  const resolved = resolveModel(model);
  const members = Object.entries(model.members).map(([id, member]) => {
    const bores = Object.entries(member.bores).map(([bore, sizes]) => {
      return [bore, { ...sizes, ...resolved.members[id]!.bores[bore]!.place }] as const;
    });
    return [id, { ...member, bores: Object.fromEntries(bores) }] as const;
  });
  const { order: _order, variants: _variants, ...rest } = model;
  return {
    ...rest,
    members: Object.fromEntries(members),
    pivots: model.pivots.filter((pivot) => pivot.id === pivotId),
  };
}

/** The model with one of its stacks' rows changed. */
export function withRow(
  model: LinkageModel,
  stackId: string,
  change: (row: Stack['row']) => Stack['row'],
): LinkageModel {
  return withStacks(model, (stack) => (stack.id === stackId ? { ...stack, row: change(stack.row) } : stack));
}

/** The model with every stack changed. */
export function withStacks(model: LinkageModel, change: (stack: Stack) => Stack): LinkageModel {
  return { ...model, pivots: model.pivots.map((pivot) => ({ ...pivot, stacks: pivot.stacks.map(change) })) };
}

function withBores(
  model: LinkageModel,
  change: (bore: MemberBore) => MemberBore,
  placeZ: (z: number) => number,
): LinkageModel {
  const members = Object.entries(model.members).map(([id, member]) => {
    const bores = Object.fromEntries(Object.entries(member.bores).map(([bore, sizes]) => [bore, change(sizes)]));
    const points =
      member.points &&
      Object.fromEntries(
        Object.entries(member.points).map(([name, point]) => [name, { ...point, z_mm: placeZ(point.z_mm) }]),
      );
    const webs = member.webs?.map((web) => (web.z_mm === undefined ? web : { ...web, z_mm: placeZ(web.z_mm) }));
    return [id, { ...member, bores, ...(points ? { points } : {}), ...(webs ? { webs } : {}) }] as const;
  });
  const obstacles = model.obstacles?.map((obstacle) => {
    const [a, b] = [placeZ(obstacle.z_from_mm), placeZ(obstacle.z_to_mm)];
    return { ...obstacle, z_from_mm: Math.min(a, b), z_to_mm: Math.max(a, b) };
  });
  return { ...model, members: Object.fromEntries(members), ...(obstacles ? { obstacles } : {}) };
}

/** The whole bike moved along z. */
export function movedModel(model: LinkageModel, by_mm: number): LinkageModel {
  const place = (z: number): number => z + by_mm;
  return withBores(
    model,
    (bore) => ({ ...bore, z_from_mm: place(bore.z_from_mm), z_to_mm: place(bore.z_to_mm) }),
    place,
  );
}

export const otherSide = (side: Side): Side => (side === 'drive' ? 'non-drive' : 'drive');

/**
 * The bike turned about its upright axis, so that z becomes −z: sides swapped, rows reversed, and what can face two
 * ways turned in its row. Threads keep their hand.
 */
export function flippedModel(model: LinkageModel): LinkageModel {
  const mirrored = withBores(
    model,
    (bore) => ({
      ...bore,
      z_from_mm: -bore.z_to_mm,
      z_to_mm: -bore.z_from_mm,
      ...(bore.seats ? { seats: bore.seats.map((seat) => ({ ...seat, side: otherSide(seat.side) })) } : {}),
      ...(bore.thread ? { thread: { ...bore.thread, opens: otherSide(bore.thread.opens) } } : {}),
    }),
    (z) => -z,
  );
  const variants = model.variants?.map((variant) => ({
    ...variant,
    stacks: Object.fromEntries(Object.entries(variant.stacks).map(([id, change]) => [id, flippedStack(model, change)])),
  }));
  return { ...withStacks(mirrored, (stack) => flippedStack(model, stack)), ...(variants ? { variants } : {}) };
}

/** A stack, or what a variant changes of one. */
type SomeOfStack = { readonly [K in keyof Stack]?: Stack[K] | undefined };

function flippedStack<T extends SomeOfStack>(model: LinkageModel, stack: T): T {
  const row =
    stack.row &&
    [...stack.row].reverse().map((entry) => {
      const part = entry.part === undefined ? undefined : model.parts[entry.part];
      if (!part || !partProfile(part).hasTwoWays) return entry;
      return { ...entry, turned: entry.turned !== true };
    });
  return { ...stack, ...(stack.from ? { from: otherSide(stack.from) } : {}), ...(row ? { row } : {}) };
}

/** The model with every id passed through `rename`; names, numbers and words stay. */
export function renamedModel(model: LinkageModel, rename: (id: string) => string): LinkageModel {
  const keys = <T>(
    record: Readonly<Record<string, T>>,
    change: (value: T) => T = (value) => value,
  ): Record<string, T> => Object.fromEntries(Object.entries(record).map(([id, value]) => [rename(id), change(value)]));
  const stackOf = <T extends SomeOfStack>(stack: T): T => ({
    ...stack,
    ...(stack.id === undefined ? {} : { id: rename(stack.id) }),
    ...(stack.axle === undefined ? {} : { axle: rename(stack.axle) }),
    ...(stack.receiver === undefined ? {} : { receiver: stack.receiver.split('/').map(rename).join('/') }),
    ...(stack.row
      ? {
          row: stack.row.map((entry) => ({
            ...entry,
            id: rename(entry.id),
            ...(entry.part === undefined ? {} : { part: rename(entry.part) }),
            ...(entry.member === undefined ? {} : { member: rename(entry.member) }),
            ...(entry.bore === undefined ? {} : { bore: rename(entry.bore) }),
          })),
        }
      : {}),
  });
  return {
    ...model,
    parts: keys(model.parts),
    members: keys(model.members, (member) => ({
      ...member,
      bores: keys(member.bores),
      ...(member.points ? { points: keys(member.points) } : {}),
      ...(member.webs
        ? { webs: member.webs.map((web) => ({ ...web, from: rename(web.from), to: rename(web.to) })) }
        : {}),
    })),
    pivots: model.pivots.map((pivot) => ({ ...pivot, id: rename(pivot.id), stacks: pivot.stacks.map(stackOf) })),
    ...(model.order ? { order: model.order.map(rename) } : {}),
    ...(model.variants
      ? {
          variants: model.variants.map((variant) => ({
            ...variant,
            id: rename(variant.id),
            ...(variant.parts ? { parts: keys(variant.parts) } : {}),
            stacks: keys(variant.stacks, stackOf),
          })),
        }
      : {}),
    ...(model.shock
      ? { shock: { ...model.shock, body: rename(model.shock.body), shaft: rename(model.shock.shaft) } }
      : {}),
    ...(model.wheel
      ? { wheel: { ...model.wheel, member: rename(model.wheel.member), point: rename(model.wheel.point) } }
      : {}),
  };
}

/** A model of `pivots` pivots made of the given ones over and over, each copy with ids and members of its own. */
export function repeatedModel(models: readonly LinkageModel[], pivots: number): LinkageModel {
  const first = models[0]!;
  const whole = {
    ...first,
    id: 'repeated',
    parts: {} as LinkageModel['parts'],
    members: {} as LinkageModel['members'],
    pivots: [] as LinkageModel['pivots'],
  };
  delete whole.order;
  delete whole.variants;
  delete whole.shock;
  delete whole.wheel;
  delete whole.obstacles;
  for (let copy = 0; whole.pivots.length < pivots; copy++) {
    const source = renamedModel(models[copy % models.length]!, (id) => `${id}-${copy}`);
    Object.assign(whole.parts, source.parts);
    Object.assign(whole.members, source.members);
    whole.pivots.push(...source.pivots.slice(0, pivots - whole.pivots.length));
  }
  // What the last copy brought beyond the pivots asked for is a part without a use, and no fault of the build.
  whole.parts = Object.fromEntries(
    Object.entries(whole.parts).map(([id, { count: _count, ...part }]) => [id, part as LinkageModel['parts'][string]]),
  );
  return whole;
}
