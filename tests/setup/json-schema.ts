/** The JSON Schema of the model format as text, made from the one zod schema. */
import { fileURLToPath } from 'node:url';
import * as z from 'zod';
import { linkageModel } from '../../shared/index.ts';

/** Where the app ships it: editors may point a model's `$schema` there. */
export const SCHEMA_FILE = fileURLToPath(new URL('../../assets/linkage-model.schema.json', import.meta.url));

/** The JSON Schema (draft 2020-12), input side: defaults may be left out. */
export function modelJsonSchema(): string {
  const schema = z.toJSONSchema(linkageModel, { io: 'input', target: 'draft-2020-12' });
  return `${JSON.stringify({ ...schema, title: 'Axlewright linkage model, schema 1' }, undefined, 2)}\n`;
}
