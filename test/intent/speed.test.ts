import { describe, expect, it } from 'vitest';
import { parseRate, parseSpeed } from '../../src/intent/speed.ts';

describe('parseSpeed', () => {
  it.each([
    ['10M', 10],
    ['100M', 100],
    ['1000M', 1_000],
    ['1G', 1_000],
    ['2.5G', 2_500],
    ['5G', 5_000],
    ['10G', 10_000],
    ['400G', 400_000],
    ['3G', undefined],
    ['0G', undefined],
    ['10g', undefined],
    ['10 G', undefined],
    ['10', undefined],
    ['1e1G', undefined],
  ])('%s is %s Mb/s', (text, mbps) => {
    expect(parseSpeed(text)).toBe(mbps);
  });
});

describe('parseRate', () => {
  it.each([
    ['9.4G', 9_400],
    ['1.005G', 1_005],
    ['4.35G', 4_350],
    ['0.5M', 0.5],
    ['941.482M', 941.482],
    ['0M', undefined],
    ['G', undefined],
  ])('%s is %s Mb/s', (text, mbps) => {
    expect(parseRate(text)).toBe(mbps);
  });
});
