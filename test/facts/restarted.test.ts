import { describe, expect, it } from 'vitest';
import { restartedSince } from '../../src/facts/restarted.ts';
import { firstNight, reading, secondNight } from '../drift/nights.ts';

const day = 86_400;

describe('whether a node restarted', () => {
  it.each<[string, number | undefined, string, boolean | undefined]>([
    ['up for longer than has passed', 40 * day, secondNight, false],
    ['up for just as long, by clocks that differ a little', day - 60, secondNight, false],
    ['up for less', day - 600, secondNight, true],
    ['does not say', undefined, secondNight, undefined],
    ['the clock of the auditor jumped back', 3 * day, '2026-11-20T02:00:00.000Z', undefined],
  ])('%s', (_, uptimeSeconds, at, restarted) => {
    const now = reading({ node: uptimeSeconds === undefined ? {} : { uptimeSeconds } });
    expect(restartedSince({ seenAt: firstNight }, now, at)).toBe(restarted);
  });
});
