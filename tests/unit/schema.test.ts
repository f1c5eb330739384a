/**
 * The JSON Schema that editors use is the one the zod schema makes now, and the format keeps its own rule: every number
 * carries its unit in its key.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { DRAFT_SCHEMA_FILE, draftJsonSchema, modelJsonSchema, SCHEMA_FILE } from '../setup/json-schema.ts';

interface Node {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly additionalProperties?: boolean | Node;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
  readonly oneOf?: readonly Node[];
}

/** Every node of the schema with the key that leads to it. */
function* nodes(node: Node, key = ''): Generator<readonly [string, Node]> {
  yield [key, node];
  for (const [name, child] of Object.entries(node.properties ?? {})) yield* nodes(child, name);
  for (const child of [...(node.anyOf ?? []), ...(node.oneOf ?? []), ...(node.items ? [node.items] : [])])
    yield* nodes(child, key);
  if (typeof node.additionalProperties === 'object') yield* nodes(node.additionalProperties, key);
}

const SCHEMA = JSON.parse(modelJsonSchema()) as Node;

/** Numbers that count or name a version and have no unit. */
// The number of a format and counts of things.
const UNITLESS = ['schema', 'count', 'waves', 'ball_rows'];

describe('the JSON Schema', () => {
  test('in assets is the one made now (else: npm run schema)', () => {
    expect(readFileSync(SCHEMA_FILE, 'utf8')).toBe(modelJsonSchema());
    expect(readFileSync(DRAFT_SCHEMA_FILE, 'utf8')).toBe(draftJsonSchema());
  });

  test('gives every number a unit in its key', () => {
    const numbers = [...nodes(SCHEMA)]
      .filter(([, node]) => node.type === 'number' || node.type === 'integer')
      .map(([key]) => key);
    expect(numbers.length).toBeGreaterThan(50);
    for (const key of numbers) if (!UNITLESS.includes(key)) expect(key).toMatch(/_(mm|Nm|N|deg|N_per_mm)$/);
  });

  test('knows every key of every object: none takes more', () => {
    const objects = [...nodes(SCHEMA)].filter(([, node]) => node.properties !== undefined);
    expect(objects.length).toBeGreaterThan(20);
    for (const [key, node] of objects) expect(node.additionalProperties, key).toBe(false);
  });
});
