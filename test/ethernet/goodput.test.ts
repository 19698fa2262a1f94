import { describe, expect, it } from 'vitest';
import {
  goodputMbps,
  megabytesPerSecond,
  segmentBytes,
  usualStack,
} from '../../src/ethernet/goodput.ts';

describe('goodput', () => {
  it('is nothing where headers fill the packet', () => {
    expect(segmentBytes(52, usualStack)).toBe(0);
    expect(goodputMbps(10_000, 40, usualStack)).toBe(0);
    expect(segmentBytes(53, usualStack)).toBe(1);
  });

  it('in megabytes a second is an eighth', () => {
    expect(megabytesPerSecond(9414.4)).toBeCloseTo(1176.8, 9);
  });
});
