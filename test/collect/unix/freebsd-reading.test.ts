import { describe, expect, it } from 'vitest';
import { framed, type Printed } from '../../../mocks/unix-output/framed.ts';
import type { NodeReading } from '../../../src/collect/types.ts';
import { parseUnixOutput } from '../../../src/collect/unix/parse-unix-output.ts';
import { parsePciconf } from '../../../src/collect/unix/pciconf.ts';
import { recorded } from './recorded/recorded.ts';

const marker = 'mark-7';

function read(sections: readonly Printed[], rest: readonly Printed[] = []): NodeReading {
  const text = framed(marker, [{ section: 'system', output: 'FreeBSD' }, ...sections], rest);
  const outcome = parseUnixOutput(new TextEncoder().encode(text), marker);
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  return outcome.reading;
}

const ifconfig = { section: 'ifconfig', output: recorded('ifconfig-freebsd.txt') };
// Form: `netstat -ibdnW` of FreeBSD 14; the rows of other addresses are left out by the reader.
const netstat = `Name    Mtu Network       Address              Ipkts Ierrs Idrop     Ibytes    Opkts Oerrs     Obytes  Coll  Drop
ix0    9000 <Link#1>      02:00:5e:00:00:04    90210     3     7  812000000    70110     1  601000000     0     2
ix1*   9000 <Link#2>      02:00:5e:00:00:04        0     0     0          0        0     0          0     0     0
lo0   16384 <Link#5>      lo0                   1201     0     0     240400     1201     0     240400     0     0
lo0       - 127.0.0.0/8   127.0.0.1             1201     -     -     240400     1201     -     240400     -     -
wg0    1420 <Link#10>     wg0                     10     0     0       1000       12     0       1200     0     0
`;
const pciconf = `ix0@pci0:3:0:0:	class=0x020000 rev=0x01 hdr=0x00 vendor=0x0000 device=0x0000
    cap 01[40] = powerspec 3  supports D0 D3  current D0
    cap 10[a0] = PCI-Express 2 endpoint max data 256(512) FLR RO NS
                 max read 512
                 link x4(x8) speed 5.0(5.0) ASPM disabled(L0s)
none0@pci0:0:31:0:	class=0x0c0500
    cap 10[a0] = PCI-Express 2 endpoint max data 256(512) link x1(x1) speed 2.5(2.5)
`;

const reading = read(
  [
    { section: 'text', output: 'FreeBSD 14.1-RELEASE-p2 amd64' },
    { section: 'freebsd-version', output: '14.1-RELEASE-p5' },
    { section: 'boottime', output: '{ sec = 1779000000, usec = 5 } Sun May 17 06:40:00 2026' },
    { section: 'now', output: '1779000600' },
    ifconfig,
    { section: 'netstat', output: netstat },
    {
      section: 'driver ix0',
      output: 'dev.ix.0.%driver: ix\ndev.ix.0.iflib.driver_version: 4.0.1-k',
    },
    { section: 'driver ix1', output: '' },
  ],
  [
    { section: 'pciconf', output: pciconf },
    {
      section: 'stations bridge0',
      output: [
        '02:00:5e:00:00:31 Vlan20 igb0 1187 flags=0<>',
        '2:0:5e:0:0:32 Vlan1 igb0 900 flags=0<>',
        '02:00:5e:00:00:0b Vlan1 igb0 900 flags=0<>',
        '02:00:5e:00:00:33 Vlan1 tap0 0 flags=1<STATIC>',
        '02:00:5e:00:00:34 Vlan1 tap0 5 flags=0<>',
      ].join('\n'),
    },
  ],
);

function factsOf(port: string) {
  return reading.ports.find(({ name }) => name === port)?.facts;
}

function gapOf(port: string, fact: string) {
  return reading.ports.find(({ name }) => name === port)?.gaps?.[fact] ?? reading.portGaps[fact];
}

describe('a recorded FreeBSD host', () => {
  it('says what it is, by the versions of the system and not of the kernel', () => {
    expect(reading.facts).toMatchObject({
      systemKind: 'freebsd',
      osVersion: '14.1-RELEASE-p5',
      uptimeSeconds: 600,
    });
  });

  it.each([
    ['bridge0', 'bridge', true, undefined, undefined],
    ['igb0', 'physical', true, 1000, 'full'],
    ['ix0', 'physical', true, 10_000, 'full'],
    ['ix1', 'physical', false, undefined, undefined],
    ['lagg0', 'bond', true, undefined, undefined],
    ['lagg0.20', 'vlan', true, undefined, undefined],
    ['lan0', 'virtual', true, undefined, undefined],
    ['lo0', 'loopback', true, undefined, undefined],
    ['tap0', 'virtual', false, undefined, undefined],
    ['wg0', 'tunnel', true, undefined, undefined],
    ['wlan0', 'wireless', true, undefined, undefined],
  ])('%s is %s, up %s, at %s Mb/s %s', (name, kind, operUp, speedMbps, duplex) => {
    const facts = factsOf(name);
    expect([facts?.kind, facts?.operUp, facts?.speedMbps, facts?.duplex]).toEqual([
      kind,
      operUp,
      speedMbps,
      duplex,
    ]);
  });

  it('reads all that is told of a port with a module', () => {
    expect(factsOf('ix0')).toEqual({
      alias: 'to quay-sw xg3',
      kind: 'physical',
      macAddress: '02:00:5e:00:00:04',
      ifIndex: 1,
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      speedMbps: 10_000,
      duplex: 'full',
      autoNegotiation: true,
      supportedModes: ['1000baseSX', '10Gbase-SR'],
      mediaText: 'Ethernet autoselect (10Gbase-SR <full-duplex,rxpause,txpause>)',
      driver: 'ix',
      driverVersion: '4.0.1-k',
      addresses: [],
      rxOctets: 812_000_000,
      txOctets: 601_000_000,
      rxFrames: 90_210,
      txFrames: 70_110,
      rxErrors: 3,
      txErrors: 1,
      rxDropped: 7,
      txDropped: 2,
      busText: 'PCIe 5.0 GT/s x4',
      busMbps: 16_000,
      phyText: '10GBASE-SR',
      moduleText: 'SFP/SFP+/SFP28 10G Base-SR (LC)',
      rxPowerDbm: -3.01,
      moduleTemperatureCelsius: 41.2,
      pauseRx: true,
      pauseTx: true,
      aggregate: 'lagg0',
      lacpActor: ['activity', 'aggregation', 'synchronization', 'collecting', 'distributing'],
      lacpPartnerSystem: '02:00:5e:00:00:30',
    });
  });

  it.each([
    [
      'ix1',
      {
        macAddress: '02:00:5e:00:00:04',
        permanentMacAddress: '02:00:5e:00:00:05',
        linkText: 'No signal',
        aggregate: 'lagg0',
        lacpActor: ['activity', 'aggregation', 'defaulted'],
      },
    ],
    ['lagg0', { aggregateMode: '802.3ad', lowerPorts: ['ix0', 'ix1'] }],
    ['lagg0.20', { vlanId: 20, lowerPorts: ['lagg0'], addresses: ['198.18.20.10/24'] }],
    ['bridge0', { lowerPorts: ['igb0', 'tap0'] }],
    [
      'igb0',
      {
        autoNegotiation: false,
        phyText: '1000BASE-T',
        addresses: ['198.18.1.10/24', 'fd00:5e::10/64'],
        spanningTree: 'blocking',
        untaggedVlan: 1,
        untaggedVlans: [1],
        taggedVlans: [20, 21, 22, 30],
      },
    ],
    ['lan0', { driver: 'vtnet', addresses: ['198.18.2.10/24'] }],
    ['wg0', { addresses: ['198.19.0.1/24'], rxFrames: 10 }],
  ])('%s', (name, part) => {
    expect(factsOf(name)).toMatchObject(part);
  });

  it('takes no silence of the partner for a system', () => {
    expect(factsOf('ix1')?.lacpPartnerSystem).toBeUndefined();
  });

  it.each([
    ['ix1', 'speedMbps', 'down', 'no link'],
    ['ix1', 'driverVersion', 'unsupported', 'sysctl knows no device of that name'],
    ['ix0', 'lacpPartner', 'unsupported', 'ifconfig does not print the state of the partner'],
    ['ix0', 'rxPowerLowDbm', 'unsupported', 'ifconfig -v prints no limits of the module'],
    ['igb0', 'moduleText', 'unsupported', 'ifconfig -v prints no module'],
    ['igb0', 'rxOctets', 'unsupported', 'netstat prints no row for it'],
    ['tap0', 'spanningTree', 'unsupported', 'spanning tree is off here'],
    ['tap0', 'untaggedVlan', 'unsupported', 'the bridge is told of no VLANs here'],
    ['lan0', 'speedMbps', 'doubtful', '10000, made up by a port that has no hardware'],
  ])('%s has no %s, and says why', (name, fact, reason, words) => {
    expect({ ...factsOf(name) }[fact as 'speedMbps']).toBeUndefined();
    expect(gapOf(name, fact)).toEqual({ reason, words });
  });

  it('knows the stations that its bridge has learnt, and none of its own', () => {
    expect(reading.forwarding).toEqual([
      { port: 'igb0', macs: ['02:00:5e:00:00:32'] },
      { port: 'igb0', vlan: 20, macs: ['02:00:5e:00:00:31'] },
      { port: 'tap0', macs: ['02:00:5e:00:00:34'] },
    ]);
  });
});

describe('an appliance on FreeBSD', () => {
  it('takes the version of the kernel where it has no freebsd-version', () => {
    const words = 'freebsd-version: not found';
    const { facts, sources } = read([
      { section: 'text', output: 'FreeBSD 13.3-RELEASE-p4 amd64' },
      { section: 'freebsd-version', words, status: 127 },
      ifconfig,
    ]);
    expect([facts.osVersion, sources['osVersion']]).toEqual(['13.3-RELEASE-p4', 'uname -srm']);
  });

  it('says that it may not read the bus', () => {
    const denied = { section: 'pciconf', words: 'pciconf: /dev/pci: Permission denied', status: 1 };
    const { ports, gaps } = read([ifconfig], [denied]);
    const ix0 = ports.find(({ name }) => name === 'ix0');
    expect(ix0?.gaps?.['busText']).toEqual({ reason: 'denied', words: denied.words });
    expect(gaps['sessions']?.reason).toBe('unsupported');
  });

  it('has no forwarding table without a bridge', () => {
    const output = 'ix0: flags=8843<UP,BROADCAST> metric 0 mtu 1500\n\tether 02:00:5e:00:00:04\n';
    const reading = read([{ section: 'ifconfig', output }], []);
    expect(reading.forwarding).toBeUndefined();
    expect(reading.gaps['forwarding']).toEqual({ reason: 'unsupported', words: 'no bridge here' });
  });
});

describe('parsePciconf', () => {
  it('tells the link of each device in use', () => {
    expect([...parsePciconf(pciconf)]).toEqual([
      ['ix0', { speed: '5.0 GT/s', width: 'x4' }],
      ['none0', { speed: '2.5 GT/s', width: 'x1' }],
    ]);
  });
});
