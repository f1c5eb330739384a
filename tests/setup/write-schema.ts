/** Writes the JSON Schemas of a model and of a draft, from the zod schema, to `assets/` for editors: `npm run schema`. */
import { writeFileSync } from 'node:fs';
import { DRAFT_SCHEMA_FILE, draftJsonSchema, modelJsonSchema, SCHEMA_FILE } from './json-schema.ts';

for (const [file, text] of [
  [SCHEMA_FILE, modelJsonSchema()],
  [DRAFT_SCHEMA_FILE, draftJsonSchema()],
] as const) {
  writeFileSync(file, text);
  console.log(`wrote ${file}`);
}
