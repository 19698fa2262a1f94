import { describe, expect, it } from 'vitest';
import { lacpOrder, lacpStatesOf } from '../../src/ethernet/lacp-state.ts';

// IEEE 802.1AX-2008 5.4.2.2: bits of the state octet; 0x3d, 0x3f, 0x45, 0x47 as LACPDUs have them.
describe('lacpOrder', () => {
  it.each([
    ['healthy, as BITS', [0xbc, 0xfc], 'bits'],
    ['healthy, as LACPDU', [0x3d, 0x3f], 'lacpdu'],
    ['nobody answers, as BITS', [0xa2, 0xe2], 'bits'],
    ['nobody answers, as LACPDU', [0x45, 0x47], 'lacpdu'],
    ['attached only, as LACPDU', [0x0d], 'lacpdu'],
    ['nothing set', [0], 'bits'],
    ['one that tells the order of all', [0, 0x3d], 'lacpdu'],
    ['both orders broken', [0xbc, 0x3d], undefined],
  ] as const)('%s', (_, octets, order) => {
    expect(lacpOrder(octets)).toBe(order);
  });

  it('reads the same states in either order', () => {
    const healthy = ['activity', 'aggregation', 'synchronization', 'collecting', 'distributing'];
    expect(lacpStatesOf(0xbc, 'bits')).toEqual(healthy);
    expect(lacpStatesOf(0x3d, 'lacpdu')).toEqual(healthy);
    expect(lacpStatesOf(0x45, 'lacpdu')).toEqual(['activity', 'aggregation', 'defaulted']);
  });
});
