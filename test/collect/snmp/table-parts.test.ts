import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addressOfOctets, indexParts, macOfParts } from '../../../src/collect/snmp/index-parts.ts';
import { ifIndexOfPointer } from '../../../src/collect/snmp/known-ports.ts';
import { lldpCapabilities, lldpIdentity } from '../../../src/collect/snmp/lldp-identity.ts';
import { portsOfList } from '../../../src/collect/snmp/port-list.ts';
import { measuredBy } from '../../../src/collect/snmp/sensor-value.ts';

describe('parts of an index', () => {
  it.each([
    ['0.3.7', 3, [0, 3, 7]],
    ['0.3', 3, undefined],
    ['0.3.99999999999', 3, undefined],
    ['0.3.4294967296', 3, undefined],
    ['', 1, undefined],
    ['0..3', 2, undefined],
    ['-1', 1, undefined],
  ])('%s of %i numbers', (index, count, parts) => {
    expect(indexParts(index, count)).toEqual(parts);
  });

  it.each([
    [[2, 0, 94, 0, 0, 49], '02:00:5e:00:00:31'],
    [[2, 0, 94, 0, 0], undefined],
    [[2, 0, 94, 0, 0, 256], undefined],
    [[0, 0, 0, 0, 0, 0], undefined],
  ])('%j as a MAC address', (parts, mac) => {
    expect(macOfParts(parts)).toBe(mac);
  });

  // RFC 5952 4.2: the longest run of zeroes is shortened, the first of equals, never a single one.
  it.each([
    [1, [198, 18, 0, 2], '198.18.0.2'],
    [1, [198, 18, 0], undefined],
    [1, [198, 18, 0, 300], undefined],
    [2, [0x20, 1, 0, 2, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0x31], '2001:2:0:1::31'],
    [2, [0x20, 1, 0xd, 0xb8, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1], '2001:db8:0:1:1:1:1:1'],
    [2, Array(16).fill(0), '::'],
    [6, [2, 0, 94, 0, 0, 49], undefined],
  ])('family %i %j as an address', (family, octets, address) => {
    expect(addressOfOctets(family, octets)).toBe(address);
  });

  it('writes IPv6 as the URL parser of WHATWG does', () => {
    const octet = fc.oneof(fc.constant(0), fc.nat({ max: 255 }));
    fc.assert(
      fc.property(fc.array(octet, { minLength: 16, maxLength: 16 }), (octets) => {
        const hex = Buffer.from(octets)
          .toString('hex')
          .replace(/....(?!$)/g, '$&:');
        expect(`[${addressOfOctets(2, octets)}]`).toBe(new URL(`http://[${hex}]/`).hostname);
      }),
    );
  });
});

describe('a PortList (RFC 4363)', () => {
  it.each([
    ['80', [1]],
    ['01', [8]],
    ['4001', [2, 16]],
    ['', []],
  ])('%s', (hex, ports) => {
    expect(portsOfList(Buffer.from(hex, 'hex'))).toEqual(ports);
  });

  it('is not read when it is longer than any', () => {
    expect(portsOfList(new Uint8Array(8193))).toBeUndefined();
  });
});

describe('a pointer to a port', () => {
  it.each([
    ['1.3.6.1.2.1.2.2.1.1.23', 23],
    ['1.3.6.1.2.1.2.2.1.1.0', undefined],
    ['1.3.6.1.2.1.2.2.1.1', undefined],
    ['1.3.6.1.2.1.31.1.1.1.1.23', undefined],
  ])('%s', (pointer, ifIndex) => {
    expect(ifIndexOfPointer(pointer)).toBe(ifIndex);
  });
});

describe('an identifier of LLDP', () => {
  it.each([
    ['mac', '02005e0000AA', '02:00:5e:00:00:aa', 'mac'],
    ['mac', Buffer.from('02-00-5E-00-00-AA').toString('hex'), '02:00:5e:00:00:aa', 'mac'],
    ['mac', '0200', '0200', 'other'],
    ['address', '01c6120002', '198.18.0.2', 'address'],
    ['address', '07c6120002', '07c6120002', 'other'],
    ['name', Buffer.from('xg1').toString('hex'), 'xg1', 'name'],
    ['name', Buffer.from('xg1\0\0').toString('hex'), 'xg1', 'name'],
    ['other', 'ff00', 'ff00', 'other'],
  ] as const)('%s %s', (kind, hex, text, read) => {
    expect(lldpIdentity(Buffer.from(hex, 'hex'), kind)).toEqual({ text, kind: read });
  });

  it('has capabilities in the order of IEEE 802.1AB-2016 8.5.8', () => {
    expect(lldpCapabilities(Buffer.from('2800', 'hex'))).toEqual(['bridge', 'router']);
    expect(lldpCapabilities(Buffer.from('10', 'hex'))).toEqual(['wlan-access-point']);
    expect(lldpCapabilities(Buffer.from('0180', 'hex'))).toEqual(['station', 'c-vlan']);
  });
});

describe('a sensor (RFC 3433)', () => {
  it.each([
    // The example of the module: 0..1000 of precision 1 is 0..100.0 degrees.
    ['celsius', { type: 8, scale: 9, precision: 1, value: 1000 }, { celsius: 100 }],
    ['below zero', { type: 8, scale: 9, precision: 0, value: -5 }, { celsius: -5 }],
    ['milliwatts', { type: 6, scale: 8, precision: 4, value: 5012 }, { dbm: -3 }],
    ['microwatts', { type: 6, scale: 7, precision: 1, value: 10_000 }, { dbm: 0 }],
    ['no light', { type: 6, scale: 8, precision: 4, value: 0 }, { dbm: -40 }],
    ['power below zero', { type: 6, scale: 8, precision: 4, value: -1 }, undefined],
    ['a monitor full of ones', { type: 6, scale: 8, precision: 4, value: 65_535 }, undefined],
    [
      'dBm by its units',
      { type: 1, scale: 9, precision: 2, value: -310, units: 'dBm' },
      { dbm: -3.1 },
    ],
    ['other units', { type: 1, scale: 9, precision: 2, value: -310, units: 'dB' }, undefined],
    ['volts', { type: 4, scale: 9, precision: 2, value: 330 }, undefined],
    ['not operational', { type: 8, scale: 9, precision: 0, value: 30, status: 3 }, undefined],
    ['overflow', { type: 8, scale: 9, precision: 0, value: 1_000_000_000 }, undefined],
    ['no such scale', { type: 8, scale: 18, precision: 0, value: 3 }, undefined],
  ])('%s', (_, row, measured) => {
    expect(measuredBy(row)).toEqual(measured);
  });
});
