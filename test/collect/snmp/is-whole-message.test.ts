import { describe, expect, it } from 'vitest';
import { isWholeMessage } from '../../../src/collect/snmp/is-whole-message.ts';

describe('isWholeMessage', () => {
  const long = (header: string, length: number) => header + '00'.repeat(length);
  it.each([
    ['short length', '3003020100', true],
    ['short length, one octet lost', '30030201', false],
    ['an octet too many, as some agents send', '300302010000', true],
    ['one octet of length', long('3081c8', 200), true],
    ['one octet of length, cut', long('3081c8', 199), false],
    ['two octets of length', long('308201f4', 500), true],
    ['two octets of length, cut', long('308201f4', 499), false],
    ['four octets of length, mostly zeros', long('308400000005', 5), true],
    ['a length cut', '3082', false],
    ['the indefinite form, which SNMP has not', long('3080', 9), false],
    ['nothing', '', false],
    ['a tag alone', '30', false],
    ['another element', '020100', false],
  ])('%s', (_, hex, whole) => {
    expect(isWholeMessage(Buffer.from(hex, 'hex'))).toBe(whole);
  });
});
