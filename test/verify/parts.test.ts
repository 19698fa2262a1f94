import { expect, it } from 'vitest';
import { sumOf } from './counts.ts';
import { type Part, together, tool, where } from './parts.ts';

const failing: Part = {
  name: 'a part that throws',
  run: async () => {
    throw new Error('no disk');
  },
};

it('counts a part that throws as failed, alone or beside others', async () => {
  const one = { passed: 0, failed: 1, skipped: 0 };
  expect(await together(failing)).toEqual([one]);
  const fine = tool('compiler', 'tsc', '--version');
  const missing = tool('missing', 'no-such-program');
  const wrong = tool('compiler', 'tsc', '--no-such-option');
  const absent = where(() => ({ ready: false, why: 'is not there' }), fine);
  expect(sumOf(await together(failing, fine, missing, wrong, absent))).toEqual({
    passed: 1,
    failed: 3,
    skipped: 1,
  });
});
