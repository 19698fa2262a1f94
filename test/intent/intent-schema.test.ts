import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { intentJsonSchema } from '../../src/intent/intent-schema.ts';
import { schemaText, shippedSchemas } from '../tools/schemas.ts';
import { exampleIntent } from './example.ts';

describe('shipped schemas', () => {
  it.each(shippedSchemas)('$file is what the code gives: run npm run schemas', async (shipped) => {
    const path = new URL(`../../src/schemas/${shipped.file}`, import.meta.url);
    expect(await readFile(path, 'utf8')).toBe(schemaText(shipped));
  });
});

type Json = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Json => typeof value === 'object' && value !== null;

/** Paths of all keys of a JSON Schema whose value has no description. */
function undescribed(schema: Json, path: string): readonly string[] {
  const properties = isObject(schema['properties']) ? Object.entries(schema['properties']) : [];
  const below = Object.entries(schema).filter(([key]) => key !== 'properties' && key !== 'enum');
  return [
    ...properties.flatMap(([key, value]) => [
      ...(isObject(value) && !('description' in value) ? [`${path}/${key}`] : []),
      ...(isObject(value) ? undescribed(value, `${path}/${key}`) : []),
    ]),
    ...below.flatMap(([key, value]) =>
      isObject(value) ? undescribed(value, `${path}/${key}`) : [],
    ),
  ];
}

describe('the schema of the intent file', () => {
  const schema = intentJsonSchema();

  it('describes every key, for editors', () => {
    expect(undescribed(schema, '')).toEqual([]);
  });

  it('is of draft 7 and closed: an unknown key is marked', () => {
    expect(schema).toMatchObject({
      $schema: 'http://json-schema.org/draft-07/schema#',
      additionalProperties: false,
      required: ['intent'],
    });
  });

  it.each<readonly [string, boolean, (text: string) => string]>([
    ['the example', true, (text) => text],
    ['an unknown key', false, (text) => text.replace('sleeps', 'sleep')],
    ['a VLAN out of range', false, (text) => text.replace('vlan: 20', 'vlan: 4095')],
    ['a link with one end', false, (text) => text.replace(', gate:em0]', ']')],
    ['a speed of no form', false, (text) => text.replace('10G,', '10Gb,')],
    ['no version', false, (text) => text.replace('intent: 1', '')],
  ])('read back by another road takes or refuses %s', (_, taken, change) => {
    const back = z.fromJSONSchema(schema as z.core.JSONSchema.JSONSchema);
    expect(back.safeParse(parse(change(exampleIntent))).success).toBe(taken);
  });
});
