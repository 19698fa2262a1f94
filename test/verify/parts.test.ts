import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { sumOf } from './counts.ts';
import { type Part, together, tool, where } from './parts.ts';

const failing: Part = {
  name: 'a part that throws',
  run: async () => {
    throw new Error('no disk');
  },
};

// Kept: who reads the whole check would take these failures for its own.
let said = '';
beforeEach(() => {
  said = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    said += String(text);
    return true;
  });
});
afterEach(() => vi.restoreAllMocks());

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
  expect(said.match(/Error: no disk/g)?.length).toBe(2);
  for (const words of ['spawn', 'no-such-option', 'SKIPPED: is not there'])
    expect(said).toContain(words);
});
