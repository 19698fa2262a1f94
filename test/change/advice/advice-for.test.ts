import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { adviceFor } from '../../../src/change/advice/advice-for.ts';
import type { AdviceContext, StepAdvice } from '../../../src/change/advice/types.ts';
import type { ChangeStep } from '../../../src/change/types.ts';
import { context, type Given, step } from './samples.ts';

/**
 * Sources: ip-link(8) and ethtool(8) as installed, systemd-run(1), netplan(5) and nm-settings(5)
 * as published, the usage text of networksetup(8), "Keywords That Can Be Edited" of the Windows
 * driver documentation. From memory: ifconfig(8) and rc.conf(5) of FreeBSD, interfaces(5), at(1),
 * and the PowerShell cmdlets' parameters.
 */
interface Row {
  readonly name: string;
  readonly step?: Given<ChangeStep>;
  readonly context?: Given<AdviceContext>;
  readonly temporary: readonly string[];
  readonly undo: readonly string[];
}

const mac = { systemKind: 'macos', portName: 'en7' };
const fixedLine = { setting: 'link-mode', from: undefined, to: 'as its line says' } as const;
const bsd = { systemKind: 'freebsd', portName: 'ix0' };
const windows = { systemKind: 'windows', portName: 'Ethernet 3' };
const speed = { setting: 'speed', from: 1000, to: 10_000 } as const;
const set = (mtu: number) => `Set-NetIPInterface -InterfaceAlias 'Ethernet 3' -NlMtuBytes ${mtu}`;
const jumbo = (value: number) =>
  `Set-NetAdapterAdvancedProperty -Name 'Ethernet 3' -RegistryKeyword '*JumboPacket' -RegistryValue ${value}`;

const rows: readonly Row[] = [
  {
    name: 'linux, MTU',
    temporary: ['ip link set dev eth4 mtu 9000'],
    undo: ['ip link set dev eth4 mtu 1500'],
  },
  {
    name: 'linux, MTU that was not read: no way back is invented',
    step: { from: undefined },
    temporary: ['ip link set dev eth4 mtu 9000'],
    undo: [],
  },
  {
    name: 'linux, speed with negotiation on and everything offered',
    step: speed,
    context: { port: { autoNegotiation: true, speedMbps: 1000, duplex: 'full' } },
    temporary: ['ethtool -s eth4 speed 10000 duplex full autoneg on'],
    undo: ['ethtool -s eth4 autoneg on'],
  },
  {
    name: 'linux, speed of a forced port',
    step: { ...speed, from: 100, to: 1000 },
    context: { port: { autoNegotiation: false, speedMbps: 100, duplex: 'full' } },
    temporary: ['ethtool -s eth4 speed 1000 duplex full autoneg off'],
    undo: ['ethtool -s eth4 speed 100 duplex full autoneg off'],
  },
  {
    name: 'linux, speed of a port that offered one mode only',
    step: speed,
    context: {
      port: {
        autoNegotiation: true,
        speedMbps: 1000,
        duplex: 'full',
        advertisedModes: ['1000baseT/Full'],
        supportedModes: ['1000baseT/Full', '10000baseT/Full'],
      },
    },
    temporary: ['ethtool -s eth4 speed 10000 duplex full autoneg on'],
    undo: ['ethtool -s eth4 speed 1000 duplex full autoneg on'],
  },
  {
    name: 'linux, speed of a port that offered some of its modes: going back is words',
    step: speed,
    context: {
      port: {
        autoNegotiation: true,
        speedMbps: 1000,
        duplex: 'full',
        advertisedModes: ['100baseT/Full', '1000baseT/Full'],
        supportedModes: ['100baseT/Full', '1000baseT/Full', '10000baseT/Full'],
      },
    },
    temporary: ['ethtool -s eth4 speed 10000 duplex full autoneg on'],
    undo: [],
  },
  {
    name: 'linux, duplex',
    step: { setting: 'duplex', from: 'half', to: 'full' },
    context: { port: { autoNegotiation: false, speedMbps: 100, duplex: 'half' } },
    temporary: ['ethtool -s eth4 speed 100 duplex full autoneg off'],
    undo: ['ethtool -s eth4 speed 100 duplex half autoneg off'],
  },
  {
    name: 'linux, negotiation on',
    step: { setting: 'auto-negotiation', from: false, to: true },
    context: { port: { autoNegotiation: false, speedMbps: 1000, duplex: 'full' } },
    temporary: ['ethtool -s eth4 autoneg on'],
    undo: ['ethtool -s eth4 speed 1000 duplex full autoneg off'],
  },
  {
    name: 'linux, negotiation off at a speed that was not read',
    step: { setting: 'auto-negotiation', from: true, to: false },
    context: { port: { autoNegotiation: true } },
    temporary: [],
    undo: [],
  },
  {
    name: 'macos, MTU',
    context: mac,
    temporary: ['networksetup -setMTU en7 9000'],
    undo: ['networksetup -setMTU en7 1500'],
  },
  {
    name: 'macos, speed without negotiation: the one medium that the adapter lists',
    step: { ...fixedLine, line: { speedMbps: 10_000, negotiates: false } },
    context: {
      ...mac,
      port: {
        autoNegotiation: true,
        supportedModes: ['1000baseT full-duplex', '10Gbase-T full-duplex'],
      },
    },
    temporary: ['networksetup -setMedia en7 10Gbase-T full-duplex'],
    undo: ['networksetup -setMedia en7 autoselect'],
  },
  {
    name: 'macos, speed without negotiation: an adapter that lists no medium for it',
    step: { ...fixedLine, line: { speedMbps: 10_000, negotiates: false } },
    context: { ...mac, port: { autoNegotiation: true, supportedModes: ['1000baseT full-duplex'] } },
    temporary: [],
    undo: [],
  },
  {
    name: 'freebsd, MTU',
    context: bsd,
    temporary: ['ifconfig ix0 mtu 9000'],
    undo: ['ifconfig ix0 mtu 1500'],
  },
  {
    name: 'freebsd, speed without negotiation',
    step: { ...fixedLine, line: { speedMbps: 1000, negotiates: false } },
    context: {
      ...bsd,
      port: { autoNegotiation: true, duplex: 'full', supportedModes: ['1000baseT full-duplex'] },
    },
    temporary: ['ifconfig ix0 media 1000baseT mediaopt full-duplex'],
    undo: ['ifconfig ix0 media autoselect'],
  },
  {
    name: 'windows, MTU beyond the driver setting: 14 bytes more there',
    context: { ...windows, port: { kind: 'physical', driverMtuBytes: 1500 } },
    temporary: [jumbo(9014), `${set(9000)} -PolicyStore ActiveStore`],
    undo: [set(1500), jumbo(1514)],
  },
  {
    name: 'windows, MTU within the driver setting',
    context: { ...windows, port: { kind: 'physical', driverMtuBytes: 9000 } },
    temporary: [`${set(9000)} -PolicyStore ActiveStore`],
    undo: [set(1500)],
  },
  {
    name: 'windows, MTU where kind and driver setting were not read',
    context: { ...windows, port: {} },
    temporary: [jumbo(9014), `${set(9000)} -PolicyStore ActiveStore`],
    undo: [set(1500)],
  },
  {
    name: 'windows, MTU of a port without hardware',
    context: { ...windows, port: { kind: 'virtual' } },
    temporary: [`${set(9000)} -PolicyStore ActiveStore`],
    undo: [set(1500)],
  },
  {
    name: 'windows, lowering leaves the driver setting alone',
    step: { from: 9000, to: 1500 },
    context: { ...windows, port: { kind: 'physical', driverMtuBytes: 9000 } },
    temporary: [`${set(1500)} -PolicyStore ActiveStore`],
    undo: [set(9000)],
  },
  {
    name: 'windows, speed: the keyword differs from driver to driver',
    step: speed,
    context: windows,
    temporary: [],
    undo: [],
  },
  {
    name: 'switch',
    context: { systemKind: 'snmp', portName: 'xg2' },
    temporary: [],
    undo: [],
  },
  {
    name: 'a host of an unknown system',
    context: { systemKind: undefined },
    temporary: [],
    undo: [],
  },
  {
    name: 'a port known by its alias only',
    context: { portName: undefined },
    temporary: [],
    undo: [],
  },
  { name: 'a whole node', step: { port: undefined }, temporary: [], undo: [] },
  {
    name: 'an MTU that is no whole number',
    step: { to: 9000.5 },
    temporary: [],
    undo: [],
  },
  { name: 'an MTU beyond IPv4', step: { to: 65_536 }, temporary: [], undo: [] },
  { name: 'a value of the wrong type', step: { to: '9000' }, temporary: [], undo: [] },
];

function adviceOf(row: Pick<Row, 'step' | 'context'>): StepAdvice {
  return adviceFor(step(row.step), context(row.context));
}

describe('commands', () => {
  it.each(rows)('$name', (row) => {
    const { temporary, undo } = adviceOf(row);
    expect({ temporary, undo }).toEqual({ temporary: row.temporary, undo: row.undo });
  });
});

describe('what keeps it over a restart', () => {
  const kept = (given: Pick<Row, 'step' | 'context'>) =>
    Object.fromEntries(adviceOf(given).persistent.map(({ by, lines }) => [by, lines]));

  it('names every candidate on Linux for an MTU', () => {
    expect(kept({})).toEqual({
      'systemd-networkd': [
        '# in the Network File that "networkctl status eth4" names, or a drop-in beside it',
        '[Link]',
        'MTUBytes=9000',
      ],
      'YAML under /etc/netplan': [
        '# in the file that names eth4; "netplan try" goes back by itself unless confirmed',
        'network:',
        '  ethernets:',
        '    "eth4":',
        '      match:',
        '        macaddress: "02:00:5e:00:00:41"',
        '      mtu: 9000',
      ],
      NetworkManager: [
        'nmcli connection modify "$(nmcli --escape no --get-values GENERAL.CONNECTION device show eth4)" 802-3-ethernet.mtu 9000',
      ],
      ifupdown: [
        '# in /etc/network/interfaces, below "iface eth4 inet static" or "manual"',
        '    mtu 9000',
        '# below "iface eth4 inet dhcp"',
        '    post-up ip link set dev eth4 mtu 9000',
      ],
    });
  });

  // The yaml package reads it as netplan(5) lays it out.
  it.each([
    ['physical', 'eth4', 'ethernets', { match: { macaddress: '02:00:5e:00:00:41' }, mtu: 9000 }],
    ['bond', 'no', 'bonds', { mtu: 9000 }],
    ['bridge', '1e3', 'bridges', { mtu: 9000 }],
    ['vlan', 'bond0.20', 'vlans', { mtu: 9000 }],
  ] as const)('is YAML for a %s called %s', (kind, portName, group, value) => {
    const port = { kind, permanentMacAddress: '02:00:5e:00:00:41' };
    const lines = kept({ context: { portName, port } })['YAML under /etc/netplan'];
    expect(parse(lines?.join('\n') ?? '')).toEqual({ network: { [group]: { [portName]: value } } });
  });

  it('leaves a MAC address out that is none', () => {
    const port = { kind: 'physical', permanentMacAddress: '"\n  evil: true' };
    expect(kept({ context: { port } })['YAML under /etc/netplan']).not.toContain('      match:');
  });

  it('names link file, profile and stanza on Linux for a speed', () => {
    const port = { autoNegotiation: false, duplex: 'full', permanentMacAddress: 'unread' };
    expect(kept({ step: speed, context: { port } })).toEqual({
      'systemd.link file': [
        '# in /etc/systemd/network/*.link; only the first file that matches a port counts',
        '[Match]',
        'OriginalName=eth4',
        '[Link]',
        'AutoNegotiation=no',
        'BitsPerSecond=10000M',
        'Duplex=full',
      ],
      NetworkManager: [
        'nmcli connection modify "$(nmcli --escape no --get-values GENERAL.CONNECTION device show eth4)" 802-3-ethernet.auto-negotiate no 802-3-ethernet.speed 10000 802-3-ethernet.duplex full',
      ],
      ifupdown: [
        '# in /etc/network/interfaces, below "iface eth4"; needs the package of ethtool',
        '    link-speed 10000',
        '    link-duplex full',
        '    ethernet-autoneg off',
      ],
    });
  });

  it.each([
    ['macos', mac, { networksetup: ['# the command above is kept over a restart'] }],
    [
      'freebsd, a VLAN',
      { ...bsd, portName: 'ix0.20' },
      {
        'rc.conf': [
          '# "sysrc ifconfig_ix0_20" shows the line as it is; keep it and add at its end, in place of an older one:',
          'ifconfig_ix0_20="<as it is> mtu 9000"',
        ],
      },
    ],
    ['windows', windows, { PowerShell: [set(9000)] }],
    ['a switch', { systemKind: 'snmp' }, {}],
  ])('%s', (_name, given, lines) => {
    expect(kept({ context: given })).toEqual(lines);
  });
});

// networksetup(8) -setMedia and ifconfig(8) media take one medium or autoselect: neither page has a
// word for a port that negotiates and offers one mode.
describe('a port that is to negotiate and to offer one mode alone', () => {
  const modes = {
    autoNegotiation: true,
    duplex: 'full',
    supportedModes: ['1000baseT full-duplex'],
  };
  const one = { ...fixedLine, line: { speedMbps: 1000, negotiates: true } };

  it.each([
    ['macos', mac, 'networksetup'],
    ['freebsd', bsd, 'ifconfig'],
  ])('has no command on %s, and the reason is said', (_, system, command) => {
    const advice = adviceOf({ step: one, context: { ...system, port: modes } });
    expect(advice.temporary).toEqual([]);
    expect(advice.persistent).toEqual([]);
    expect(advice.noCommand).toEqual([expect.stringContaining(`${command} knows "autoselect"`)]);
    expect(advice.cautions).toEqual(expect.arrayContaining([...(advice.noCommand ?? [])]));
  });

  // ethtool(8): with autoneg on, speed and duplex say what is advertised.
  it('has one on Linux, other than without negotiation', () => {
    const command = (negotiates: boolean) =>
      adviceOf({
        step: { ...fixedLine, line: { speedMbps: 1000, negotiates } },
        context: { port: modes },
      }).temporary;
    expect(command(true)).toEqual(['ethtool -s eth4 speed 1000 duplex full autoneg on']);
    expect(command(false)).toEqual(['ethtool -s eth4 speed 1000 duplex full autoneg off']);
  });
});

describe('a return that fires by itself', () => {
  it.each([
    [
      'linux',
      {},
      {
        arm: [
          "systemd-run --on-active=10m --unit=put-back-mtu-eth4 /bin/sh -c 'ip link set dev eth4 mtu 1500'",
          "# without systemd: echo 'ip link set dev eth4 mtu 1500' | at now + 10 minutes; cancel it by atrm",
        ],
        cancel: 'systemctl stop put-back-mtu-eth4.timer',
      },
    ],
    [
      'macos',
      mac,
      {
        arm: ["nohup sh -c 'sleep 600; networksetup -setMTU en7 1500' >/dev/null 2>&1 & echo $!"],
        cancel: 'kill NUMBER   # the number that the command printed',
      },
    ],
    [
      'freebsd',
      bsd,
      {
        arm: ["echo 'ifconfig ix0 mtu 1500' | at now + 10 minutes"],
        cancel: 'atrm JOB   # the number that "at" printed; "atq" lists it',
      },
    ],
    [
      'windows',
      windows,
      {
        arm: [
          '$when = New-ScheduledTaskTrigger -Once -At (Get-Date).AddMinutes(10)',
          `$what = New-ScheduledTaskAction -Execute powershell.exe -Argument '-NoProfile -Command "Set-NetIPInterface -InterfaceAlias ''Ethernet 3'' -NlMtuBytes 1500"'`,
          "Register-ScheduledTask -TaskName 'put back Ethernet 3' -User SYSTEM -Trigger $when -Action $what",
        ],
        cancel: "Unregister-ScheduledTask -TaskName 'put back Ethernet 3' -Confirm:$false",
      },
    ],
    ['a switch', { systemKind: 'snmp' }, undefined],
  ])('%s', (_name, given, timedReturn) => {
    expect(adviceOf({ context: { port: {}, ...given } }).timedReturn).toEqual(timedReturn);
  });

  it('is not offered where nothing is known to go back to', () => {
    expect(adviceOf({ step: { from: undefined } }).timedReturn).toBeUndefined();
  });
});

describe('hostile names', () => {
  const names = [
    'eth4;reboot',
    'eth4 mtu 68',
    '-a',
    '$(reboot)',
    '`reboot`',
    "eth4'",
    'eth4\nreboot',
    'eth0:1',
    '../eth4',
    'abcdefghijklmnop',
    '',
  ];
  it.each(names)('%j gives words and no command on Linux, macOS and FreeBSD', (portName) => {
    for (const systemKind of ['linux', 'macos', 'freebsd']) {
      const { temporary, persistent, undo, timedReturn } = adviceOf({
        context: { systemKind, portName },
      });
      expect({ temporary, persistent, undo, timedReturn }).toEqual({
        temporary: [],
        persistent: [],
        undo: [],
        timedReturn: undefined,
      });
    }
  });

  it.each(["Ethernet' ; Stop-Computer", 'Ethernet\u2019', 'Eth*', 'Eth[0]', 'Eth"', 'Eth`n', '$x'])(
    '%j gives no command on Windows',
    (portName) => {
      expect(adviceOf({ context: { ...windows, portName } }).temporary).toEqual([]);
    },
  );

  it('takes an alias in the letters of another language', () => {
    expect(adviceOf({ context: { ...windows, portName: 'Подключение 2' } }).undo).toEqual([
      "Set-NetIPInterface -InterfaceAlias 'Подключение 2' -NlMtuBytes 1500",
    ]);
  });

  it('never lets a name add a sign to a command that its system would read', () => {
    const unix = /^[A-Za-z0-9_ .-]+$/;
    const shell = /^[\p{L}\p{M}\p{N} ._()#*'-]+$/u;
    const kinds = fc.constantFrom('linux', 'macos', 'freebsd', 'windows');
    const text = fc.oneof(
      fc.string(),
      fc.string({ unit: fc.constantFrom('a', '0', ' ', "'", ';', '-', '.') }),
    );
    fc.assert(
      fc.property(kinds, text, (systemKind, portName) => {
        const { temporary, undo } = adviceOf({ context: { systemKind, portName } });
        for (const line of [...temporary, ...undo]) {
          expect(line).toMatch(systemKind === 'windows' ? shell : unix);
          expect((line.match(/'/g) ?? []).length % 2).toBe(0);
        }
      }),
    );
  });
});

// A reference outside the project: the shell of this machine reads each line without running it.
describe('the POSIX shell', () => {
  it.each([
    ['linux', {}],
    ['macos', mac],
    ['freebsd', bsd],
  ])('accepts what is to be typed on %s', (_name, given) => {
    const { temporary, undo, timedReturn } = adviceOf({ context: given });
    const lines = [...temporary, ...undo, ...(timedReturn?.arm ?? []), timedReturn?.cancel ?? ''];
    expect(lines.length).toBeGreaterThanOrEqual(4);
    for (const line of lines) execFileSync('sh', ['-n', '-c', line]);
  });
});
