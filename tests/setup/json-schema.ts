/** The JSON Schemas of the model format and of a draft as text, made from the one zod schema. */
import { fileURLToPath } from 'node:url';
import * as z from 'zod';
import { draftBody, linkageModel } from '../../shared/index.ts';

/** Where the app ships it: editors may point a model's `$schema` there. */
export const SCHEMA_FILE = fileURLToPath(new URL('../../assets/linkage-model.schema.json', import.meta.url));

/** The JSON Schema (draft 2020-12), input side: defaults may be left out. */
export function modelJsonSchema(): string {
  const schema = z.toJSONSchema(linkageModel, { io: 'input', target: 'draft-2020-12' });
  return `${JSON.stringify({ ...schema, title: 'Axlewright linkage model, schema 1' }, undefined, 2)}\n`;
}

/** The same of a draft's file. */
export const DRAFT_SCHEMA_FILE = fileURLToPath(new URL('../../assets/linkage-draft.schema.json', import.meta.url));

/** The JSON Schema of a draft's file: its envelope, and the draft in it. */
export function draftJsonSchema(): string {
  const file = z.strictObject({
    kind: z.literal('draft'),
    schema: z.literal(1),
    app: z.string(),
    $schema: z.string().optional(),
    body: draftBody,
  });
  const schema = z.toJSONSchema(file, { io: 'input', target: 'draft-2020-12' });
  return `${JSON.stringify({ ...schema, title: 'Axlewright draft, schema 1' }, undefined, 2)}\n`;
}
