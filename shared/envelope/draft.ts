/**
 * The form of a draft: a linkage model whose sizes may be guessed, read, bounded or unknown, made from the form of the
 * model itself, so that the two never part.
 *
 * A size (a key that ends in `_mm` or `_Nm`, its unit in the key) may be a plain number as in a model, a reading with
 * its accuracy and where it is from, several readings, a range, or null. What a hand does not measure in a row (the side
 * plane, the webs, obstacles, tolerances) stays as it is in a model. A boss is known by its width and by the free
 * distance to its neighbour, or by its two ends as in a model.
 */
import * as z from 'zod';
import { linkageModel, type LinkageModel, type Member, type MemberBore } from '../model/schema.ts';

/** Where a size may be from. */
const SIZE_ORIGINS = ['manual', 'measured', 'guess', 'standard'] as const;
/** One of `SIZE_ORIGINS`. */
export type SizeOrigin = (typeof SIZE_ORIGINS)[number];

const FURTHEST = 3000;
const WORST_ACCURACY = 50;
const number = z.number().min(-FURTHEST).max(FURTHEST);
const line = z.string().min(1).max(80);
const origin = {
  from: z.enum(SIZE_ORIGINS),
  page: line.optional().describe('page of the manual'),
  when: line.optional(),
  by: line.optional(),
};
const reading = z
  .strictObject({
    value: number,
    accuracy: z.number().min(0).max(WORST_ACCURACY).optional().describe('± in the unit of the key'),
    ...origin,
  })
  .meta({ id: 'reading' });
const range = z.strictObject({ least: number, most: number, ...origin }).meta({ id: 'range' });
const size = z
  .union([number, z.null(), reading, range, z.array(reading).min(1).max(20)])
  .meta({ id: 'size', description: 'a number, a reading, several readings, a range, or null where it is unknown' });

/** One reading of one size. */
export type SizeReading = Readonly<z.output<typeof reading>>;
/** What a draft may say of a size. */
export type SizeEntry = number | null | SizeReading | Readonly<z.output<typeof range>> | readonly SizeReading[];

/** How two or more places are compared at once. */
const COMPARE_TOOLS = ['outside-jaws', 'inside-jaws', 'depth-rod', 'straight-edge', 'feeler', 'gauge'] as const;
/** One of `COMPARE_TOOLS`. */
export type CompareTool = (typeof COMPARE_TOOLS)[number];

const compared = z.strictObject({
  id: line,
  with: z.enum(COMPARE_TOOLS),
  terms: z
    .array(z.strictObject({ size: z.string().min(1).max(200), times: z.number().min(-20).max(20) }))
    .min(1)
    .max(60)
    .describe('the sizes that add up to what was read, each with its sign'),
  value_mm: number,
  accuracy_mm: z.number().min(0.001).max(WORST_ACCURACY),
  when: line.optional(),
  by: line.optional(),
});
/** A sum or a difference of sizes that was read at once. */
export type Compared = Readonly<z.output<typeof compared>>;

type Shape = {
  readonly def: {
    readonly type: string;
    readonly shape?: Record<string, Shape>;
    readonly innerType?: Shape;
    readonly element?: Shape;
    readonly valueType?: Shape;
    readonly keyType?: Shape;
    readonly options?: readonly Shape[];
    readonly values?: readonly unknown[];
    readonly discriminator?: string;
  };
  readonly meta: () => Record<string, unknown> | undefined;
};

/** Keys of a model that a draft takes as a model has them. */
const AS_IN_A_MODEL = new Set(['points', 'webs', 'obstacles', 'shock', 'wheel', 'variants', 'order', 'x_mm', 'y_mm']);

/** Whether a key of a model is a size that a hand can take. */
export function isSizeKey(key: string): boolean {
  return /_(mm|Nm)$/.test(key) && !/(_per_mm|_tol_mm)$/.test(key) && !AS_IN_A_MODEL.has(key);
}

/** Keys of a boss that only a draft has: how wide it is, and how far from the same member’s last one. */
const BOSS_KEYS = {
  width_mm: size.optional().describe('width of the boss, where its two ends are not given'),
  gap_mm: size.optional().describe('free distance to the next boss of the member in this pivot, to the non-drive side'),
};

function inside(shape: Shape): Shape {
  let at = shape;
  while (at.def.innerType) at = at.def.innerType;
  return at;
}

function isOptional(shape: Shape): boolean {
  return shape.def.type === 'optional' || shape.def.type === 'default';
}

/** A form of the model with its sizes freed. */
function freed(shape: Shape, key = ''): z.ZodType {
  const same = shape as unknown as z.ZodType;
  if (AS_IN_A_MODEL.has(key)) return same;
  const { def } = shape;
  if (isSizeKey(key) && inside(shape).def.type === 'number') {
    const said = shape.meta()?.['description'];
    return typeof said === 'string' ? size.optional().describe(said) : size.optional();
  }
  const made = ((): z.ZodType => {
    switch (def.type) {
      case 'optional':
        return freed(def.innerType!, key).optional();
      case 'array':
        return arrayLike(same, freed(def.element!, key));
      case 'record':
        return z.record(def.keyType as unknown as z.ZodString, freed(def.valueType!));
      case 'union':
        return z.discriminatedUnion(
          'kind',
          def.options!.map((option) => freed(option)) as unknown as Parameters<typeof z.discriminatedUnion>[1],
        );
      case 'object': {
        const fields = Object.entries(def.shape!).map(([name, own]) => [name, freed(own, name)] as const);
        const isBoss = Object.hasOwn(def.shape!, 'z_from_mm') && Object.hasOwn(def.shape!, 'seats');
        return z.strictObject({ ...Object.fromEntries(fields), ...(isBoss ? BOSS_KEYS : {}) });
      }
      default:
        return same;
    }
  })();
  const meta = shape.meta();
  return made === same || meta === undefined ? made : made.meta(meta);
}

/** An array of other things, bounded as the first one was. */
function arrayLike(like: z.ZodType, element: z.ZodType): z.ZodType {
  const { minimum, maximum } = (like as unknown as { _zod: { bag: { minimum?: number; maximum?: number } } })._zod.bag;
  let made = z.array(element);
  if (minimum !== undefined) made = made.min(minimum);
  if (maximum !== undefined) made = made.max(maximum);
  return made;
}

/** The body of a draft. */
const body = z.strictObject({
  model: freed(linkageModel as unknown as Shape),
  compared: z.array(compared).max(200).optional(),
  mistakes_run: line.optional().describe('what the mistakes were run on: the key of that analysis'),
});

/** A model whose sizes may be anything that a draft may say of one. */
export type Drafted<T> = T extends readonly (infer E)[]
  ? readonly Drafted<E>[]
  : T extends object
    ? { readonly [K in keyof T]: DraftedAt<K, T[K]> }
    : T;
type DraftedAt<K, V> = K extends 'points' | 'webs' | 'obstacles' | 'shock' | 'wheel' | 'variants' | 'x_mm' | 'y_mm'
  ? V
  : K extends `${string}_per_mm` | `${string}_tol_mm`
    ? V
    : K extends `${string}_mm` | `${string}_Nm`
      ? SizeEntry | undefined
      : Drafted<V>;

/** A bore of a draft. */
export type DraftBore = Omit<Drafted<MemberBore>, 'z_from_mm' | 'z_to_mm'> & {
  readonly z_from_mm?: SizeEntry | undefined;
  readonly z_to_mm?: SizeEntry | undefined;
  readonly width_mm?: SizeEntry | undefined;
  readonly gap_mm?: SizeEntry | undefined;
};
/** The model of a draft. */
export type DraftModel = Omit<Drafted<LinkageModel>, 'members'> & {
  readonly members: Readonly<
    Record<string, Omit<Drafted<Member>, 'bores'> & { readonly bores: Readonly<Record<string, DraftBore>> }>
  >;
};

/** A draft: what is known of a pivot or a bike so far. */
export interface Draft {
  readonly model: DraftModel;
  /** Sums and differences that were read at once. */
  readonly compared?: readonly Compared[] | undefined;
  readonly mistakes_run?: string | undefined;
}

/** What a draft’s file holds. */
export const draftBody = body as unknown as z.ZodType<Draft>;

/** A place in a draft, key by key. */
export type SizePath = readonly (string | number)[];

/** Every size of a draft’s model in the order of the file: those it says, and those it would have to say. */
export function sizePaths(model: DraftModel): SizePath[] {
  const found: SizePath[] = [];
  walk(linkageModel as unknown as Shape, model, [], found);
  return found;
}

function walk(shape: Shape, data: unknown, path: SizePath, found: SizePath[]): void {
  const { def } = inside(shape);
  if (typeof data !== 'object' || data === null) return;
  if (def.type === 'array')
    (data as readonly unknown[]).forEach((own, k) => walk(def.element!, own, [...path, k], found));
  else if (def.type === 'record')
    for (const [key, own] of Object.entries(data)) walk(def.valueType!, own, [...path, key], found);
  else if (def.type === 'union') {
    const { kind } = data as { readonly kind?: unknown };
    const option = def.options!.find((own) => own.def.shape!['kind']!.def.values![0] === kind);
    if (option) walk(option, data, path, found);
  } else if (def.type === 'object') {
    const own = data as Record<string, unknown>;
    const shapeOf = def.shape!;
    const isBoss = Object.hasOwn(shapeOf, 'z_from_mm') && Object.hasOwn(shapeOf, 'seats');
    const isAt = (key: string): boolean => own[key] !== undefined;
    const isPlaced = isBoss && isAt('z_from_mm') && isAt('z_to_mm');
    if (isBoss && !isPlaced) found.push([...path, 'width_mm'], [...path, 'gap_mm']);
    for (const [key, inner] of Object.entries(shapeOf)) {
      if (AS_IN_A_MODEL.has(key)) continue;
      if (!isSizeKey(key) || inside(inner).def.type !== 'number') walk(inner, own[key], [...path, key], found);
      else if (isBoss && key.startsWith('z_') && !isPlaced) continue;
      else if (isAt(key) || !isOptional(inner) || isBearingSize(own, key)) found.push([...path, key]);
    }
  }
}

/** A bearing without a designation must say its three sizes. */
function isBearingSize(own: Readonly<Record<string, unknown>>, key: string): boolean {
  return own['kind'] === 'bearing' && ['bore_mm', 'outside_mm', 'width_mm'].includes(key);
}
