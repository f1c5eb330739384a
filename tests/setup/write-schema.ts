/** Writes the JSON Schema of the model format, from the zod schema, to `assets/` for editors: `npm run schema`. */
import { writeFileSync } from 'node:fs';
import { modelJsonSchema, SCHEMA_FILE } from './json-schema.ts';

writeFileSync(SCHEMA_FILE, modelJsonSchema());
console.log(`wrote ${SCHEMA_FILE}`);
