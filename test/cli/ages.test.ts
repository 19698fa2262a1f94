import { describe, expect, it } from 'vitest';
import { ageMs, sinceTime } from '../../src/cli/ages.ts';

const nowMs = Date.parse('2026-11-25T02:00:00.000Z');

describe('ages', () => {
  it.each([
    ['90s', 90_000],
    ['30m', 1_800_000],
    ['26h', 93_600_000],
    ['14d', 1_209_600_000],
    ['99999d', 8_639_913_600_000],
  ])('%s', (text, ms) => {
    expect(ageMs('--prune', text)).toBe(ms);
  });

  it.each(['', '0d', '-1d', '1.5h', '14', 'd', '14 d', '14D', '100000d', '１４d', '14d\u001b[2J'])(
    'none: %j',
    (text) => {
      expect(() => ageMs('--prune', text)).toThrow(
        expect.objectContaining({
          status: 64,
          message: expect.stringMatching(/^--prune: '.*' is no age; write 90s, 30m, 26h or 14d$/),
        }),
      );
    },
  );

  it('never shows what a terminal would obey', () => {
    expect(() => ageMs('--prune', '1\u001b[2J')).toThrow("--prune: '1 [2J' is no age");
  });

  it.each([
    ['a date', '2026-11-01', '2026-11-01'],
    ['an age', '30d', '2026-10-26T02:00:00.000Z'],
  ])('since %s', (_, text, time) => {
    expect(sinceTime(text, nowMs)).toBe(time);
  });

  it.each(['2026-11-31x', '2026-13-01', '01.11.2026', 'yesterday'])('no time: %s', (text) => {
    expect(() => sinceTime(text, nowMs)).toThrow(/^--since: .* or a date as 2026-11-01$/);
  });
});
