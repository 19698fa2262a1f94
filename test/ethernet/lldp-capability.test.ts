import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseLldpCapability } from '../../src/ethernet/lldp-capability.ts';
import { nameOf } from './twisted-pair-modes.ts';

const usual = [
  '1000BASE-T full',
  '100BASE-TX full',
  '100BASE-TX half',
  '10BASE-T full',
  '10BASE-T half',
];

describe('parseLldpCapability', () => {
  type Row = readonly [
    why: string,
    octets: readonly [number, number],
    operMauType: number | undefined,
    plausible: string,
    asSent: readonly string[],
    reversed: readonly string[],
  ];
  const x = ['1000BASE-X full', '1000BASE-T half'];
  // The reversed order is from memory; MAU types are those of IANA-MAU-MIB.
  const rows: readonly Row[] = [
    ['10, 100 and 1000 as the standard orders them', [0x6c, 0x01], undefined, 'as-sent', usual, x],
    ['the same turned round', [0x80, 0x36], undefined, 'reversed', x, usual],
    ['and running 1000BASE-T full', [0x80, 0x36], 30, 'reversed', x, usual],
    [
      '1000 full alone may be bOther turned round',
      [0x00, 0x01],
      undefined,
      'both',
      usual.slice(0, 1),
      [],
    ],
    ['unless it runs so', [0x00, 0x01], 30, 'as-sent', usual.slice(0, 1), []],
    [
      'bOther alone may be 1000 full turned round',
      [0x80, 0x00],
      undefined,
      'both',
      [],
      usual.slice(0, 1),
    ],
    ['and is, where it runs so', [0x80, 0x00], 30, 'reversed', [], usual.slice(0, 1)],
    [
      'a mode in use that no bit names tells nothing',
      [0x80, 0x00],
      54,
      'both',
      [],
      usual.slice(0, 1),
    ],
    ['nor does type 0', [0x80, 0x00], 0, 'both', [], usual.slice(0, 1)],
    [
      '10BASE-T of unknown duplex tells as well',
      [0x40, 0x00],
      5,
      'as-sent',
      ['10BASE-T half'],
      ['1000BASE-T half'],
    ],
    [
      'modes that are not built either way',
      [0x10, 0x08],
      undefined,
      'neither',
      ['1000BASE-X half', '100BASE-T4 half'],
      ['1000BASE-X half', '100BASE-T4 half'],
    ],
    [
      '100BASE-T2 in one and 1000BASE-X half in the other',
      [0x02, 0x08],
      undefined,
      'neither',
      ['1000BASE-X half', '100BASE-T2 half'],
      ['100BASE-T4 half'],
    ],
  ];
  it.each(rows)('%s', (_, octets, operMauType, plausible, asSent, reversed) => {
    const read = parseLldpCapability(Uint8Array.from(octets), operMauType);
    expect(read?.plausible).toBe(plausible);
    expect(read?.asSent.modes.map(nameOf)).toEqual(asSent);
    expect(read?.reversed?.modes.map(nameOf) ?? asSent).toEqual(reversed);
  });

  it('has one reading where both orders are the same octets', () => {
    const read = parseLldpCapability(Uint8Array.of(0x20, 0x04));
    expect(read).not.toHaveProperty('reversed');
    expect(read?.asSent.modes.map(nameOf)).toEqual(['1000BASE-X full', '10BASE-T full']);
    expect(read?.plausible).toBe('as-sent');
  });

  it('cannot say 2.5GBASE-T and 5GBASE-T, nor anything from 10GBASE-T on', () => {
    const read = parseLldpCapability(Uint8Array.of(0x6c, 0x01));
    expect(read?.asSent.silentMbps).toEqual([2500, 5000, 10_000, 25_000, 40_000]);
    expect(read?.reversed?.silentMbps).toEqual([2500, 5000, 10_000, 25_000, 40_000]);
  });

  it.each([0, 1, 3, 4, 65_536])('%i octets are not the field', (length) => {
    expect(parseLldpCapability(new Uint8Array(length))).toBeUndefined();
  });

  it('turned round gives the readings the other way round', () => {
    const turn = (octets: readonly number[]) => {
      const bits = octets.map((octet) => octet.toString(2).padStart(8, '0')).join('');
      const back = [...bits].reverse().join('');
      return [back.slice(0, 8), back.slice(8)].map((octet) => Number.parseInt(octet, 2));
    };
    const octet = fc.integer({ min: 0, max: 255 });
    const used = fc.option(fc.constantFrom(5, 10, 15, 16, 22, 29, 30, 54), { nil: undefined });
    const mirror = { 'as-sent': 'reversed', reversed: 'as-sent', both: 'both', neither: 'neither' };
    fc.assert(
      fc.property(octet, octet, used, (first, second, operMauType) => {
        const here = parseLldpCapability(Uint8Array.of(first, second), operMauType);
        const there = parseLldpCapability(Uint8Array.from(turn([first, second])), operMauType);
        if (here?.reversed === undefined) {
          expect(there).toEqual(here);
          return;
        }
        expect(there?.asSent).toEqual(here.reversed);
        expect(there?.reversed).toEqual(here.asSent);
        expect(there?.plausible).toBe(mirror[here.plausible]);
      }),
    );
  });
});
