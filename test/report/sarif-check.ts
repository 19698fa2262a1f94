import { createRequire } from 'node:module';
import ajvDraft04 from 'ajv-draft-04';
import addFormats from 'ajv-formats';

const require = createRequire(import.meta.url);
/** The schema as it is published with the standard, as a package of the registry carries it. */
const sarifSchema = require('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json') as object;
/** Whether a value is SARIF 2.1.0 by that schema; its `errors` say what is wrong. */
export const isSarif = addFormats
  .default(new ajvDraft04.default({ strict: false, unicodeRegExp: false }))
  .compile(sarifSchema);
