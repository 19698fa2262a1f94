import { describe, expect, it } from 'vitest';
import { copperPhys } from '../../src/ethernet/copper-reach.ts';
import { directAttachPhys } from '../../src/ethernet/direct-attach-reach.ts';
import { phyRateMbps } from '../../src/ethernet/phy-rate.ts';

describe('phyRateMbps (IEEE Std 802.3, 1.2.3: rate, signalling, medium)', () => {
  it.each([
    ['10BASE-T', 10],
    ['100BASE-FX', 100],
    ['1000BASE-LX10', 1000],
    ['2.5GBASE-T', 2500],
    ['5GBASE-T', 5000],
    ['10GBASE-SR', 10_000],
    ['100GBASE-SR4', 100_000],
  ])('%s: %i Mb/s', (phy, rate) => {
    expect(phyRateMbps(phy)).toBe(rate);
  });

  it.each(['', '10G', 'BASE-T', '10gbase-t', ' 10GBASE-T', '10 GBASE-T', '1e3BASE-T', '-1GBASE-T'])(
    '%j has no rate',
    (text) => {
      expect(phyRateMbps(text)).toBeUndefined();
    },
  );

  it('agrees with the rates that the tables of media spell out', () => {
    for (const { phy, rateMbps } of [...copperPhys, ...directAttachPhys]) {
      expect([phy, phyRateMbps(phy)]).toEqual([phy, rateMbps]);
    }
  });
});
