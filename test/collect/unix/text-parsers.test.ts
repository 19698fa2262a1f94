import { describe, expect, it } from 'vitest';
import { parseEthtoolDriver } from '../../../src/collect/unix/ethtool-driver.ts';
import { parseEthtoolText } from '../../../src/collect/unix/ethtool-text.ts';
import { parseIpAddrText, parseIpLinkText } from '../../../src/collect/unix/ip-text.ts';
import { parseProcMounts } from '../../../src/collect/unix/mounts.ts';
import { parseSsSessions } from '../../../src/collect/unix/ss-sessions.ts';
import { recorded } from './recorded/recorded.ts';

function ethtool(name: string) {
  const { fields: _, ...rest } = parseEthtoolText(recorded(name));
  return rest;
}

describe('parseEthtoolText', () => {
  it('reads modes over several lines, two to a line, and one without a name', () => {
    expect(ethtool('ethtool-10g.txt')).toEqual({
      supportedModes: [
        '100baseT/Half',
        '100baseT/Full',
        '1000baseT/Full',
        '10000baseT/Full',
        '2500baseT/Full',
        '5000baseT/Full',
      ],
      advertisedModes: ['100baseT/Full', '1000baseT/Full', 'BIT92'],
      partnerModes: ['100baseT/Full', '1000baseT/Full'],
      speedMbps: 1000,
      duplex: 'full',
      autoNegotiation: true,
      linkDetected: true,
    });
  });

  it('leaves out what is unknown or not reported, and keeps why there is no link', () => {
    expect(ethtool('ethtool-down.txt')).toEqual({
      supportedModes: ['10000baseSR/Full', '1000baseX/Full'],
      autoNegotiation: false,
      linkDetected: false,
      linkText: 'Autoneg, No partner detected',
    });
  });

  it('reads an old release that complains in between', () => {
    const modes = ['10baseT/Half', '10baseT/Full', '100baseT/Half', '100baseT/Full'];
    expect(ethtool('ethtool-old.txt')).toEqual({
      supportedModes: modes,
      advertisedModes: modes,
      speedMbps: 100,
      duplex: 'half',
      autoNegotiation: true,
      linkDetected: true,
    });
  });

  it.each([
    ['0Mb/s'],
    ['65535Mb/s'],
    ['4294967295Mb/s'],
    ['-1Mb/s'],
    ['Unknown!'],
    ['1000'],
    ['1e3Mb/s'],
  ])('takes no speed from "Speed: %s"', (text) => {
    expect(parseEthtoolText(`Settings for x:\n\tSpeed: ${text}\n`).speedMbps).toBeUndefined();
  });
});

describe('parseEthtoolDriver', () => {
  it.each([
    ['driver: virtio_net\nversion: 1.0.0\n', 'virtio_net'],
    ['driver: r8152\n', 'r8152'],
    ['driver: \nversion: 1\n', undefined],
    ['Cannot get driver information: Operation not supported', undefined],
  ])('%j', (output, driver) => {
    expect(parseEthtoolDriver(output)).toBe(driver);
  });
});

describe('parseIpLinkText', () => {
  it('reads layers, states and aliases of an old release', () => {
    const ether = { linkType: 'ether', macAddress: '02:00:5e:00:00:04' };
    expect(parseIpLinkText(recorded('ip-link-old.txt'))).toEqual([
      {
        name: 'lo',
        ifIndex: 1,
        flags: ['LOOPBACK', 'UP', 'LOWER_UP'],
        mtuBytes: 65536,
        linkType: 'loopback',
      },
      {
        name: 'eth4',
        ifIndex: 2,
        flags: ['BROADCAST', 'MULTICAST', 'SLAVE', 'UP', 'LOWER_UP'],
        mtuBytes: 9000,
        ...ether,
        permanentMacAddress: '02:00:5e:00:00:04',
        master: 'bond0',
      },
      {
        name: 'eth5',
        ifIndex: 3,
        flags: ['NO-CARRIER', 'BROADCAST', 'MULTICAST', 'SLAVE', 'UP'],
        mtuBytes: 9000,
        ...ether,
        permanentMacAddress: '02:00:5e:00:00:05',
        master: 'bond0',
      },
      {
        name: 'bond0',
        ifIndex: 4,
        flags: ['BROADCAST', 'MULTICAST', 'MASTER', 'UP', 'LOWER_UP'],
        mtuBytes: 9000,
        ...ether,
        infoKind: 'bond',
        bondMode: '802.3ad',
        bridgeState: 'forwarding',
        master: 'br0',
      },
      {
        name: 'br0',
        ifIndex: 5,
        flags: ['BROADCAST', 'MULTICAST', 'UP', 'LOWER_UP'],
        mtuBytes: 9000,
        ...ether,
        infoKind: 'bridge',
      },
      {
        name: 'br0.20',
        ifIndex: 6,
        flags: ['BROADCAST', 'MULTICAST', 'UP', 'LOWER_UP'],
        mtuBytes: 1500,
        mtuMinBytes: 0,
        mtuMaxBytes: 65535,
        ...ether,
        infoKind: 'vlan',
        vlanId: 20,
        lower: 'br0',
        alias: 'storage: "plots"',
      },
      {
        name: 'veth9',
        ifIndex: 7,
        flags: ['BROADCAST', 'MULTICAST'],
        mtuBytes: 1500,
        linkType: 'ether',
        macAddress: '02:00:5e:00:00:09',
        infoKind: 'veth',
      },
    ]);
  });

  it('reads BusyBox, which prints no state', () => {
    expect(parseIpLinkText(recorded('ip-link-busybox.txt'))[1]).toEqual({
      name: 'eth0',
      ifIndex: 4,
      flags: ['BROADCAST', 'MULTICAST', 'UP', 'LOWER_UP'],
      mtuBytes: 1400,
      linkType: 'ether',
      macAddress: '02:00:5e:00:00:01',
    });
  });

  it('takes nothing from an alias that looks like the rest of the line', () => {
    const [link] = parseIpLinkText(
      '2: eth0: <UP> mtu 1500 qdisc mq\\    link/ether 02:00:5e:00:00:01 brd ff:ff:ff:ff:ff:ff \\    alias x master br9 maxmtu 9000 \\    vlan protocol 802.1Q id 5 ',
    );
    expect(link).toEqual({
      name: 'eth0',
      ifIndex: 2,
      flags: ['UP'],
      mtuBytes: 1500,
      linkType: 'ether',
      macAddress: '02:00:5e:00:00:01',
      alias: 'x master br9 maxmtu 9000 \\    vlan protocol 802.1Q id 5',
    });
  });
});

describe('parseIpAddrText', () => {
  it('reads both families, peers and labels, and leaves link-local out', () => {
    const output = [
      '1: lo    inet 127.0.0.1/8 scope host lo\\       valid_lft forever preferred_lft forever',
      '2: eth4    inet 198.18.0.10/24 brd 198.18.0.255 scope global eth4\\       valid_lft forever',
      '2: eth4    inet6 fd00:5e::10/64 scope global \\       valid_lft forever preferred_lft forever',
      '2: eth4    inet6 fe80::1/64 scope link \\       valid_lft forever preferred_lft forever',
      '3: tun0    inet 198.18.9.1 peer 198.18.9.2/32 scope global tun0\\       valid_lft forever',
    ].join('\n');
    expect([...parseIpAddrText(output)]).toEqual([
      ['lo', ['127.0.0.1/8']],
      ['eth4', ['198.18.0.10/24', 'fd00:5e::10/64']],
      ['tun0', ['198.18.9.1/32']],
    ]);
  });
});

describe('parseSsSessions', () => {
  it('groups established sessions, without those of the machine with itself', () => {
    expect(parseSsSessions(recorded('ss-sessions.txt'))).toEqual([
      {
        local: '198.18.0.10',
        remote: '198.18.0.20',
        count: 2,
        segmentBytes: 8948,
        advertisedBytes: 8948,
        pathMtuBytes: 9000,
        timestamps: true,
      },
      {
        local: 'fd00:5e::10',
        remote: 'fd00:5e::20',
        count: 1,
        segmentBytes: 1440,
        advertisedBytes: 1440,
        pathMtuBytes: 1500,
        timestamps: false,
      },
      {
        local: '198.18.0.10',
        remote: '198.18.0.22',
        count: 1,
        segmentBytes: 1460,
        pathMtuBytes: 1500,
        timestamps: false,
      },
      {
        local: 'fe80::1%eth4',
        remote: 'fe80::2%eth4',
        count: 1,
        segmentBytes: 1428,
        advertisedBytes: 1428,
        pathMtuBytes: 1500,
        timestamps: false,
      },
    ]);
  });
});

describe('parseProcMounts', () => {
  it('names the numeric address that is in use, and no user', () => {
    expect(parseProcMounts(recorded('proc-mounts.txt'))).toEqual([
      { server: '198.18.0.10', kind: 'nfs', at: '/mnt/plots' },
      { server: '198.18.0.11', kind: 'nfs', at: '/mnt/old plots' },
      { server: 'fd00:5e::10', kind: 'smb', at: '/mnt/share' },
      { server: '198.18.0.12', kind: 'smb', at: '/mnt/scans' },
      { server: 'fd00:5e::13', kind: 'nfs', at: '/mnt/v6' },
    ]);
  });
});
