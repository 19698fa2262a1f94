import { describe, expect, it } from 'vitest';
import { lacpBitsOf } from '../../../mocks/unix-output/lacp-bits.ts';
import { parseBridgeFdb } from '../../../src/collect/unix/bridge-fdb.ts';
import { parseBridgeVlans } from '../../../src/collect/unix/bridge-vlans.ts';
import { forwardingOf } from '../../../src/collect/unix/forwarding.ts';
import { parseIpLinkJson } from '../../../src/collect/unix/ip-link-json.ts';
import { parseIpLinkText } from '../../../src/collect/unix/ip-text.ts';
import { lacpStateOf } from '../../../src/collect/unix/lacp-state.ts';
import { parseProcBonding } from '../../../src/collect/unix/proc-bonding.ts';
import { parseProcVlan } from '../../../src/collect/unix/proc-vlan.ts';
import { spanningTreeOf } from '../../../src/collect/unix/spanning-tree.ts';
import { vlanRangesOf } from '../../../src/collect/unix/vlan-ranges.ts';
import { recorded } from './recorded/recorded.ts';

describe('lacpStateOf', () => {
  // IEEE 802.1AX-2014 6.4.2.3: bit 0 LACP_Activity ... bit 7 Expired.
  it.each([
    [0, []],
    [1, ['activity']],
    [0x3d, ['activity', 'aggregation', 'synchronization', 'collecting', 'distributing']],
    [0x45, ['activity', 'aggregation', 'defaulted']],
    [0x80, ['expired']],
    [256, undefined],
    [-1, undefined],
    [1.5, undefined],
    [undefined, undefined],
  ])('%s', (state, names) => {
    expect(lacpStateOf(state)).toEqual(names);
  });

  it('names each octet differently', () => {
    for (let state = 0; state < 256; state += 1) {
      expect(lacpBitsOf(lacpStateOf(state) ?? [])).toBe(state);
    }
  });
});

describe('spanningTreeOf', () => {
  // include/uapi/linux/if_bridge.h: BR_STATE_DISABLED 0, LISTENING 1, LEARNING 2, FORWARDING 3,
  // BLOCKING 4.
  it.each([
    ['0', 'disabled'],
    ['1', 'listening'],
    ['2', 'learning'],
    ['3', 'forwarding'],
    ['4', 'blocking'],
    ['5', undefined],
    ['forwarding', 'forwarding'],
    ['discarding', 'blocking'],
    ['constructor', undefined],
    ['', undefined],
    [undefined, undefined],
  ])('%s is %s', (text, state) => {
    expect(spanningTreeOf(text)).toBe(state);
  });
});

describe('vlanRangesOf', () => {
  it.each([
    ['20', [20]],
    ['30,20-22', [20, 21, 22, 30]],
    ['0,4095,4094', [4094]],
    ['22-20', []],
    ['1-99999', []],
    ['x', []],
  ])('%s', (text, vlans) => {
    expect(vlanRangesOf(text)).toEqual(vlans);
  });
});

describe('/proc/net/bonding', () => {
  it('is read for an administrator, member by member', () => {
    expect(parseProcBonding(recorded('proc-bonding.txt'))).toEqual({
      mode: '802.3ad',
      members: [
        {
          name: 'egiga0',
          permanentMacAddress: '02:00:5e:00:00:04',
          aggregatorId: 1,
          actorState: 61,
          partnerState: 63,
          partnerSystem: '02:00:5e:00:00:30',
        },
        { name: 'egiga1', permanentMacAddress: '02:00:5e:00:00:05', aggregatorId: 2 },
      ],
    });
  });

  it.each([
    ['fault-tolerance (active-backup)', 'active-backup'],
    ['load balancing (round-robin)', 'balance-rr'],
    ['load balancing (xor)', 'balance-xor'],
    ['fault-tolerance (broadcast)', 'broadcast'],
    ['transmit load balancing', 'balance-tlb'],
    ['adaptive load balancing', 'balance-alb'],
    ['something new', undefined],
  ])('calls %s %s', (words, mode) => {
    expect(parseProcBonding(`Bonding Mode: ${words}`)?.mode).toBe(mode);
  });

  it('is no bond where it says no mode', () => {
    expect(parseProcBonding('Slave Interface: eth0')).toBeUndefined();
  });
});

describe('/proc/net/vlan/config', () => {
  it('is read by name', () => {
    const output = `VLAN Dev name	 | VLAN ID
Name-Type: VLAN_NAME_TYPE_RAW_PLUS_VID_NO_PAD
eth0.20        | 20  | eth0
storage        | 4096  | eth1
lan            | 7  | eth1`;
    expect([...parseProcVlan(output)]).toEqual([
      ['eth0.20', { id: 20, lower: 'eth0' }],
      ['lan', { id: 7, lower: 'eth1' }],
    ]);
  });
});

describe('bridge vlan show', () => {
  const told = [
    ['tap0', { untaggedVlan: 1, untagged: [1], tagged: [20, 21, 22] }],
    ['eth0', { untagged: [], tagged: [30] }],
  ];

  it('is read as JSON', () => {
    const output = JSON.stringify([
      {
        ifname: 'tap0',
        vlans: [
          { vlan: 1, flags: ['PVID', 'Egress Untagged'] },
          { vlan: 20, vlanEnd: 22 },
        ],
      },
      { ifname: 'eth0', vlans: [{ vlan: 30 }, { vlan: 9999 }, { vlan: '5' }] },
    ]);
    expect([...(parseBridgeVlans(output) ?? [])]).toEqual(told);
  });

  it.each([
    [
      'new',
      'port              vlan-id  \ntap0              1 PVID Egress Untagged\n                  20-22\neth0              30',
    ],
    ['old', 'port\tvlan ids\ntap0\t 1 PVID Egress Untagged\n\t 20-22\n\neth0\t 30\n'],
  ])('is read as %s text', (_, output) => {
    expect([...(parseBridgeVlans(output) ?? [])]).toEqual(told);
  });

  it.each([
    ['nothing', ''],
    ['the JSON of old releases', '{"eth0":[{"vlan":1,"flags":["PVID"]}]}'],
    ['usage', 'Usage: bridge vlan { add | del } vid VLAN_ID dev DEV'],
  ])('is unknown from %s', (_, output) => {
    expect(parseBridgeVlans(output)).toBeUndefined();
  });
});

describe('bridge fdb show', () => {
  // Printed by iproute2 6.1; addresses altered.
  const output = `33:33:00:00:00:01 dev eth0 self permanent
02:00:5e:00:00:0b dev eth0 vlan 1 master br0 permanent
02:00:5e:00:00:31 dev eth0 vlan 20 master br0
02:00:5e:00:00:32 dev eth0 master br0
02:00:5e:00:00:33 dev eth0 master br0 static
02:00:5e:00:00:34 dev tap0 master br0 extern_learn
02:00:5e:00:00:35 dev tap0 self
02:00:5e:00:00:0c dev tap0 master br0
nonsense dev tap0 master br0`;

  it('tells the stations that were learnt, by port and VLAN', () => {
    const own = new Set(['02:00:5e:00:00:0c']);
    expect(forwardingOf(parseBridgeFdb(output), own)).toEqual([
      { port: 'eth0', macs: ['02:00:5e:00:00:32'] },
      { port: 'eth0', vlan: 20, macs: ['02:00:5e:00:00:31'] },
      { port: 'tap0', macs: ['02:00:5e:00:00:34'] },
    ]);
  });
});

describe('layers by ip -d link', () => {
  const layers = {
    bond0: {
      bondMode: '802.3ad',
      bondPartner: { aggregatorId: 1, mac: '02:00:5e:00:00:30' },
      bridgeState: 'forwarding',
    },
    br0: { vlanFiltering: true },
    eth4: {
      permanentMacAddress: '02:00:5e:00:00:04',
      aggregatorId: 1,
      lacpActor: 61,
      lacpPartner: 63,
    },
  };

  it.each([
    ['JSON', 'ip-link-layers.json.txt', parseIpLinkJson],
    ['text', 'ip-link-layers.txt', parseIpLinkText],
  ] as const)('are read from %s', (_, name, parse) => {
    const links = parse(recorded(name)) ?? [];
    for (const [port, part] of Object.entries(layers)) {
      expect(links.find((link) => link.name === port)).toMatchObject(part);
    }
    expect(links.map((link) => [link.name, link.infoKind])).toEqual([
      ['eth4', undefined],
      ['bond0', 'bond'],
      ['br0', 'bridge'],
      ['vx7', 'vxlan'],
      ['gt0', 'gretap'],
    ]);
  });
});
