import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { subjectIn } from './builders.ts';
import { plottingSite } from './plotting-site.ts';

type Ports = Readonly<Record<string, PortReadFacts>>;

function facts(ports: Ports, id: string, tagged = false) {
  const link = tagged ? { tagged: ['storage'] } : { untagged: 'storage' };
  const routes = { '198.18.20.1': Object.keys(ports).at(-1) ?? '' };
  return subjectIn(plottingSite({ link, readings: { vault: { ports, routes } } }), 'ports', id);
}

const held = { addresses: ['198.18.20.2/24'] };
const bare = { mtuBytes: 9000, addresses: [] };
const vlan = { kind: 'vlan', vlanId: 20, lowerPorts: ['eth4'], ...held } as const;

describe('room for a tag', () => {
  it.each([
    ['a driver that accepts 4 bytes more', { ...bare, mtuMaxBytes: 9004 }, 9000, true],
    ['a driver that accepts 3', { ...bare, mtuMaxBytes: 9003 }, 9000, false],
    ['a port that is set larger', { ...bare, mtuBytes: 9004 }, 9000, true],
    ['a driver that names no maximum', bare, 9000, undefined],
    [
      'a VLAN of 1500, which every station carries',
      { ...bare, mtuMaxBytes: 1500 },
      1500,
      undefined,
    ],
  ] as const)('%s', (_name, eth4, mtuBytes, room) => {
    const ports = { eth4, 'eth4.20': { ...vlan, mtuBytes } };
    expect(facts(ports, 'vault:eth4.20', true).facts['tagHasRoom']).toBe(room);
  });
});

describe('what a driver allows', () => {
  it.each([
    [{ mtuMaxBytes: 9000 }, { canDeclaredMtu: true }],
    [{ mtuMaxBytes: 8999 }, { canDeclaredMtu: false }],
    [{ driverMtuBytes: 9000 }, { driverAllowsMtu: true }],
    [{ driverMtuBytes: 1500 }, { driverAllowsMtu: false }],
    [{ mtuConfiguredBytes: 9000 }, { mtuAsConfigured: true }],
    [{ mtuConfiguredBytes: 1500 }, { mtuAsConfigured: false }],
    [{ kind: 'wireless' }, { wireless: true }],
    [{}, { wireless: false }],
  ] as const)('%o gives %o', (read, derived) => {
    const ports = { eth4: { mtuBytes: 9000, ...held, ...read } };
    const named = ['canDeclaredMtu', 'driverAllowsMtu', 'mtuAsConfigured'];
    const { facts: all } = facts(ports, 'vault:eth4');
    expect(all).toMatchObject(derived);
    for (const name of named.filter((each) => !(each in derived)))
      expect(all[name]).toBeUndefined();
  });
});

describe('members of a bridge', () => {
  const bridge = (tap0: PortReadFacts, mtuBytes = 9000) => ({
    eth4: bare,
    tap0: { kind: 'virtual', addresses: [], ...tap0 },
    br0: { kind: 'bridge', mtuBytes, lowerPorts: ['eth4', 'tap0'], ...held },
  });
  it.each([
    ['all large', { mtuBytes: 9000 }, []],
    ['a small machine', { mtuBytes: 1500 }, ['vault:tap0']],
  ] as const)('%s', (_name, tap0, small) => {
    expect(facts(bridge(tap0), 'vault:br0').facts['smallMembers']).toEqual(small);
  });

  it('are not known where one was not read, with the reason', () => {
    const ports = bridge({});
    const site = plottingSite({
      readings: {
        vault: {
          ports,
          routes: { '198.18.20.1': 'br0' },
          portOwnGaps: { tap0: { mtuBytes: { reason: 'denied', words: 'no' } } },
        },
      },
    });
    const { facts: all, own } = subjectIn(site, 'ports', 'vault:br0');
    expect(all['smallMembers']).toBeUndefined();
    expect(own?.gaps['smallMembers']).toEqual({
      reason: 'unreadable',
      words: 'the MTU of vault:tap0 is not known',
    });
  });
});

describe('a tunnel', () => {
  it.each([
    ['vxlan', { tunnelOverheadBytes: 50, tunnelNeedsBytes: 9050, underlayMtuBytes: 9000 }],
    ['some-driver', {}],
  ] as const)('of %s', (driver, derived) => {
    const vx0 = { kind: 'tunnel', driver, mtuBytes: 9000, lowerPorts: ['eth4'], ...held };
    const { facts: all } = facts({ eth4: bare, vx0 }, 'vault:vx0');
    expect(all).toMatchObject(derived);
    if (Object.keys(derived).length === 0) expect(all['tunnelOverheadBytes']).toBeUndefined();
  });
});
