import { changeJsonSchema } from '../../src/change/change-schema.ts';
import { surveyJsonSchema } from '../../src/facts/survey-schema.ts';
import { intentJsonSchema } from '../../src/intent/intent-schema.ts';
import { policyJsonSchema } from '../../src/judge/policy-schema.ts';
import { confirmJsonSchema } from '../../src/report/confirm-schema.ts';
import { explainJsonSchema } from '../../src/report/explain-schema.ts';
import { fitJsonSchema } from '../../src/report/fit-schema.ts';
import { reportJsonSchema } from '../../src/report/report-schema.ts';
import { transferJsonSchema } from '../../src/report/transfer-schema.ts';

/** A JSON Schema that ships, and what it is generated from. */
export interface ShippedSchema {
  /** Below `src/schemas/`. */
  readonly file: string;
  readonly schema: () => Record<string, unknown>;
}

/** All schemas that `npm run schemas` writes. */
export const shippedSchemas: readonly ShippedSchema[] = [
  { file: 'intent.schema.json', schema: intentJsonSchema },
  { file: 'report.schema.json', schema: reportJsonSchema },
  { file: 'explain.schema.json', schema: explainJsonSchema },
  { file: 'fit.schema.json', schema: fitJsonSchema },
  { file: 'policy.schema.json', schema: policyJsonSchema },
  { file: 'change.schema.json', schema: changeJsonSchema },
  { file: 'confirm.schema.json', schema: confirmJsonSchema },
  { file: 'transfer.schema.json', schema: transferJsonSchema },
  { file: 'survey.schema.json', schema: surveyJsonSchema },
];

/** The exact text of a schema file. */
export function schemaText({ schema }: ShippedSchema): string {
  return `${JSON.stringify(schema(), null, 2)}\n`;
}
