import { describe, expect, it } from 'vitest';
import { pairsNeeded } from '../../src/ethernet/pairs-needed.ts';
import { modesOfPhy } from '../../src/ethernet/phy.ts';

describe('pairsNeeded', () => {
  /** 10BASE-T, 100BASE-TX and 1000BASE-T and up from a secondary source, the rest from memory. */
  const rows = [
    ['10BASE-T', 2],
    ['100BASE-TX', 2],
    ['100BASE-T2', 2],
    ['100BASE-T4', 4],
    ['1000BASE-T', 4],
    ['2.5GBASE-T', 4],
    ['5GBASE-T', 4],
    ['10GBASE-T', 4],
    ['25GBASE-T', 4],
    ['40GBASE-T', 4],
    ['10BASE-T1L', 1],
    ['10BASE-T1S', 1],
    ['100BASE-T1', 1],
    ['1000BASE-T1', 1],
    ['10GBASE-SR', undefined],
    ['10GBASE-CR', undefined],
    ['10GBASE-KR', undefined],
    ['1000BASE-X', undefined],
  ] as const;
  it.each(rows)('%s: %s', (phy, pairs) => {
    const modes = modesOfPhy(phy);
    expect(modes.length).toBeGreaterThan(0);
    for (const mode of modes) expect(pairsNeeded(mode)).toBe(pairs);
  });

  it('is not known of 100 Mb/s whose PHY is not named', () => {
    const mode = { speedMbps: 100, duplex: 'full', medium: 'twisted-pair' } as const;
    expect(pairsNeeded(mode)).toBeUndefined();
  });
});
