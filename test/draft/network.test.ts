import { BlockList, isIP } from 'node:net';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { networkOf } from '../../src/draft/network.ts';

describe('the network of an address', () => {
  it.each<[string, string | undefined]>([
    ['198.18.20.7/24', '198.18.20.0/24'],
    ['198.18.255.7/15', '198.18.0.0/15'],
    ['0.0.0.0/0', '0.0.0.0/0'],
    ['198.18.20.7/31', '198.18.20.6/31'],
    ['198.18.20.7/32', undefined],
    // RFC 5952: lower case, the longest run of zeros left out, of equal ones the first.
    ['2001:DB8::A:1/64', '2001:db8::/64'],
    ['2001:db8:0:1:0:0:0:9/64', '2001:db8:0:1::/64'],
    ['fd00:5e:0:0:1:0:0:9/112', 'fd00:5e:0:0:1::/112'],
    ['::1/127', '::/127'],
    ['2001:db8:0:0:1:0:0:9/125', '2001:db8::1:0:0:8/125'],
    ['::ffff:198.18.0.9/120', '::ffff:c612:0/120'],
    ['2001:db8::1/128', undefined],
    ['vault/24', undefined],
    ['198.18.20.7', undefined],
    ['198.18.20.7/', undefined],
    ['198.18.20.7/240', undefined],
  ])('%s gives %s', (address, network) => {
    expect(networkOf(address)).toBe(network);
  });

  it('holds the address, and is its own network, by the BlockList of Node', () => {
    const sample = fc.oneof(
      fc.tuple(fc.ipV4(), fc.integer({ min: 0, max: 31 })),
      fc.tuple(fc.ipV6(), fc.integer({ min: 0, max: 127 })),
    );
    fc.assert(
      fc.property(sample, ([address, length]) => {
        const network = networkOf(`${address}/${length}`) ?? '';
        const [base = ''] = network.split('/');
        const family = isIP(address) === 4 ? 'ipv4' : 'ipv6';
        const list = new BlockList();
        list.addSubnet(base, length, family);
        expect(list.check(address, family)).toBe(true);
        expect(networkOf(network)).toBe(network);
      }),
    );
  });
});
