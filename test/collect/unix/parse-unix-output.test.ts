import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerScript } from '../../../mocks/unix-output/answer-script.ts';
import type { DescribedHost } from '../../../mocks/unix-output/described-host.ts';
import { framed, type Printed } from '../../../mocks/unix-output/framed.ts';
import type { NodeReading } from '../../../src/collect/types.ts';
import { parseUnixOutput } from '../../../src/collect/unix/parse-unix-output.ts';
import { unixScript } from '../../../src/collect/unix/unix-script.ts';
import { plot1, vault } from './described.ts';
import { yard } from './described-bridge.ts';
import { gate } from './described-freebsd.ts';
import { recorded } from './recorded/recorded.ts';

const marker = 'mark-7';
const bytes = (text: string) => new TextEncoder().encode(text);

function answer(host: DescribedHost): string {
  const peers = (host.routes ?? []).map(({ to }) => to);
  return answerScript(host, unixScript({ marker, peers })) ?? '';
}

function read(text: string | Uint8Array): NodeReading {
  const outcome = parseUnixOutput(typeof text === 'string' ? bytes(text) : text, marker);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.trouble));
  return outcome.reading;
}

function trouble(text: string) {
  const outcome = parseUnixOutput(bytes(text), marker);
  return outcome.ok ? undefined : outcome.trouble;
}

function portsOf(reading: NodeReading) {
  return Object.fromEntries(reading.ports.map(({ name, facts }) => [name, facts]));
}

function gapsOf(reading: NodeReading, name: string) {
  const port = reading.ports.find((one) => one.name === name);
  const gaps = { ...reading.portGaps, ...port?.gaps };
  const facts: Record<string, unknown> = { ...port?.facts };
  return Object.fromEntries(Object.entries(gaps).filter(([fact]) => facts[fact] === undefined));
}

describe.each([
  ['a linux host', vault],
  ['a linux host with a bridge', yard],
  ['a macos host', plot1],
  ['a freebsd host', gate],
])('%s, printed as described', (_, host) => {
  const whole = answer(host);
  const reading = read(whole);

  it('gives the described facts and no others', () => {
    expect(reading.facts).toEqual(host.facts);
    expect(portsOf(reading)).toEqual(
      Object.fromEntries(host.ports.map(({ name, ...facts }) => [name, facts])),
    );
    expect(reading.routes).toEqual(host.routes);
    expect(reading.routeTable).toEqual(host.routeTable);
    expect(reading.sessions).toEqual(host.sessions ?? []);
    expect(reading.mounts).toEqual(host.mounts);
    expect(reading.forwarding).toEqual(host.forwarding);
  });

  it('names a source for every fact', () => {
    for (const { facts, sources } of reading.ports) {
      for (const fact of Object.keys(facts)) {
        expect(sources?.[fact] ?? reading.portSources[fact], fact).toMatch(/\w/);
      }
    }
    expect(Object.keys(reading.sources).sort()).toEqual(Object.keys(reading.facts).sort());
  });

  it('gives no other fact wherever the answer is cut', () => {
    const all = bytes(whole);
    let read = 0;
    const core = bytes(whole.slice(0, whole.indexOf(`\n${marker} rest\n`) + marker.length + 7));
    for (let length = 0; length < all.length; length += 1) {
      const outcome = parseUnixOutput(all.subarray(0, length), marker);
      if (!outcome.ok) {
        expect(['no-marks', 'truncated']).toContain(outcome.trouble.kind);
        continue;
      }
      read += 1;
      expectWithin(outcome.reading, reading);
      expect(outcome.reading.gaps['routes']?.reason).toBe(
        length < core.length ? 'truncated' : undefined,
      );
      expect([undefined, reading.routeTable]).toContainEqual(outcome.reading.routeTable);
      expect([undefined, reading.forwarding]).toContainEqual(outcome.reading.forwarding);
    }
    expect(read).toBeGreaterThan(100);
  }, 120_000);

  it('is not disturbed by noise, line ends of another system and what follows', () => {
    const noisy = `Welcome!\r\n\u001b[2J${marker}x begin 1\n${whole.replaceAll('\n', '\r\n')}bye`;
    expect(read(noisy)).toEqual(reading);
  });
});

/** Every fact of `part` is one of `whole`; lists hold only what the whole list holds. */
function expectWithin(part: NodeReading, whole: NodeReading): void {
  const wrong: string[] = [];
  const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
  const wholePorts: Record<string, Record<string, unknown>> = portsOf(whole);
  for (const [name, facts] of Object.entries(portsOf(part))) {
    for (const [fact, value] of Object.entries(facts)) {
      if (!same(value, wholePorts[name]?.[fact])) wrong.push(`${name} ${fact} ${value}`);
    }
  }
  for (const [fact, value] of Object.entries(part.facts)) {
    if (!same(value, { ...whole.facts }[fact])) wrong.push(`${fact} ${value}`);
  }
  for (const list of ['routes', 'sessions', 'mounts'] as const) {
    for (const item of part[list]) {
      if (!whole[list].some((other) => same(item, other))) wrong.push(JSON.stringify(item));
    }
  }
  if (wrong.length > 0) expect(wrong).toEqual([]);
}

describe('gaps of a linux host', () => {
  const reading = read(answer(vault));

  it('says that a port is down, in the words of ethtool', () => {
    expect(gapsOf(reading, 'eth5')).toMatchObject({
      speedMbps: { reason: 'down', words: 'no link (No cable)' },
      duplex: { reason: 'down', words: 'no link (No cable)' },
      partnerModes: { reason: 'down', words: 'no link (No cable)' },
      advertisedModes: { reason: 'unsupported', words: 'Not reported' },
      phyText: { reason: 'down', words: 'no link (No cable)' },
      partnerAutoNegotiation: { reason: 'down', words: 'no link (No cable)' },
      lateCollisions: { reason: 'unsupported', words: 'the driver counts it under no known name' },
      busText: { reason: 'unsupported', words: '/sys shows neither PCI Express nor USB behind it' },
      moduleText: { reason: 'unsupported', words: 'netlink error: Operation not supported' },
      pauseRx: { reason: 'unsupported', words: 'netlink error: Operation not supported' },
    });
  });

  it('has no gap for a port that answered everything it was asked', () => {
    // Of copper in the port itself there is no module and no error correction to read.
    expect(Object.keys(gapsOf(reading, 'eth4')).sort()).toEqual([
      'fecText',
      'moduleTemperatureCelsius',
      'moduleText',
      'rxPowerDbm',
      'rxPowerHighDbm',
      'rxPowerLowDbm',
      'txPowerDbm',
      'txPowerHighDbm',
      'txPowerLowDbm',
    ]);
  });

  it('says what a virtual port was not asked', () => {
    expect(gapsOf(reading, 'veth9')['supportedModes']).toEqual({
      reason: 'unasked',
      words: 'asked only of wired ports with a device behind them',
    });
  });
});

/** Sections of a Linux host with one port, some replaced. */
function small(replaced: readonly Printed[]): string {
  const link = {
    ifindex: 2,
    ifname: 'eno1',
    flags: ['BROADCAST', 'UP', 'LOWER_UP'],
    mtu: 9000,
    link_type: 'ether',
    address: '02:00:5e:00:00:01',
  };
  const usual: readonly Printed[] = [
    { section: 'system', output: 'Linux' },
    { section: 'ip-link', output: JSON.stringify([link]) },
    { section: 'ip-addr', output: '[]' },
    {
      section: 'sysfs eno1',
      output: '@device\n@driver igb\nmtu:9000\nspeed:1000\nduplex:full\ntype:1\nifindex:2',
    },
    { section: 'ethtool eno1', output: recorded('ethtool-10g.txt') },
    { section: 'ethtool-driver eno1', output: 'driver: igb' },
  ];
  const own = (section: string) => replaced.find((printed) => printed.section === section);
  const kept = usual.map((printed) => own(printed.section) ?? printed);
  const added = replaced.filter(({ section }) => !usual.some((one) => one.section === section));
  return framed(marker, [...kept, ...added]);
}

describe('commands that fail on linux', () => {
  it.each([
    [
      'ethtool is not installed',
      { words: 'sh: 21: ethtool: not found', status: 127 },
      { reason: 'unsupported', words: 'sh: 21: ethtool: not found' },
    ],
    [
      'ethtool may not be run',
      { words: 'sh: 21: ethtool: Permission denied', status: 126 },
      { reason: 'denied', words: 'sh: 21: ethtool: Permission denied' },
    ],
    [
      'the driver has no link settings',
      { output: 'No data available', words: 'netlink error: Operation not supported', status: 75 },
      { reason: 'unsupported', words: 'netlink error: Operation not supported' },
    ],
    [
      'ethtool prints something else',
      { output: 'hello', status: 0 },
      { reason: 'unreadable', words: 'hello' },
    ],
  ])('%s: speed from /sys, the rest absent for that reason', (_, printed, gap) => {
    const reading = read(small([{ section: 'ethtool eno1', ...printed }]));
    const port = reading.ports[0];
    expect(port?.facts).toMatchObject({ speedMbps: 1000, duplex: 'full', kind: 'physical' });
    expect(reading.portSources['speedMbps']).toBe('/sys/class/net/*/speed');
    const gaps = gapsOf(reading, 'eno1');
    for (const fact of ['autoNegotiation', 'supportedModes', 'partnerModes', 'mediaText']) {
      expect(gaps[fact], fact).toEqual(gap);
    }
  });

  it('keeps the facts of ethtool that complains about another part', () => {
    const printed = {
      section: 'ethtool eno1',
      output: recorded('ethtool-10g.txt'),
      words: 'netlink error: Operation not permitted',
    };
    expect(read(small([printed])).ports[0]?.facts.partnerModes).toEqual([
      '100baseT/Full',
      '1000baseT/Full',
    ]);
  });

  // SPEED_UNKNOWN of linux/ethtool.h is -1, and 4294967295 where it is printed without a sign.
  it.each([
    ['-1', 'the system says that it does not know the speed'],
    ['0', 'speed 0'],
    ['65535', 'speed 65535'],
    ['4294967295', 'the system says that it does not know the speed'],
  ])('/sys speed %s is no speed', (speed, why) => {
    const sysfs = `@device\n@driver igb\nspeed:${speed}\nduplex:unknown\ntype:1\nifindex:2`;
    const reading = read(
      small([
        { section: 'sysfs eno1', output: sysfs },
        { section: 'ethtool eno1', words: 'ethtool: not found', status: 127 },
      ]),
    );
    expect(reading.ports[0]?.facts.speedMbps).toBeUndefined();
    expect(gapsOf(reading, 'eno1')).toMatchObject({
      speedMbps: { reason: 'unsupported', words: why },
      duplex: { reason: 'unsupported', words: 'duplex unknown' },
    });
  });

  it.each([['virtio_net'], ['vmxnet3'], ['hv_netvsc'], ['vif']])(
    'what a port of %s says of its line is not believed',
    (driver) => {
      const sysfs = `@device\n@driver ${driver}\nspeed:10000\nduplex:full\ntype:1\nifindex:2`;
      const reading = read(small([{ section: 'sysfs eno1', output: sysfs }]));
      expect(reading.ports[0]?.facts.kind).toBe('virtual');
      expect(gapsOf(reading, 'eno1')).toMatchObject({
        speedMbps: { reason: 'doubtful', words: '1000, made up by a port that has no hardware' },
        autoNegotiation: { reason: 'doubtful' },
      });
    },
  );

  it('takes no speed or driver from /sys while the answer of ethtool is missing', () => {
    const sysfs = '@device\n@driver other\nspeed:100\nduplex:half\ntype:1\nifindex:2';
    const whole = small([{ section: 'sysfs eno1', output: sysfs }]);
    const reading = read(whole.slice(0, whole.indexOf('open ethtool')));
    expect(gapsOf(reading, 'eno1')).toMatchObject({
      speedMbps: { reason: 'truncated', words: 'the answer ended before this' },
      duplex: { reason: 'truncated' },
      driver: { reason: 'truncated' },
      supportedModes: { reason: 'truncated' },
    });
  });

  it('does not mix in /sys of another network namespace', () => {
    const sysfs = '@device\n@driver igb\nspeed:1000\ntype:1\nifindex:77\nstatistics/rx_bytes:5';
    const reading = read(small([{ section: 'sysfs eno1', output: sysfs }]));
    expect(reading.ports[0]?.facts.rxOctets).toBeUndefined();
    expect(gapsOf(reading, 'eno1')['rxOctets']?.reason).toBe('unreadable');
  });

  it('believes /sys where an ip without kinds names the port of another namespace', () => {
    // `busybox ip -o link`, BusyBox 1.35, inside a namespace: eth0 is one end of a veth.
    const end = (index: number, name: string) =>
      `${index}: ${name}: <BROADCAST,UP,LOWER_UP> mtu 1500 qdisc noqueue qlen 1000\\    link/ether 02:00:5e:00:00:0${index} brd ff:ff:ff:ff:ff:ff`;
    const output = [end(2, 'eth0@mgmt0'), end(3, 'mgmt0'), end(4, 'eth0.20@eth0')].join('\n');
    const reading = read(
      small([
        { section: 'ip-link', output },
        { section: 'sysfs eth0', output: 'type:1\nifindex:2' },
        { section: 'sysfs eth0.20', output: '@lower lower_eth0\ntype:1\nifindex:4' },
      ]),
    );
    expect(reading.ports.map(({ name, facts }) => [name, facts.lowerPorts])).toEqual([
      ['eth0', undefined],
      ['eth0.20', ['eth0']],
      ['mgmt0', undefined],
    ]);
  });

  it('reads the ports from text where ip prints no JSON', () => {
    const reading = read(small([{ section: 'ip-link', output: recorded('ip-link-old.txt') }]));
    expect(reading.ports.map(({ name, facts }) => [name, facts.kind, facts.lowerPorts])).toEqual([
      ['bond0', 'bond', ['eth4', 'eth5']],
      ['br0', 'bridge', ['bond0']],
      ['br0.20', 'vlan', ['br0']],
      ['eth4', undefined, undefined],
      ['eth5', undefined, undefined],
      ['lo', 'loopback', undefined],
      ['veth9', 'virtual', undefined],
    ]);
    expect(gapsOf(reading, 'eth4')['kind']?.reason).toBe('unasked');
  });

  it('lists the ports of /sys where there is no ip', () => {
    const no = { words: 'ip: not found', status: 127 };
    const sysfs =
      '@device\n@driver igb\nmtu:9000\nspeed:1000\ncarrier:1\nflags:0x1003\naddress:02:00:5e:00:00:01\ntype:1\nifindex:2';
    const reading = read(
      small([
        { section: 'ip-link', ...no },
        { section: 'ip-addr', ...no },
        { section: 'sysfs eno1', output: sysfs },
      ]),
    );
    expect(reading.ports[0]).toMatchObject({
      name: 'eno1',
      facts: { mtuBytes: 9000, adminUp: true, operUp: true, macAddress: '02:00:5e:00:00:01' },
    });
    expect(gapsOf(reading, 'eno1')['addresses']).toEqual({
      reason: 'unsupported',
      words: 'ip: not found',
    });
    expect(gapsOf(reading, 'eno1')['mtuMaxBytes']?.reason).toBe('unsupported');
  });
});

describe('answers that are none', () => {
  it.each([
    ['nothing', '', 'no-marks', 'no answer to the script'],
    [
      'a menu',
      '\u001b[1mThis account is not available.\n',
      'no-marks',
      'not an answer to the script: "[1mThis account is not available."',
    ],
    ['another marker', '\nother begin 1\n\nother end\n', 'no-marks', undefined],
    ['a cut one', `\n${marker} begin 1\n\n${marker} open system\nLin`, 'truncated', undefined],
    [
      'another system',
      framed(marker, [{ section: 'system', output: 'OpenBSD' }]),
      'system-unknown',
      'uname -s says "OpenBSD"',
    ],
    [
      'no list of ports',
      framed(marker, [
        { section: 'system', output: 'Linux' },
        { section: 'ip-link', words: 'ip: not found', status: 127 },
      ]),
      'garbled',
      'no list of ports: "ip: not found"',
    ],
  ])('%s', (_, text, kind, seen) => {
    expect(trouble(text)?.kind).toBe(kind);
    if (seen !== undefined) expect(trouble(text)?.seen).toBe(seen);
  });
});

describe('hostile answers', () => {
  const nasty = [
    '\u001b]0;title\u0007\u001b[31mred',
    '\u202egnp.exe',
    '=1+1|cmd',
    '<script>alert(1)</script>',
    'a\u0000b\u009b2J',
    'it\'s \\ "quoted"',
    'x'.repeat(5000),
  ];
  // C0, DEL, C1 and bidirectional controls.
  const unsafe = /[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2066-\u2069]/;

  function texts(value: unknown): string[] {
    if (typeof value === 'string') return [value];
    if (typeof value !== 'object' || value === null) return [];
    return Object.entries(value).flatMap(([key, item]) => [key, ...texts(item)]);
  }

  it.each(nasty)('cleans %j wherever it stands', (text) => {
    const plain = text.replaceAll('\n', ' ');
    const link = [
      { ifindex: 1, ifname: text, flags: ['UP'], mtu: 1500, link_type: 'ether', ifalias: text },
      { ifindex: 2, ifname: 'eno1', flags: ['UP'], link: text, linkinfo: { info_kind: 'vlan' } },
    ];
    const reading = read(
      small([
        { section: 'name', output: plain },
        { section: 'text', output: plain },
        { section: 'os-release', output: `VERSION_ID="${plain}"` },
        { section: 'ip-link', output: JSON.stringify(link) },
        { section: 'ethtool eno1', output: '', words: plain, status: 1 },
        { section: 'route 198.18.0.1', output: '', words: plain, status: 2 },
        { section: 'mounts', output: `${plain}:/x /mnt/${plain} nfs rw 0 0` },
      ]),
    );
    const all = texts(reading);
    expect(all.length).toBeGreaterThan(20);
    for (const one of all) {
      expect(one).not.toMatch(unsafe);
      expect(one.length).toBeLessThanOrEqual(300);
    }
  });

  it.each([['constructor'], ['toString'], ['__proto__']])('knows no kind %s', (kind) => {
    const link = [{ ifname: 'eno1', flags: ['UP'], linkinfo: { info_kind: kind } }];
    const [port] = read(
      small([
        { section: 'ip-link', output: JSON.stringify(link) },
        { section: 'sysfs eno1', output: `uevent:DEVTYPE=${kind}\ntype:1` },
        { section: 'mounts', output: `198.18.0.9:/x /mnt ${kind} rw 0 0` },
      ]),
    ).ports;
    expect(port?.facts.kind).toBe('virtual');
  });

  it('keeps a control character of an alias from hiding the list', () => {
    const raw = `[{"ifindex":2,"ifname":"eno1","flags":["UP"],"mtu":1500,"link_type":"ether","ifalias":"it\\'s \u001b[31mred"}]`;
    const [port] = read(small([{ section: 'ip-link', output: raw }])).ports;
    expect(port?.facts).toMatchObject({ mtuBytes: 1500, alias: "it's [31mred" });
  });

  it.each([[-1], [0], [1.5], ['9000'], [null], [{}], [9e15]])('takes no mtu from %j', (mtu) => {
    const link = JSON.stringify([{ ifname: 'eno1', flags: ['UP'], mtu }]);
    const reading = read(
      small([
        { section: 'ip-link', output: link },
        { section: 'sysfs eno1', output: '@device\nmtu:1500x' },
      ]),
    );
    expect(reading.ports[0]?.facts.mtuBytes).toBeUndefined();
    expect(gapsOf(reading, 'eno1')['mtuBytes']).toEqual({ reason: 'unreadable', words: '1500x' });
  });

  const flood = (text: string) => text.repeat(Math.ceil(1_000_000 / text.length));

  /** Each was slow with a pattern that tries again at every place. */
  it.each<[string, Printed]>([
    ['blank lines', { section: 'route 198.18.0.1', output: flood('\n') }],
    ['one line of text', { section: 'sessions', output: flood('[1:1:') }],
    ['brackets', { section: 'route 198.18.0.2', output: flood('[') }],
    [
      'addresses',
      { section: 'ip-addr', output: flood('2: eno1    inet 198.18.0.1/24 scope x y\n') },
    ],
    ['drivers', { section: 'ethtool-driver eno1', output: flood('driver: \n\n') }],
    ['words', { section: 'ip-addr', words: flood('x '), status: 1 }],
  ])('reads the rest beside a flood of %s', (_, printed) => {
    const [port] = read(small([printed])).ports;
    expect(port?.facts.mtuBytes).toBe(9000);
    expect(port?.facts.addresses?.length ?? 0).toBeLessThanOrEqual(1024);
  });

  it('takes no media from a line that no system prints', () => {
    const ifconfig = `en5: flags=1<UP> mtu 1500\n\tmedia: ${' ( '.repeat(1000)}`;
    const text = framed(marker, [
      { section: 'system', output: 'Darwin' },
      { section: 'ifconfig', output: ifconfig },
    ]);
    expect(read(text).ports[0]?.facts.autoNegotiation).toBeUndefined();
  });

  it('never throws on any bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 2000 }), (noise) => {
        const begun = bytes(`\n${marker} begin 1\n`);
        for (const input of [noise, Buffer.concat([begun, noise])]) {
          expect(parseUnixOutput(input, marker).ok).toBe(false);
        }
      }),
    );
  });

  it.each([
    ['linux', vault],
    ['macos', plot1],
    ['freebsd', gate],
  ])('never throws on a %s answer with bytes changed', (_, host) => {
    const whole = bytes(answer(host));
    const change = fc.tuple(fc.nat(whole.length - 1), fc.nat(255));
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 20 }), (changes) => {
        const altered = Uint8Array.from(whole);
        for (const [at, byte] of changes) altered[at] = byte;
        const outcome = parseUnixOutput(altered, marker);
        if (outcome.ok) for (const text of texts(outcome.reading)) expect(text).not.toMatch(unsafe);
      }),
    );
  });
});
