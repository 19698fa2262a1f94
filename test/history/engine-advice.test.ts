import { expect, it } from 'vitest';
import { engineAdvice } from '../../src/history/engine-advice.ts';

const before =
  'no history on this machine: this Node has no SQLite of its own and the package better-sqlite3 ';

it.each([
  [
    '/srv/hopgauge',
    "is not built; run 'npm --prefix /srv/hopgauge rebuild better-sqlite3' with a compiler (it takes some minutes), or use Node 24 or newer",
  ],
  [
    '',
    "is not installed; install hopgauge again with 'npm install --include=optional', or use Node 24 or newer",
  ],
])('says what to do, the package below %j', (folder, words) => {
  expect(engineAdvice(folder)).toBe(`${before}${words}`);
});
