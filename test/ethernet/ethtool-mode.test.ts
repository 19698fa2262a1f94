import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ethtoolModeName,
  parseEthtoolMode,
  parseEthtoolModes,
} from '../../src/ethernet/ethtool-mode.ts';
import { modeNamed, nameOf, someNames } from './twisted-pair-modes.ts';

describe('parseEthtoolModes', () => {
  it('sorts by priority and takes each mode once', () => {
    const read = parseEthtoolModes([
      '100baseT/Half',
      '1000baseT/Full',
      '10000baseT/Full',
      '2500baseT/Full',
      '1000baseT/Full',
    ]);
    expect(read.modes.map(nameOf)).toEqual([
      '10GBASE-T full',
      '2.5GBASE-T full',
      '1000BASE-T full',
      '100BASE-TX half',
    ]);
    expect(read.aside).toEqual([]);
  });

  it('takes FEC of 10GBASE-R for no mode of its own', () => {
    expect(parseEthtoolMode('10000baseR_FEC')).toEqual({
      speedMbps: 10_000,
      duplex: 'full',
      medium: 'unknown',
      phy: '10GBASE-R',
    });
  });

  // Not guessed: numbers of modes not known, half duplex that does not exist, names of no PHY.
  const strange = [
    'BIT92',
    'BIT100',
    '10000baseT/Half',
    '2500baseT/Half',
    '1000baseTX/Full',
    '10000baseQQ/Full',
    '37000baseSR/Full',
    '010baseT/Full',
    '1000baseT/full',
    '1000baseT',
    '1000BASET/Full',
    '100baseT4/Full',
    'Not',
    '',
    ' 1000baseT/Full',
    '1000baseT/Full\n',
    '1000base\u202eT/Full',
    '9'.repeat(400),
  ];
  it.each(strange)('keeps %j aside', (name) => {
    expect(parseEthtoolModes([name, '10baseT/Half'])).toEqual({
      modes: [modeNamed('10BASE-T half')],
      aside: [name],
      silentMbps: [],
    });
  });

  it('reads no more than 256 names', () => {
    const read = parseEthtoolModes([...Array(256).fill('10baseT/Half'), '1000baseT/Full']);
    expect(read.modes.map(nameOf)).toEqual(['10BASE-T half']);
    expect(read.aside).toEqual(['1000baseT/Full']);
  });

  it('prints what it reads and reads what it prints', () => {
    fc.assert(
      fc.property(someNames, (names) => {
        // T2 and T4 have no name in ethtool, but print in its manner.
        const printed = names.map((name) => ethtoolModeName(modeNamed(name)) ?? '');
        const read = parseEthtoolModes(printed);
        expect(read.aside).toEqual([]);
        expect(read.modes.map(nameOf).toSorted()).toEqual(names.toSorted());
      }),
    );
  });

  it('never throws and loses no name, whatever it is given', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary', maxLength: 40 })), (names) => {
        const read = parseEthtoolModes(names);
        expect(read.modes.length + read.aside.length).toBeLessThanOrEqual(names.length);
        const back = read.modes.map(ethtoolModeName);
        for (const name of names) expect([...read.aside, ...back]).toContain(name);
      }),
    );
  });

  it('prints nothing for a mode without a PHY', () => {
    const mode = { speedMbps: 10_000, duplex: 'full', medium: 'fibre' } as const;
    expect(ethtoolModeName(mode)).toBeUndefined();
    expect(ethtoolModeName({ ...mode, phy: '10GBASE-ZZ' })).toBeUndefined();
  });
});
