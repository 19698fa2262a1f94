import { intentJsonSchema } from '../../src/intent/intent-schema.ts';

/** A JSON Schema that ships, and what it is generated from. */
export interface ShippedSchema {
  /** Below `src/schemas/`. */
  readonly file: string;
  readonly schema: () => Record<string, unknown>;
}

/** All schemas that `npm run schemas` writes. */
export const shippedSchemas: readonly ShippedSchema[] = [
  { file: 'intent.schema.json', schema: intentJsonSchema },
];

/** The exact text of a schema file. */
export function schemaText({ schema }: ShippedSchema): string {
  return `${JSON.stringify(schema(), null, 2)}\n`;
}
