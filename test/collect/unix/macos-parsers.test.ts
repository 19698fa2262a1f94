import { describe, expect, it } from 'vitest';
import { parseIfconfigBsd } from '../../../src/collect/unix/ifconfig-bsd.ts';
import { parseMedia } from '../../../src/collect/unix/ifconfig-media.ts';
import { parseBsdMounts } from '../../../src/collect/unix/mounts.ts';
import { parseNetstatInterfaces } from '../../../src/collect/unix/netstat-interfaces.ts';
import {
  parseHardwarePorts,
  parseMediaSetting,
  parseMtuRange,
  parseMtuSetting,
  parseServiceOrder,
} from '../../../src/collect/unix/networksetup.ts';
import { parseBsdRoute } from '../../../src/collect/unix/route-bsd.ts';
import { recorded } from './recorded/recorded.ts';

describe('parseMedia', () => {
  it.each([
    [
      'autoselect (10Gbase-T <full-duplex,flow-control>)',
      { speedMbps: 10000, duplex: 'full', autoNegotiation: true, none: false },
    ],
    [
      'autoselect (10GbaseT <full-duplex>)',
      { speedMbps: 10000, duplex: 'full', autoNegotiation: true, none: false },
    ],
    [
      'autoselect (5000Base-T <full-duplex,energy-efficient-ethernet>)',
      { speedMbps: 5000, duplex: 'full', autoNegotiation: true, none: false },
    ],
    [
      'autoselect (2500BaseT <full-duplex>)',
      { speedMbps: 2500, duplex: 'full', autoNegotiation: true, none: false },
    ],
    [
      'autoselect (2500Base-T <full-duplex>)',
      { speedMbps: 2500, duplex: 'full', autoNegotiation: true, none: false },
    ],
    [
      'autoselect (100baseTX <half-duplex>)',
      { speedMbps: 100, duplex: 'half', autoNegotiation: true, none: false },
    ],
    [
      'autoselect (10baseT/UTP <half-duplex>)',
      { speedMbps: 10, duplex: 'half', autoNegotiation: true, none: false },
    ],
    ['autoselect (1000baseT)', { speedMbps: 1000, autoNegotiation: true, none: false }],
    [
      '1000baseT <full-duplex>',
      { speedMbps: 1000, duplex: 'full', autoNegotiation: false, none: false },
    ],
    ['100baseTX <full-duplex> (none)', { autoNegotiation: false, none: true }],
    [
      'Ethernet autoselect (10Gbase-T <full-duplex,rxpause,txpause>)',
      { speedMbps: 10000, duplex: 'full', autoNegotiation: true, none: false },
    ],
    ['autoselect <full-duplex>', { duplex: 'full', autoNegotiation: true, none: false }],
    ['autoselect', { autoNegotiation: true, none: false }],
    ['autoselect (none)', { autoNegotiation: true, none: true }],
    ['autoselect (<unknown type>)', { autoNegotiation: true, none: false }],
    ['<unknown type>', { none: false }],
  ])('%s', (text, media) => {
    expect(parseMedia(text)).toEqual(media);
  });
});

describe('parseIfconfigBsd', () => {
  const all = parseIfconfigBsd(recorded('ifconfig-macos.txt'));
  const named = (name: string) => all.find((port) => port.name === name);

  it('finds every interface', () => {
    expect(all.map((port) => port.name)).toEqual([
      ...['lo0', 'en0', 'en5', 'en7', 'bond0', 'vlan0', 'bridge0', 'utun0', 'gif0'],
    ]);
  });

  it('reads a whole wired port', () => {
    expect(named('en5')).toEqual({
      name: 'en5',
      flags: ['UP', 'BROADCAST', 'SMART', 'RUNNING', 'SIMPLEX', 'MULTICAST'],
      mtuBytes: 9000,
      mtuMaxBytes: 9000,
      ifIndex: 9,
      macAddress: '02:00:5e:00:00:05',
      addresses: ['198.18.0.20/23', 'fd00:5e::20/64'],
      media: 'autoselect (10Gbase-T <full-duplex,flow-control>)',
      active: true,
      type: 'Ethernet',
      linkRateMbps: 10000,
      lower: [],
      groups: [],
      lagMembers: [],
      bridgeMembers: [],
      supportedModes: [
        '100baseTX full-duplex',
        '1000baseT full-duplex energy-efficient-ethernet',
        '10Gbase-T full-duplex',
      ],
    });
  });

  it.each([
    ['vlan0', { vlanId: 20, lower: ['en5'] }],
    ['bond0', { lower: ['en8', 'en9'] }],
    ['bridge0', { lower: ['en1', 'en2'], active: false, media: '<unknown type>' }],
    ['utun0', { mtuBytes: 1380, addresses: ['198.19.0.2/32'], lower: [] }],
    ['lo0', { addresses: ['127.0.0.1/8', '::1/128'] }],
    ['en0', { type: 'Wi-Fi', linkRateMbps: 866.7 }],
  ])('%s', (name, part) => {
    expect(named(name)).toMatchObject(part);
  });

  it('takes no prefix length from a netmask with a hole', () => {
    const [port] = parseIfconfigBsd(
      'en5: flags=1<UP> mtu 1500\n\tinet 198.18.0.1 netmask 0xff00ff00\n',
    );
    expect(port?.addresses).toEqual([]);
  });
});

describe('networksetup', () => {
  it('names hardware ports up to the section of VLANs', () => {
    expect([...parseHardwarePorts(recorded('hardware-ports.txt'))]).toEqual([
      ['en0', 'Wi-Fi'],
      ['en5', 'Thunderbolt Ethernet Slot 1'],
      ['en7', 'Ethernet Adapter (en7)'],
      ['bridge0', 'Thunderbolt Bridge'],
    ]);
  });

  it.each([
    ['Active MTU: 9000 (Current Setting: 9000)', { activeBytes: 9000, settingBytes: 9000 }],
    ['Active MTU: 1500 (Current Setting: 9000)', { activeBytes: 1500, settingBytes: 9000 }],
    ['Active MTU: 1500', { activeBytes: 1500 }],
    ['Active MTU: 1500 (Current Setting: Standard)', {}],
    ['** Error: The parameters were not valid.', {}],
    ['', {}],
  ])('-getMTU %j', (output, setting) => {
    expect(parseMtuSetting(output)).toEqual(setting);
  });

  it.each([
    ['Valid MTU Range: 1280-9000', { minBytes: 1280, maxBytes: 9000 }],
    ['Valid MTU Range: 1280-16334\n', { minBytes: 1280, maxBytes: 16334 }],
    ['Valid MTU Range: 1280-', {}],
    ['** Error: The parameters were not valid.', {}],
  ])('-listValidMTURange %j', (output, range) => {
    expect(parseMtuRange(output)).toEqual(range);
  });
});

describe('parseMediaSetting', () => {
  it.each([
    [
      'Current: autoselect\nActive: 10Gbase-T <full-duplex,flow-control>',
      'autoselect (10Gbase-T <full-duplex,flow-control>)',
    ],
    [
      'Current: autoselect\nActive: 1000baseT <full-duplex flow-control>',
      'autoselect (1000baseT <full-duplex,flow-control>)',
    ],
    ['Current: autoselect\nActive: 1000baseT full-duplex', 'autoselect (1000baseT <full-duplex>)'],
    [
      'Current: 100baseTX <full-duplex>\nActive: 100baseTX <full-duplex>',
      '100baseTX <full-duplex>',
    ],
    ['Current: autoselect\nActive: none', 'autoselect (none)'],
    ['Current: autoselect\nActive: autoselect', 'autoselect'],
    ['Current: autoselect\nActive: not set', 'autoselect'],
    ['Current: autoselect\nActive: ', 'autoselect'],
    ['Active: 1000baseT', undefined],
    ['** Error: The parameters were not valid.', undefined],
    ['', undefined],
  ])('%j', (output, media) => {
    expect(parseMediaSetting(output)).toBe(media);
  });
});

describe('parseServiceOrder', () => {
  const pair = (mark: string, device: string) =>
    `(${mark}) A service, Device: en3\n(Hardware Port: Slot 1, left, Device: ${device})\n`;

  it('names devices in order, without services that are off or have none', () => {
    const head = 'An asterisk (*) denotes that a network service is disabled.\n';
    const output = `${head}${pair('1', 'en5')}${pair('*', 'en6')}${pair('2', '')}${pair('3', 'en0')}${pair('4', 'en5')}`;
    expect(parseServiceOrder(output)).toEqual(['en5', 'en0']);
  });

  it.each([
    [''],
    ['** Error: The parameters were not valid.'],
    ['(Hardware Port: X, Device: en5)'],
  ])('finds none in %j', (output) => {
    expect(parseServiceOrder(output)).toEqual([]);
  });
});

describe('parseNetstatInterfaces', () => {
  it('reads link rows only, with or without an address, down or not counted', () => {
    const none = { rxFrames: 0, rxErrors: 0, rxOctets: 0, txFrames: 0, txErrors: 0, txOctets: 0 };
    expect(Object.fromEntries(parseNetstatInterfaces(recorded('netstat-macos.txt')))).toEqual({
      lo0: {
        ifIndex: 1,
        rxFrames: 1201,
        rxErrors: 0,
        rxOctets: 240400,
        txFrames: 1201,
        txErrors: 0,
        txOctets: 240400,
      },
      gif0: { ...none, ifIndex: 2 },
      en0: { ...none, ifIndex: 6, rxFrames: 700, rxOctets: 70000, txFrames: 600, txOctets: 60000 },
      en5: {
        ifIndex: 9,
        rxFrames: 90210,
        rxErrors: 3,
        rxOctets: 812000000,
        txFrames: 70110,
        txErrors: 1,
        txOctets: 601000000,
      },
      en7: { ...none, ifIndex: 10 },
      utun0: {
        ifIndex: 14,
        rxFrames: 10,
        rxErrors: 0,
        rxOctets: 1000,
        txFrames: 12,
        txOctets: 1200,
      },
    });
  });
});

describe('parseBsdRoute', () => {
  const section = { name: 'route', about: '198.18.9.9', words: '', status: 0 };

  it('reads the device, the router and a locked MTU', () => {
    expect(parseBsdRoute({ ...section, output: recorded('route-macos.txt') })).toEqual({
      to: '198.18.9.9',
      device: 'en5',
      gateway: '198.18.0.254',
      mtuBytes: 1500,
    });
  });

  it('keeps the words when there is no route', () => {
    const words = 'route: writing to routing socket: not in table';
    expect(parseBsdRoute({ ...section, output: '', words, status: 1 })).toEqual({
      to: '198.18.9.9',
      words,
    });
  });
});

describe('parseBsdMounts', () => {
  it('reads servers without the user, and no local file systems', () => {
    const output = [
      '/dev/disk3s1s1 on / (apfs, sealed, local, read-only, journaled)',
      '198.18.0.10:/export on /Volumes/plots (nfs, nodev, nosuid)',
      '//auditor:x@198.18.0.11/share on /Volumes/share (1) (smbfs, nodev, nosuid, mounted by a)',
      'afp_0TTxsT0TQ0gT on /Volumes/old (afpfs, nodev)',
      '//vault.office.example/scans on /Volumes/scans (afpfs, nodev)',
      '[fd00:5e::13]:/export on /Volumes/v6 (nfs)',
    ].join('\n');
    expect(parseBsdMounts(output)).toEqual([
      { server: '198.18.0.10', kind: 'nfs', at: '/Volumes/plots' },
      { server: '198.18.0.11', kind: 'smb', at: '/Volumes/share (1)' },
      { server: 'vault.office.example', kind: 'afp', at: '/Volumes/scans' },
      { server: 'fd00:5e::13', kind: 'nfs', at: '/Volumes/v6' },
    ]);
  });
});
