import { describe, expect, it } from 'vitest';
import { parseFigure } from '../../src/diagnose/measured-figure.ts';

describe('a measured figure', () => {
  /** Text, Mb/s, half of the last digit as a share. */
  const rows: readonly (readonly [string, number, number])[] = [
    ['9.41G', 9410, 0.005 / 9.41],
    ['9.41Gbit/s', 9410, 0.005 / 9.41],
    ['9.41 Gb/s', 9410, 0.005 / 9.41],
    ['941M', 941, 0.5 / 941],
    ['941.5Mb/s', 941.5, 0.05 / 941.5],
    ['2.35G', 2350, 0.005 / 2.35],
    ['10G', 10_000, 0.05],
    ['800k', 0.8, 0.5 / 800],
    ['117MB/s', 936, 0.5 / 117],
    ['112MiB/s', (112 * 2 ** 20 * 8) / 1e6, 0.5 / 112],
    ['1.1GiB/s', (1.1 * 2 ** 30 * 8) / 1e6, 0.05 / 1.1],
    ['1.18GB/s', 9440, 0.005 / 1.18],
  ];
  it.each(rows)('%s', (text, mbps, share) => {
    const figure = parseFigure(text);
    expect(figure?.mbps).toBeCloseTo(mbps, 9);
    expect(figure?.roundingShare).toBeCloseTo(share, 12);
  });

  it('of bytes in all is divided by the seconds: 23.1 GiB in 20 s are 9.92 Gb/s', () => {
    const figure = parseFigure('23.1GiB', 20);
    expect(figure?.mbps).toBeCloseTo((23.1 * 2 ** 30 * 8) / 20 / 1e6, 9);
    expect((figure?.mbps ?? 0) / 1000).toBeCloseTo(9.92, 2);
  });

  it('of a rate is the same whatever the seconds', () => {
    expect(parseFigure('941M', 20)?.mbps).toBe(941);
  });

  it.each([
    '',
    '941',
    'M',
    '0M',
    '0.00G',
    '-9.41G',
    '9,41G',
    '1e3M',
    '0x10M',
    '9.41g',
    '9.41Gib/s',
    '9.41Gi',
    '9.41GB/s extra',
    '23.1GiB',
    '9.1234567G',
    '9.41G\n',
    'NaNM',
    'InfinityG',
    '1234567890123M',
  ])('is refused: "%s"', (text) => {
    expect(parseFigure(text)).toBeUndefined();
  });

  it.each([0, -1, Number.NaN])('of bytes in %d seconds is refused', (seconds) => {
    expect(parseFigure('23.1GiB', seconds)).toBeUndefined();
  });
});
