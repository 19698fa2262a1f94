import { describe, expect, it } from 'vitest';
import { wasRead } from '../../src/facts/was-read.ts';

const answered = {
  by: 'ssh',
  at: 'vault',
  startedAt: '2026-11-25T02:00:00.000Z',
  tookMs: 9,
} as const;
const silent = {
  ...answered,
  trouble: { kind: 'silent', seen: 'no answer', remedy: 'look' },
} as const;

describe('whether a node was read', () => {
  it.each([
    ['answered', [answered], true],
    ['answered to the second access', [silent, answered], true],
    ['silent', [silent, silent], false],
    ['not asked', [], false],
  ])('%s', (_, readings, read) => {
    expect(wasRead({ readings })).toBe(read);
  });

  it('not in the survey', () => {
    expect(wasRead(undefined)).toBe(false);
  });
});
