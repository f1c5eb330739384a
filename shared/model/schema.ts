/**
 * The linkage model file, `schema: 1`: what a JSON file under `models/` may say.
 *
 * One zod schema is the single source: it validates files, gives the TypeScript types, and is written out as a JSON
 * Schema for editors (`npm run schema`). Units stand in the key. Axes: x forward, y up, z to the drive side. A row runs
 * from the non-drive to the drive side. A part that can face two ways lies in its file with its first face toward the
 * non-drive side; `turned: true` reverses it. Forms of parts stand in their
 * entries (`parts/`); rules that tie one place of a file to another live in `check.ts`.
 */
import * as z from 'zod';
import { groove, material, shortName, size_mm, thread, tol_mm, words } from '../parts/fields.ts';
import { partForm } from '../parts/kinds.ts';
import { HOLE_SYMBOLS } from '../standards/fits.ts';

const LARGEST_PLACE_mm = 3000;
/** Parts of a model, some ten times those of the fullest of our bikes: more are made by a mistake of a program. */
export const MOST_PARTS = 1000;
/** Members of a model, by the same rule. */
export const MOST_MEMBERS = 100;
/** Bores of one member, by the same rule. */
export const MOST_BORES = 100;

const place_mm = z.number().min(-LARGEST_PLACE_mm).max(LARGEST_PLACE_mm);
const id = z
  .string()
  .max(48)
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'kebab-case');
const side = z.enum(['non-drive', 'drive']);

const seat = z
  .strictObject({
    side,
    diameter_mm: size_mm,
    fit: z
      .enum(HOLE_SYMBOLS)
      .optional()
      .describe('tolerance class of the diameter by ISO 286; without it the diameter is taken as measured'),
    diameter_tol_mm: tol_mm.describe('± tolerance of the diameter, where the drawing gives no class'),
    depth_mm: size_mm,
    depth_tol_mm: tol_mm.describe('± tolerance of the depth'),
    groove: groove.optional().describe('the groove of a circlip that keeps the bearing in'),
  })
  .describe('a bearing seat, open to `side`, its stop shoulder `depth_mm` in from that face');

const bore = z.strictObject({
  z_from_mm: place_mm,
  z_to_mm: place_mm,
  bore_mm: size_mm.describe('through bore, between the seats'),
  boss_mm: size_mm.describe('outside diameter of the boss'),
  seats: z.array(seat).max(2).optional(),
  thread: z
    .strictObject({
      ...thread.shape,
      opens: side.describe('the face at which the thread starts'),
      blind: z.boolean().optional().describe('the hole ends where the thread ends'),
      sleeve: z
        .strictObject({
          outside_mm: size_mm.describe('size of its outer thread'),
          pitch_mm: thread.shape.pitch_mm,
          material,
        })
        .optional()
        .describe('a threaded sleeve, screwed into the boss for good, that carries this thread'),
    })
    .optional(),
  slot_mm: size_mm
    .optional()
    .describe('width of the slot that a pinch bolt across the boss closes; its torque stands beside the bore in a row'),
  rigid: z.boolean().optional().describe('the boss cannot move against its member'),
  arm_stiffness_N_per_mm: z.number().min(1).max(1e7).optional().describe('push along z that moves the boss 1 mm'),
  x_mm: place_mm.optional(),
  y_mm: place_mm.optional(),
});

const web = z
  .strictObject({
    from: id,
    to: id,
    thickness_mm: size_mm.describe('along z'),
    height_mm: size_mm.optional().describe('in the side plane; without it the web is the hull of the two bosses'),
    z_mm: place_mm.optional().describe('middle of the web; without it the middle of its two ends'),
  })
  .describe('a plate or bridge between two bores or points of a member');

const member = z.strictObject({
  kind: z.enum(['frame', 'swingarm', 'chainstay', 'seatstay', 'rocker', 'link', 'shock-body', 'shock-shaft']),
  name: shortName,
  material,
  bores: z.record(id, bore).meta({ maxProperties: MOST_BORES }),
  points: z
    .record(id, z.strictObject({ x_mm: place_mm, y_mm: place_mm, z_mm: place_mm, boss_mm: size_mm.optional() }))
    .optional(),
  span_tol_mm: tol_mm.describe('± tolerance of the span between two of its bosses along z'),
  webs: z.array(web).max(60).optional(),
  notes: z.array(words).max(20).optional(),
});

const drive = z.strictObject({
  tool: z.enum(['hex-key', 'star-key', 'spanner', 'pin-spanner', 'cassette-socket']),
  size_mm: z.number().min(1).max(60),
});

const rowEntry = z.strictObject({
  id,
  part: id.optional(),
  turned: z.boolean().optional(),
  greased: z.boolean().optional().describe('faces and bore are greased; grease also holds a loose spacer in place'),
  proud_mm: z.number().min(0).max(20).optional().describe('how far a bearing stands off its shoulder'),
  torque_Nm: z
    .number()
    .positive()
    .max(200)
    .optional()
    .describe('for what is tightened on the axle’s tip, or the pinch bolt of a boss'),
  drive: drive.optional().describe('the tool for that'),
  member: id.optional(),
  bore: id.optional(),
});

const stack = z.strictObject({
  id,
  name: shortName.optional(),
  axle: id,
  receiver: z.string().max(100).describe('a part, or `member/bore` where the axle screws into a member'),
  from: side.describe('the side the axle goes in from, where its head ends up'),
  row: z.array(rowEntry).min(1).max(40),
  torque_Nm: z.number().positive().max(200),
  thread: z
    .strictObject({
      size_mm: z.number().min(3).max(40),
      pitch_mm: z.number().min(0.35).max(4),
      hand: z.enum(['right', 'left']),
    })
    .optional(),
  thread_treatment: z.enum(['dry', 'oiled', 'greased', 'threadlocked', 'anti-seize']),
  threadlocker: z.enum(['low strength', 'medium strength', 'high strength']).optional(),
  drives: z.strictObject({ head: drive.optional(), tip: drive.optional(), receiver: drive.optional() }),
  turned: z.enum(['head', 'tip', 'receiver']).describe('which of the drives the torque wrench works at'),
  greased: z
    .array(z.enum(['axle', 'receiver']))
    .max(2)
    .optional()
    .describe('shank of the axle, face of the receiver; rings say so in their row'),
  fitted_for_now: words.optional().describe('why this pivot will be opened again'),
  notes: z.array(words).max(20).optional(),
});

const pivot = z.strictObject({
  id,
  name: shortName,
  x_mm: place_mm,
  y_mm: place_mm,
  stacks: z.array(stack).min(1).max(4),
  notes: z.array(words).max(20).optional(),
});

const stackChange = stack.omit({ id: true }).partial();
const variant = z.strictObject({
  id,
  name: shortName,
  why: words,
  parts: z.record(id, partForm).optional(),
  stacks: z.record(id, stackChange).describe('per stack, the keys that differ'),
  bores: z.record(id, z.record(id, bore)).optional().describe('per member, the bores that differ, each whole'),
});

const obstacle = z.strictObject({
  id,
  kind: z.enum(['wheel', 'chainset', 'chainring']),
  name: shortName,
  x_mm: place_mm,
  y_mm: place_mm,
  radius_mm: z.number().positive().max(500),
  z_from_mm: place_mm,
  z_to_mm: place_mm,
});

const shock = z.strictObject({
  body: id,
  shaft: id,
  eye_to_eye_mm: z.number().min(50).max(400),
  stroke_mm: z.number().min(5).max(150),
  travel_mm: z.number().min(5).max(300).optional().describe('the rear travel the maker states'),
});

/** The whole file. `safeParse` tells its problems; `readModel` does that and all the other checks. */
export const linkageModel = z.strictObject({
  $schema: z.string().max(200).optional(),
  schema: z.literal(1),
  id,
  name: shortName,
  units: z.literal('mm, N, N·m, deg'),
  about: words.optional(),
  parts: z.record(id, partForm).meta({ maxProperties: MOST_PARTS }),
  members: z.record(id, member).meta({ maxProperties: MOST_MEMBERS }),
  pivots: z.array(pivot).min(1).max(2000),
  order: z.array(id).max(8000).optional().describe('stack ids in the order the maker builds them up'),
  variants: z.array(variant).max(40).optional(),
  obstacles: z.array(obstacle).max(12).optional(),
  shock: shock.optional(),
  wheel: z.strictObject({ member: id, point: id }).optional().describe('the point of a member that carries the wheel'),
});

/** A linkage model as read: defaults filled in, nothing looked up yet. Lengths in mm, forces in N. */
export type LinkageModel = z.output<typeof linkageModel>;
export type { Part, PartKind, PartOf } from '../parts/kinds.ts';
export type { Thread } from '../parts/fields.ts';
export type Member = z.output<typeof member>;
export type MemberBore = z.output<typeof bore>;
export type Pivot = z.output<typeof pivot>;
export type Stack = z.output<typeof stack>;
export type RowEntry = z.output<typeof rowEntry>;
export type Variant = z.output<typeof variant>;
export type DriveTool = z.output<typeof drive>;
export type Side = z.output<typeof side>;
export type Web = z.output<typeof web>;
export type Obstacle = z.output<typeof obstacle>;
