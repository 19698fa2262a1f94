import { isIPv4, isIPv6 } from 'node:net';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseAddress } from '../../src/intent/address.ts';

describe('parseAddress', () => {
  it.each([
    ['vault', { host: 'vault' }],
    ['vault.office.example', { host: 'vault.office.example' }],
    ['vault.office.example:2222', { host: 'vault.office.example', port: 2222 }],
    ['198.18.0.5', { host: '198.18.0.5' }],
    ['198.18.0.5:161', { host: '198.18.0.5', port: 161 }],
    ['2001:db8::5', { host: '2001:db8::5' }],
    ['[2001:db8::5]', { host: '2001:db8::5' }],
    ['[2001:db8::5]:65535', { host: '2001:db8::5', port: 65_535 }],
    ['[fe80::1%en0]:22', { host: 'fe80::1%en0', port: 22 }],
    ['', undefined],
    ['-oProxyCommand=x', undefined],
    ['vault:', undefined],
    ['vault:0', undefined],
    ['vault:65536', undefined],
    ['vault:022', undefined],
    ['198.18.0.256', undefined],
    ['198.18.0', undefined],
    ['198.18.0.05', undefined],
    ['[198.18.0.5]:22', undefined],
    ['2001:db8::5::1', undefined],
    ['fe80::1%', undefined],
    ['fe80::1%en0; x', undefined],
    ['auditor@vault', undefined],
    ['vault.office.example.', undefined],
    ['a..b', undefined],
    ['a b', undefined],
    ['$(x)', undefined],
    [`${'a'.repeat(64)}`, undefined],
  ])('%j', (text, expected) => {
    expect(parseAddress(text)).toEqual(expected);
  });

  it('takes the IP addresses that node:net takes', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.ipV4(),
          fc.ipV6(),
          fc.ipV4Extended(),
          fc.string({ unit: fc.constantFrom(...'0123456789abf:.') }),
        ),
        (text) => {
          const address = parseAddress(text);
          const isIp = isIPv4(text) || isIPv6(text);
          if (isIp) expect(address).toEqual({ host: text });
          else if (/^[0-9]+(\.[0-9]+)+$/.test(text)) expect(address).toBeUndefined();
        },
      ),
    );
  });
});
