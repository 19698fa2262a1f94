import { describe, expect, it } from 'vitest';
import { modesOfPhy, parsePhy, phyOf } from '../../src/ethernet/phy.ts';

describe('parsePhy', () => {
  const rows = [
    ['10BASE-T', 10, 'twisted-pair', ['full', 'half']],
    ['100BASE-TX', 100, 'twisted-pair', ['full', 'half']],
    ['100BASE-T4', 100, 'twisted-pair', ['half']],
    ['1000BASE-T', 1000, 'twisted-pair', ['full', 'half']],
    ['2.5GBASE-T', 2500, 'twisted-pair', ['full']],
    ['10GBASE-SR', 10_000, 'fibre', ['full']],
    ['100GBASE-SR10', 100_000, 'fibre', ['full']],
    ['25GBASE-CR-S', 25_000, 'direct-attach', ['full']],
    ['5GBASE-KR', 5000, 'backplane', ['full']],
    ['1000BASE-X', 1000, 'unknown', ['full', 'half']],
    ['1.6TBASE-CR8', 1_600_000, 'direct-attach', ['full']],
  ] as const;
  it.each(rows)('%s', (phy, speedMbps, medium, duplexes) => {
    expect(parsePhy(phy)).toEqual({ phy, speedMbps, medium, duplexes });
  });

  const strange = [
    '',
    '10BASE-TX',
    '1GBASE-T',
    '10000BASE-T',
    '0.01GBASE-T',
    '10gbase-t',
    '10GBASE-T ',
    '2.50GBASE-T',
    '7GBASE-SR',
    '1000BASE-SR',
    '2.5GBASE-SX',
    '10GBASE-CR-T',
    `10GBASE-${'S'.repeat(300)}`,
  ];
  it.each(strange)('%j is none', (name) => {
    expect(parsePhy(name)).toBeUndefined();
  });

  it.each([Number.NaN, -10, 0, 10.5, Number.POSITIVE_INFINITY])('%d Mb/s is none', (speed) => {
    expect(phyOf(speed, 'T')).toBeUndefined();
    expect(phyOf(speed, 'SR')).toBeUndefined();
  });
});

describe('modesOfPhy', () => {
  it('gives full duplex first, or the one asked for', () => {
    const half = { speedMbps: 10, duplex: 'half', medium: 'twisted-pair', phy: '10BASE-T' };
    expect(modesOfPhy('10BASE-T')).toEqual([{ ...half, duplex: 'full' }, half]);
    expect(modesOfPhy('10BASE-T', 'half')).toEqual([half]);
    expect(modesOfPhy('10GBASE-T', 'half')).toEqual([]);
    expect(modesOfPhy('HomePNA')).toEqual([]);
  });
});
