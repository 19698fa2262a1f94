import { describe, expect, it } from 'vitest';
import { snmpSpeed } from '../../src/ethernet/snmp-speed.ts';

const high = 'IF-MIB ifHighSpeed';
const low = 'IF-MIB ifSpeed';

describe('RFC 2863, ifSpeed and ifHighSpeed', () => {
  const told: readonly (readonly [
    string,
    number | undefined,
    number | undefined,
    number,
    string,
  ])[] = [
    ['a rate that fits', 1_000_000_000, 1000, 1000, high],
    ['2.5 Gb/s still fits in ifSpeed', 2_500_000_000, undefined, 2500, low],
    [
      'above 4.29 Gb/s ifSpeed is at its end and ifHighSpeed rules',
      4_294_967_295,
      10_000,
      10_000,
      high,
    ],
    ['5 Gb/s', 4_294_967_295, 5000, 5000, high],
    ['ifHighSpeed counts millions', 10_000_000, 10, 10, high],
    ['an aggregate of four', 4_294_967_295, 40_000, 40_000, high],
    // Common practice: agents that forget to stop at the end of 32 bits.
    ['ifSpeed wrapped, ifHighSpeed right', 1_410_065_408, 10_000, 10_000, high],
    ['ifSpeed filled with Mb/s, ifHighSpeed right', 10_000, 10_000, 10_000, high],
    ['ifSpeed stops at 1 Gb/s, ifHighSpeed right', 1_000_000_000, 10_000, 10_000, high],
    ['ifHighSpeed not filled, ifSpeed right', 1_000_000_000, 0, 1000, low],
  ];
  it.each(told)('%s', (_, ifSpeed, ifHighSpeed, speedMbps, source) => {
    const reading = {
      operUp: true,
      ...(ifSpeed === undefined ? {} : { ifSpeed }),
      ...(ifHighSpeed === undefined ? {} : { ifHighSpeed }),
    };
    expect(snmpSpeed(reading)).toEqual({ speedMbps, source });
  });

  const absent: readonly (readonly [string, Parameters<typeof snmpSpeed>[0], string, string])[] = [
    [
      'a port that is down',
      { operUp: false, ifSpeed: 1_000_000_000, ifHighSpeed: 1000 },
      'down',
      'ifOperStatus is not up',
    ],
    ['a port of which nobody knows', { ifHighSpeed: 1000 }, 'down', 'ifOperStatus is not up'],
    ['neither object', { operUp: true }, 'unsupported', 'neither ifHighSpeed nor ifSpeed is there'],
    [
      'both 0',
      { operUp: true, ifSpeed: 0, ifHighSpeed: 0 },
      'unsupported',
      'ifHighSpeed 0, ifSpeed 0: not known',
    ],
    [
      'ifSpeed at its end alone',
      { operUp: true, ifSpeed: 4_294_967_295 },
      'doubtful',
      'ifHighSpeed missing, ifSpeed 4294967295: more than 4294 Mb/s, how much is not said',
    ],
    [
      'both wrapped',
      { operUp: true, ifSpeed: 1_410_065_408, ifHighSpeed: 1410 },
      'doubtful',
      'ifHighSpeed 1410, ifSpeed 1410065408: no speed of an Ethernet',
    ],
    [
      'ifSpeed filled with Mb/s alone',
      { operUp: true, ifSpeed: 10_000 },
      'doubtful',
      'ifHighSpeed missing, ifSpeed 10000: no speed of an Ethernet',
    ],
    [
      'two objects that contradict each other',
      { operUp: true, ifSpeed: 4_294_967_295, ifHighSpeed: 1000 },
      'doubtful',
      'ifHighSpeed says 1000 and ifSpeed more than 4294',
    ],
    [
      'ifHighSpeed filled with bit/s',
      { operUp: true, ifHighSpeed: 1_000_000_000 },
      'doubtful',
      'ifHighSpeed 1000000000 is more than any Ethernet',
    ],
  ];
  it.each(absent)('%s', (_, reading, reason, words) => {
    expect(snmpSpeed(reading)).toEqual({ gap: { reason, words } });
  });

  /** 32-bit remainders of 5, 10, 25, 40 and 100 Gb/s; arithmetic, met in the field. */
  const wrapped = [705_032_704, 1_410_065_408, 3_525_163_520, 1_345_294_336, 1_215_752_192];
  it.each(wrapped)('a wrapped %i is no speed, in either object', (bits) => {
    const reading = { operUp: true, ifSpeed: bits, ifHighSpeed: Math.floor(bits / 1e6) };
    expect(snmpSpeed(reading)).toHaveProperty('gap.reason', 'doubtful');
  });
});
