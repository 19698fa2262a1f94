import { describe, expect, it } from 'vitest';
import { frameLossRatioMax, phyErrorLimit } from '../../src/ethernet/phy-error-limit.ts';

/** Bit error ratios of IEEE 802.3, all from memory. */
const limits: readonly (readonly [string, string, number])[] = [
  ['10BASE-T', '10BASE-T', 1e-8],
  ['1000BASE-T', '1000BASE-T', 1e-10],
  ['1000BASE-SX', '1000BASE-X', 1e-12],
  ['1000BASE-LX10', '1000BASE-X', 1e-12],
  ['2.5GBASE-T', '2.5GBASE-T', 1e-12],
  ['5GBASE-T', '5GBASE-T', 1e-12],
  ['10GBASE-T', '10GBASE-T', 1e-12],
  ['10GBASE-R', '10GBASE-R', 1e-12],
  ['10GBASE-SR', '10GBASE-R', 1e-12],
  ['10GBASE-LRM', '10GBASE-R', 1e-12],
  ['25GBASE-SR', '25GBASE-R', 1e-12],
  ['25GBASE-CR-S', '25GBASE-R', 1e-12],
  ['40GBASE-SR4', '40GBASE-R', 1e-12],
  ['100GBASE-SR4', '100GBASE-R', 1e-12],
  ['100GBASE-LR4', '100GBASE-R', 1e-12],
];

describe('the error limit of a PHY', () => {
  it.each(limits)('of %s is that of %s', (name, phy, ratio) => {
    expect(phyErrorLimit(name)).toMatchObject({ phy, bitErrorRatioMax: ratio });
    expect(phyErrorLimit(name)).not.toHaveProperty('names');
  });

  it.each(['100BASE-TX', '10G', '', '10GBASE-SRX', ' 10GBASE-T', '400GBASE-DR4'])(
    'of "%s" is not known',
    (name) => {
      expect(phyErrorLimit(name)).toBeUndefined();
    },
  );

  it('is set apart for those that correct errors', () => {
    const correcting = limits.flatMap(([name]) => {
      const limit = phyErrorLimit(name);
      return limit?.burstBits === undefined ? [] : [name];
    });
    expect(correcting).toEqual([
      '2.5GBASE-T',
      '5GBASE-T',
      '10GBASE-T',
      '25GBASE-SR',
      '25GBASE-CR-S',
      '100GBASE-SR4',
    ]);
  });

  it.each(limits)('of %s in frames agrees with that in bits', (name) => {
    const limit = phyErrorLimit(name);
    if (limit === undefined) throw new Error('no limit');
    const inBits = limit.bitErrorRatioMax * limit.frameBytes * 8;
    // RS-FEC: 6.2e-10 is 1e-12 over the 620 bits that a frame of 64 bytes takes with its gap.
    expect(limit.frameLossRatioMax / inBits).toBeGreaterThan(0.99);
    expect(limit.frameLossRatioMax / inBits).toBeLessThan(1.25);
  });
});

describe('frames that may be lost', () => {
  const ratio = (name: string, bytes: number) => {
    const limit = phyErrorLimit(name);
    return limit === undefined ? Number.NaN : frameLossRatioMax(limit, bytes * 8);
  };

  it('are as the standard says for its own frame', () => {
    expect(ratio('1000BASE-T', 125)).toBeCloseTo(1e-7, 20);
    expect(ratio('10GBASE-T', 800)).toBe(6.4e-9);
    expect(ratio('25GBASE-SR', 64)).toBe(6.2e-10);
  });

  it('grow with the frame where errors come singly', () => {
    expect(ratio('1000BASE-T', 1250)).toBeCloseTo(1e-6, 18);
  });

  it('are one in nine more than code words lost, for eight frames to a code word (RS-FEC, 802.3)', () => {
    const limit = phyErrorLimit('100GBASE-SR4');
    if (limit === undefined) throw new Error('no limit');
    const codeWord = frameLossRatioMax(limit, 0);
    expect(frameLossRatioMax(limit, 5280 / 8) / codeWord).toBeCloseTo(9 / 8, 12);
  });
});
