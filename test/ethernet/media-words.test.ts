import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseMediaList, parseMediaWords } from '../../src/ethernet/media-words.ts';
import { nameOf } from './twisted-pair-modes.ts';

describe('parseMediaWords', () => {
  const tp = 'twisted-pair';
  // Words of net/if_media.h of macOS and FreeBSD; options as `ifconfig` prints them.
  const rows = [
    ['10baseT/UTP <half-duplex>', 10, 'half', tp, '10BASE-T'],
    ['100baseTX <full-duplex,flow-control>', 100, 'full', tp, '100BASE-TX'],
    ['100BaseT <full-duplex>', 100, 'full', tp, '100BASE-TX'],
    ['100baseT4', 100, 'half', tp, '100BASE-T4'],
    ['100baseFX <full-duplex>', 100, 'full', 'fibre', '100BASE-FX'],
    ['1000baseT <full-duplex,rxpause,txpause>', 1000, 'full', tp, '1000BASE-T'],
    ['1000baseT <full-duplex,master>', 1000, 'full', tp, '1000BASE-T'],
    ['1000baseSX <full-duplex>', 1000, 'full', 'fibre', '1000BASE-SX'],
    ['1000Base-KX <full-duplex>', 1000, 'full', 'backplane', '1000BASE-KX'],
    ['2500Base-T <full-duplex,energy-efficient-ethernet>', 2500, 'full', tp, '2.5GBASE-T'],
    ['2500BaseT', 2500, 'full', tp, '2.5GBASE-T'],
    ['5000Base-T', 5000, 'full', tp, '5GBASE-T'],
    ['10GbaseT <full-duplex>', 10_000, 'full', tp, '10GBASE-T'],
    ['10Gbase-T <full-duplex>', 10_000, 'full', tp, '10GBASE-T'],
    ['10Gbase-T full-duplex flow-control', 10_000, 'full', tp, '10GBASE-T'],
    ['10GbaseSR', 10_000, 'full', 'fibre', '10GBASE-SR'],
    ['10Gbase-LRM', 10_000, 'full', 'fibre', '10GBASE-LRM'],
    ['10Gbase-Twinax <full-duplex>', 10_000, 'full', 'direct-attach', '10GBASE-CR'],
    ['10Gbase-Twinax-Long', 10_000, 'full', 'direct-attach', '10GBASE-CR'],
    ['10GBase-CR1 <full-duplex>', 10_000, 'full', 'direct-attach', '10GBASE-CR'],
    ['10GBase-KX4', 10_000, 'full', 'backplane', '10GBASE-KX4'],
    ['25GBase-CR-S <full-duplex>', 25_000, 'full', 'direct-attach', '25GBASE-CR-S'],
    ['40Gbase-CR4 <full-duplex>', 40_000, 'full', 'direct-attach', '40GBASE-CR4'],
    ['50GBase-KR-PAM4', 50_000, 'full', 'backplane', '50GBASE-KR'],
    ['100GBase-LR4 <full-duplex>', 100_000, 'full', 'fibre', '100GBASE-LR4'],
  ] as const;
  it.each(rows)('%s', (words, speedMbps, duplex, medium, phy) => {
    expect(parseMediaWords(words)).toStrictEqual({ speedMbps, duplex, medium, phy });
  });

  const bare = ['10baseT/UTP', '100baseTX', '1000baseT', '1000baseT <flow-control>'];
  it.each(bare)('%s does not say its duplex', (words) => {
    const read = parseMediaWords(words);
    expect(read).toMatchObject({ medium: 'twisted-pair' });
    expect(read).not.toHaveProperty('duplex');
  });

  it('names the cable where the words name no PHY', () => {
    expect(parseMediaWords('10GBase-AOC <full-duplex>')).toStrictEqual({
      speedMbps: 10_000,
      duplex: 'full',
      medium: 'fibre',
    });
    expect(parseMediaWords('25GBase-ACC')).toStrictEqual({
      speedMbps: 25_000,
      duplex: 'full',
      medium: 'direct-attach',
    });
  });

  const strange = [
    'autoselect',
    'autoselect <full-duplex>',
    'none',
    '<unknown type>',
    '1000Base-SGMII',
    '10GBase-SFI',
    '10base2/BNC',
    'homePNA',
    '2500BaseSX',
    '40GBase-LM4',
    'PCIExpress-25G',
    '10Gbase-T <half-duplex>',
    '1000baseT <full-duplex,half-duplex>',
    '1000baseT <full-duplex> (x)',
    '1000AOC',
    '1000Base-AOC',
    '0baseT',
    '',
    `1000baseT <${'x,'.repeat(200)}>`,
  ];
  it.each(strange)('%s is no mode', (words) => {
    expect(parseMediaWords(words)).toBeUndefined();
  });

  it('never throws', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (words) => {
        const read = parseMediaWords(words);
        if (read !== undefined) expect(read.speedMbps).toBeGreaterThanOrEqual(10);
      }),
    );
  });
});

describe('parseMediaList', () => {
  it('drops words without a duplex where the list has the PHY with one', () => {
    const read = parseMediaList([
      '10baseT/UTP half-duplex',
      '10baseT/UTP full-duplex',
      '10baseT/UTP full-duplex flow-control',
      '1000baseT',
      '1000baseT full-duplex',
      '10Gbase-T full-duplex',
    ]);
    expect(read.modes.map(nameOf)).toEqual([
      '10GBASE-T full',
      '1000BASE-T full',
      '10BASE-T full',
      '10BASE-T half',
    ]);
    expect(read.aside).toEqual([]);
    expect(read.silentMbps).toEqual([]);
  });

  it('keeps aside what it cannot place', () => {
    const read = parseMediaList(['100baseTX', '10Gbase-T', 'autoselect', '1000Base-SGMII']);
    expect(read.modes.map(nameOf)).toEqual(['10GBASE-T full']);
    expect(read.aside).toEqual(['100baseTX', 'autoselect', '1000Base-SGMII']);
  });

  it('reads no more than 256 words', () => {
    const read = parseMediaList([...Array(256).fill('10Gbase-T'), '5000Base-T']);
    expect(read.modes.map(nameOf)).toEqual(['10GBASE-T full']);
    expect(read.aside).toEqual(['5000Base-T']);
  });
});
