import { describe, expect, it } from 'vitest';
import { parseMauCapBits } from '../../src/ethernet/mau-cap-bits.ts';
import { nameOf } from '../ethernet/twisted-pair-modes.ts';

/** IANA-MAU-MIB IANAifMauAutoNegCapBits, 0 to 22 of the 2014 and 23 to 33 of the 2017 revision. */
const modeBits: readonly (readonly [number, readonly string[]])[] = [
  [1, ['10BASE-T half']],
  [2, ['10BASE-T full']],
  [3, ['100BASE-T4 half']],
  [4, ['100BASE-TX half']],
  [5, ['100BASE-TX full']],
  [6, ['100BASE-T2 half']],
  [7, ['100BASE-T2 full']],
  [12, ['1000BASE-X half']],
  [13, ['1000BASE-X full']],
  [14, ['1000BASE-T half']],
  [15, ['1000BASE-T full']],
  [16, ['10GBASE-T full']],
  [17, ['1000BASE-KX full']],
  [18, ['10GBASE-KX4 full']],
  [19, ['10GBASE-KR full']],
  [20, ['40GBASE-KR4 full']],
  [21, ['40GBASE-CR4 full']],
  [22, ['100GBASE-CR10 full']],
  [23, ['1000BASE-T1 full']],
  [24, ['25GBASE-CR-S full', '25GBASE-KR-S full']],
  [25, ['25GBASE-CR full', '25GBASE-KR full']],
  [28, ['25GBASE-T full']],
  [29, ['40GBASE-T full']],
  [30, ['100GBASE-CR4 full']],
  [31, ['100GBASE-KR4 full']],
  [32, ['100GBASE-KP4 full']],
];

function bits(...numbers: readonly number[]): Uint8Array {
  const text = Array.from({ length: 40 }, (_, n) => (numbers.includes(n) ? '1' : '0')).join('');
  return Uint8Array.from(text.match(/.{8}/g) ?? [], (octet) => Number.parseInt(octet, 2));
}

const none = { pause: false, asymmetric: false };

describe('IANA-MAU-MIB IANAifMauAutoNegCapBits', () => {
  it.each(modeBits)('bit %i alone is %j', (bit, names) => {
    const read = parseMauCapBits(bits(bit));
    expect(read.modes.map(nameOf)).toEqual(names);
    expect({ ...read, modes: [] }).toEqual({
      modes: [],
      aside: [],
      silentMbps: [2500, 5000],
      pause: none,
      fecWanted: [],
    });
  });

  const pauses = [
    [8, 'FdxPause', true, false],
    [9, 'FdxAPause', false, true],
    [10, 'FdxSPause', true, false],
    [11, 'FdxBPause', true, true],
  ] as const;
  it.each(pauses)('bit %i is %s, no mode', (bit, _, pause, asymmetric) => {
    const read = parseMauCapBits(bits(bit));
    expect(read).toMatchObject({ modes: [], aside: [], pause: { pause, asymmetric } });
  });

  const rest = [
    [0, ['bOther(0)'], []],
    [26, [], ['rs']],
    [27, [], ['base-r']],
    [33, [], []],
    [34, ['bit 34'], []],
  ] as const;
  it.each(rest)('bit %i is no mode; aside %j, error correction %j', (bit, aside, fecWanted) => {
    expect(parseMauCapBits(bits(bit))).toMatchObject({ modes: [], aside, fecWanted });
  });

  /** Most significant bit first: RFC 2578 7.1.4 (from memory). */
  it('reads 6C 01 as 10 and 100 both ways and 1000 full', () => {
    const read = parseMauCapBits(Uint8Array.of(0x6c, 0x01));
    expect(read.modes.map(nameOf)).toEqual([
      '1000BASE-T full',
      '100BASE-TX full',
      '100BASE-TX half',
      '10BASE-T full',
      '10BASE-T half',
    ]);
  });
  it('reads 00 00 80 as 10GBASE-T alone', () => {
    expect(parseMauCapBits(Uint8Array.of(0, 0, 0x80)).modes.map(nameOf)).toEqual([
      '10GBASE-T full',
    ]);
  });

  const lengths: readonly (readonly [number, readonly number[]])[] = [
    [0, [10, 100, 1000, 2500, 5000, 10_000, 25_000, 40_000]],
    [1, [1000, 2500, 5000, 10_000, 25_000, 40_000]],
    [2, [2500, 5000, 10_000, 25_000, 40_000]],
    [3, [2500, 5000, 25_000, 40_000]],
    [4, [2500, 5000]],
    [5, [2500, 5000]],
  ];
  it.each(lengths)('%i octets are silent on %j Mb/s', (length, silentMbps) => {
    expect(parseMauCapBits(new Uint8Array(length)).silentMbps).toEqual(silentMbps);
  });

  it('reads no more than sixteen octets of a flood', () => {
    const read = parseMauCapBits(new Uint8Array(65_536).fill(0xff));
    expect(read.aside).toHaveLength(1 + (128 - 34) + 1);
    expect(read.aside.at(-1)).toBe('octets after 16');
  });
});
