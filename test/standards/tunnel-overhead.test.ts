import { describe, expect, it } from 'vitest';
import { tunnelOverhead } from '../../src/ethernet/tunnel-overhead.ts';

// Header lengths of the standards, written out by hand: IPv4 20 (RFC 791), UDP 8 (RFC 768), inner
// Ethernet 14. The figures of gretap and of keys that some kernels add are common practice.
describe('what tunnels put before each packet over IPv4', () => {
  it.each([
    ['vxlan', 50, 'RFC 7348: 20 + 8 + 8 + 14'],
    ['geneve', 50, 'RFC 8926 without options: 20 + 8 + 8 + 14'],
    ['gre', 24, 'RFC 2784: 20 + 4'],
    ['gretap', 38, 'RFC 2784 with an inner frame: 20 + 4 + 14'],
    ['ipip', 20, 'RFC 2003'],
    ['sit', 20, 'RFC 4213'],
    ['wireguard', 60, 'common practice: 20 + 8 + 16 + 16'],
    ['ixgbe', undefined, 'no tunnel'],
    ['constructor', undefined, 'a name that every object has'],
    [undefined, undefined, 'no driver'],
  ] as const)('%s: %s', (driver, bytes, _source) => {
    expect(tunnelOverhead(driver)).toBe(bytes);
  });
});
