import snmp from 'net-snmp';
import { describe, expect, it } from 'vitest';
import {
  counterOf,
  hexOf,
  identifierOf,
  integerOf,
  macOf,
  textOf,
} from '../../../src/collect/snmp/values.ts';

const { Integer, Gauge, Counter, Counter64, OctetString, OID, Null } = snmp.ObjectType;
const at = (type: number, value: snmp.VarbindValue) => ({ oid: '1.3.6.1', type, value });
const octets = (hex: string) => at(OctetString, Buffer.from(hex, 'hex'));
const unreadable = (words: string) => ({ gap: { reason: 'unreadable', words } });

describe('integerOf', () => {
  it.each([
    ['an integer', at(Integer, 9216), { value: 9216 }],
    ['a gauge in its place', at(Gauge, 1500), { value: 1500 }],
    ['below its range', at(Integer, -1), unreadable('ifMtu was -1 of type 2')],
    ['a text', octets('31353030'), unreadable('ifMtu was 4 octets 31353030 of type 4')],
    ['null', at(Null, null), unreadable('ifMtu was nothing of type 5')],
    ['no number', at(Integer, Number.NaN), unreadable('ifMtu was NaN of type 2')],
  ])('%s', (_, varbind, read) => {
    expect(integerOf(varbind, 'ifMtu', [0, 2_147_483_647])).toEqual(read);
  });
});

describe('counterOf', () => {
  it.each([
    ['32 bits', at(Counter, 4_294_967_295), { value: 4_294_967_295 }],
    ['no octet', at(Counter64, Buffer.alloc(0)), { value: 0 }],
    ['one octet', at(Counter64, Buffer.of(7)), { value: 7 }],
    ['a leading zero', at(Counter64, Buffer.from('00ff', 'hex')), { value: 255 }],
    ['2^53 - 1', at(Counter64, Buffer.from('1fffffffffffff', 'hex')), { value: 2 ** 53 - 1 }],
    ['2^64 - 1', at(Counter64, Buffer.from('00ffffffffffffffff', 'hex')), { value: 2 ** 64 }],
    [
      '2^64',
      at(Counter64, Buffer.from('010000000000000000', 'hex')),
      unreadable('c was 9 octets 010000000000000000 of type 70'),
    ],
    [
      'ten octets',
      at(Counter64, Buffer.alloc(10)),
      unreadable('c was 10 octets 00000000000000000000 of type 70'),
    ],
  ])('%s', (_, varbind, read) => {
    expect(counterOf(varbind, 'c')).toEqual(read);
  });
});

describe('textOf', () => {
  it.each([
    ['UTF-8', at(OctetString, Buffer.from('Kai – Süd')), { value: 'Kai – Süd' }],
    ['controls', at(OctetString, Buffer.from('a\u001b[31mb\0')), { value: 'a [31mb' }],
    ['no UTF-8', octets('ff41'), { value: '\ufffdA' }],
    ['empty', octets(''), { value: '' }],
    ['a number', at(Integer, 5), unreadable('t was 5 of type 2')],
  ])('%s', (_, varbind, read) => {
    expect(textOf(varbind, 't')).toEqual(read);
  });
});

describe('macOf', () => {
  it.each([
    ['six octets', octets('02005E00000A'), { value: '02:00:5e:00:00:0a' }],
    ['none', octets(''), { gap: { reason: 'unsupported', words: 'm is empty' } }],
    ['zeros', octets('000000000000'), { gap: { reason: 'unsupported', words: 'm is empty' } }],
    [
      'eight octets',
      octets('0200000000000001'),
      unreadable('m was 8 octets 0200000000000001 of type 4'),
    ],
  ])('%s', (_, varbind, read) => {
    expect(macOf(varbind, 'm')).toEqual(read);
  });
});

describe('identifierOf and hexOf', () => {
  it('read what they are for and nothing else', () => {
    expect(identifierOf(at(OID, '1.3.6.1.4.1.32473'), 'o')).toEqual({ value: '1.3.6.1.4.1.32473' });
    expect(identifierOf(at(OID, 'NaN.NaN'), 'o')).toEqual(unreadable('o was NaN.NaN of type 6'));
    expect(hexOf(octets('80007ED9'), 'e')).toEqual({ value: '80007ed9' });
    expect(hexOf(at(Integer, 1), 'e')).toEqual(unreadable('e was 1 of type 2'));
  });
});
