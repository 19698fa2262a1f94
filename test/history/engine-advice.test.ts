import { expect, it } from 'vitest';
import { engineAdvice } from '../../src/history/engine-advice.ts';

const before =
  'no history on this machine: this Node has no SQLite of its own and the package better-sqlite3 ';

it.each([
  [true, "is not built; run 'npm rebuild better-sqlite3' with a compiler, or use Node 24 or newer"],
  [
    false,
    "is not installed; install hopgauge again with 'npm install --include=optional', or use Node 24 or newer",
  ],
])('says what to do, the package there: %s', (isThere, words) => {
  expect(engineAdvice(isThere)).toBe(`${before}${words}`);
});
