import { describe, expect, it } from 'vitest';
import { pausedShare } from '../../src/ethernet/paused-share.ts';

// IEEE 802.3 Annex 31B: a quantum is 512 bit times, and a pause 65535 quanta at most.
describe('the share of time that pauses take', () => {
  it.each([
    ['one pause at 10 Gb/s in a second', 1, 10_000, 1, 0.0033554],
    ['the same in two seconds', 1, 10_000, 2, 0.0016777],
    ['one at 1 Gb/s', 1, 1000, 1, 0.0335539],
    ['none', 0, 10_000, 1, 0],
  ] as const)('%s', (_name, frames, speedMbps, seconds, share) => {
    expect(pausedShare(frames, speedMbps, seconds)).toBeCloseTo(share, 6);
  });
});
