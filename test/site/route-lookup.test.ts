import { describe, expect, it } from 'vitest';
import { inPrefix, lookupRoute } from '../../src/site/route-lookup.ts';

const table = [
  { prefix: '0.0.0.0/0', device: 'eth0', gateway: '198.18.1.1' },
  { prefix: '198.18.20.0/24', device: 'wlan0', metric: 600 },
  { prefix: '198.18.20.0/24', device: 'eth4', metric: 100 },
  { prefix: '198.18.20.128/25', device: 'tun0' },
  { prefix: '::/0', device: 'eth0' },
  { prefix: '2001:db8:20::/64', device: 'eth4' },
];

describe('lookupRoute', () => {
  it.each([
    ['the smaller metric of two', '198.18.20.7', 'eth4'],
    ['the longer prefix', '198.18.20.200', 'tun0'],
    ['the default', '192.0.2.1', 'eth0'],
    ['IPv6', '2001:db8:20::7', 'eth4'],
    ['the IPv6 default', '2001:db8:21::7', 'eth0'],
  ])('takes %s', (_name, address, device) => {
    expect(lookupRoute(table, address)?.device).toBe(device);
  });

  it('has no answer where no row holds the address', () => {
    expect(lookupRoute(table.slice(1, 4), '192.0.2.1')).toBeUndefined();
    expect(lookupRoute(table, 'vault')).toBeUndefined();
  });
});

it.each([
  ['198.18.20.7', '198.18.20.0/24', true],
  ['198.18.21.7', '198.18.20.0/24', false],
  ['198.18.20.7', '198.18.20.0/33', false],
  ['198.18.20.7', 'default', false],
  ['2001:db8::1', '198.18.20.0/24', false],
  ['198.18.20.7', '0.0.0.0/0', true],
])('inPrefix(%s, %s) is %s', (address, prefix, inside) => {
  expect(inPrefix(address, prefix)).toBe(inside);
});
