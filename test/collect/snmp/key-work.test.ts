import snmp from 'net-snmp';
import { describe, expect, it } from 'vitest';
import { passwordToKey } from '../../../src/collect/snmp/key-work.ts';

const { md5, sha } = snmp.AuthProtocols;

describe('passwordToKey', () => {
  // RFC 3414, A.3.1 and A.3.2: password "maplesyrup", engine 00..02.
  it.each([
    ['MD5', md5, '526f5eed9fcce26f8964c2930787d82b'],
    ['SHA', sha, '6695febc9288e36282235fc7151f128497b38f3f'],
  ])('gives the %s key of RFC 3414', (_, protocol, key) => {
    const engine = Buffer.from('000000000000000000000002', 'hex');
    expect(passwordToKey(protocol, 'maplesyrup', engine).toString('hex')).toBe(key);
    expect(passwordToKey(protocol, 'maplesyrup', engine).toString('hex')).toBe(key);
  });
});
