import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { portKind } from '../../../src/collect/snmp/port-kind.ts';

const module = readFileSync(
  new URL('../../../node_modules/net-snmp/lib/mibs/IANAifType-MIB.mib', import.meta.url),
  'utf8',
);

describe('portKind', () => {
  it.each([
    ['ethernetCsmacd', 6, true, 'physical'],
    ['ethernetCsmacd', 6, undefined, 'physical'],
    ['ethernetCsmacd', 6, false, 'virtual'],
    ['fastEther', 62, undefined, 'physical'],
    ['gigabitEthernet', 117, undefined, 'physical'],
    ['softwareLoopback', 24, false, 'loopback'],
    ['propVirtual', 53, false, 'virtual'],
    ['ieee80211', 71, true, 'wireless'],
    ['tunnel', 131, false, 'tunnel'],
    ['l2vlan', 135, false, 'vlan'],
    ['l3ipvlan', 136, undefined, 'vlan'],
    ['ieee8023adLag', 161, true, 'bond'],
    ['bridge', 209, undefined, 'bridge'],
    ['other', 1, undefined, 'virtual'],
    ['other', 1, true, 'physical'],
  ])('%s(%i), connector %s: %s', (name, ifType, connector, kind) => {
    // The number is that of IANAifType-MIB as shipped by net-snmp.
    expect(module).toMatch(new RegExp(`\\b${name}\\s*\\(${ifType}\\)`));
    expect(portKind(ifType, connector)).toBe(kind);
  });
});
