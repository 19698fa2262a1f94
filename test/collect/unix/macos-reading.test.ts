import { describe, expect, it } from 'vitest';
import { framed, type Printed } from '../../../mocks/unix-output/framed.ts';
import type { NodeReading } from '../../../src/collect/types.ts';
import { parseUnixOutput } from '../../../src/collect/unix/parse-unix-output.ts';
import { recorded } from './recorded/recorded.ts';

const marker = 'mark-7';

function read(sections: readonly Printed[]): NodeReading {
  const text = framed(marker, [{ section: 'system', output: 'Darwin' }, ...sections]);
  const outcome = parseUnixOutput(new TextEncoder().encode(text), marker);
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  return outcome.reading;
}

function gapOf(reading: NodeReading, port: string, fact: string) {
  const found = reading.ports.find(({ name }) => name === port);
  return found?.gaps?.[fact] ?? reading.portGaps[fact];
}

function factsOf(reading: NodeReading, port: string) {
  return reading.ports.find(({ name }) => name === port)?.facts;
}

const ifconfig = { section: 'ifconfig', output: recorded('ifconfig-macos.txt') };
const hardware = { section: 'hardware-ports', output: recorded('hardware-ports.txt') };

describe('a recorded macOS host', () => {
  const reading = read([
    ifconfig,
    hardware,
    { section: 'netstat', output: recorded('netstat-macos.txt') },
    { section: 'mtu en5', output: 'Active MTU: 9000 (Current Setting: 1500)' },
    { section: 'mtu-range en5', output: 'Valid MTU Range: 1280-9000' },
    { section: 'mtu-range en7', output: '** Error: The parameters were not valid.' },
  ]);

  it.each([
    ['lo0', 'loopback', undefined],
    ['en0', 'wireless', undefined],
    ['en5', 'physical', 10_000],
    ['en7', 'physical', undefined],
    ['bond0', 'bond', undefined],
    ['vlan0', 'vlan', 10_000],
    ['bridge0', 'bridge', undefined],
    ['utun0', 'tunnel', undefined],
    ['gif0', 'tunnel', undefined],
  ])('%s is %s at %s Mb/s', (name, kind, speedMbps) => {
    expect(factsOf(reading, name)?.kind).toBe(kind);
    expect(factsOf(reading, name)?.speedMbps).toBe(speedMbps);
  });

  it('keeps the MTU in use, the one that is set and the range apart', () => {
    expect(factsOf(reading, 'en5')).toMatchObject({
      alias: 'Thunderbolt Ethernet Slot 1',
      mtuBytes: 9000,
      mtuConfiguredBytes: 1500,
      mtuMinBytes: 1280,
      mtuMaxBytes: 9000,
      rxErrors: 3,
    });
  });

  it.each([
    ['en7', 'speedMbps', { reason: 'down', words: 'no link' }],
    ['en7', 'duplex', { reason: 'down', words: 'no link' }],
    ['bridge0', 'speedMbps', { reason: 'down', words: 'no link' }],
    ['en0', 'duplex', { reason: 'unsupported', words: 'media: autoselect' }],
    ['lo0', 'operUp', { reason: 'unsupported', words: 'ifconfig prints no status' }],
    ['lo0', 'mtuMinBytes', { reason: 'unasked', words: 'asked only of hardware ports' }],
    [
      'en7',
      'mtuMinBytes',
      { reason: 'unsupported', words: '** Error: The parameters were not valid.' },
    ],
    ['en5', 'partnerModes', { reason: 'unsupported', words: 'macOS does not say' }],
    ['en5', 'rxCrcErrors', { reason: 'unsupported', words: 'macOS does not count it' }],
    ['utun0', 'txErrors', { reason: 'unsupported', words: 'macOS does not count it' }],
  ])('%s has no %s, and says why', (name, fact, gap) => {
    expect({ ...factsOf(reading, name) }[fact as 'speedMbps']).toBeUndefined();
    expect(gapOf(reading, name, fact)).toEqual(gap);
  });
});

describe('a macOS port', () => {
  const block = (lines: readonly string[]) =>
    ['en5: flags=8863<UP,RUNNING> mtu 1500 index 9', ...lines.map((line) => `\t${line}`)].join(
      '\n',
    );

  it('takes the link rate where the media names no speed', () => {
    const output = block([
      'media: autoselect <full-duplex>',
      'status: active',
      'type: Ethernet',
      'link rate: 20.00 Gbps',
    ]);
    const reading = read([{ section: 'ifconfig', output }, hardware]);
    expect(factsOf(reading, 'en5')).toMatchObject({ speedMbps: 20_000, duplex: 'full' });
    expect(reading.portSources['speedMbps']).toBe('ifconfig -v link rate');
  });

  it('takes the medium by networksetup where ifconfig prints none', () => {
    const media = {
      section: 'media en5',
      output: 'Current: autoselect\nActive: 10Gbase-T <full-duplex flow-control>',
    };
    const without = read([
      { section: 'ifconfig', output: block(['status: active']) },
      hardware,
      media,
    ]);
    expect(factsOf(without, 'en5')).toMatchObject({
      speedMbps: 10_000,
      duplex: 'full',
      autoNegotiation: true,
      pauseRx: true,
    });
    expect(without.portSources['speedMbps']).toBe('networksetup -getMedia');
    const output = block(['media: 1000baseT <full-duplex>', 'status: active']);
    const both = read([{ section: 'ifconfig', output }, hardware, media]);
    expect(factsOf(both, 'en5')).toMatchObject({ speedMbps: 1000, autoNegotiation: false });
    expect(both.portSources['speedMbps']).toBe('ifconfig media');
  });

  it.each([
    ['\tbond mode: lacp', '802.3ad'],
    ['\tbond mode: static', 'static'],
    ['\tbond mode: other', undefined],
    ['', undefined],
  ])('of an aggregate: %j is the mode %s', (output, mode) => {
    const reading = read([ifconfig, hardware, { section: 'bond bond0', output }]);
    expect(factsOf(reading, 'bond0')?.aggregateMode).toBe(mode);
    expect(factsOf(reading, 'bond0')?.lowerPorts).toEqual(['en8', 'en9']);
  });

  it('is of unknown kind where the list of hardware ports could not be read', () => {
    const printed = { section: 'hardware-ports', words: 'networksetup: not found', status: 127 };
    const reading = read([ifconfig, printed]);
    expect(factsOf(reading, 'en5')?.kind).toBeUndefined();
    expect(gapOf(reading, 'en5', 'kind')).toEqual({
      reason: 'unsupported',
      words: 'networksetup: not found',
    });
    expect(factsOf(reading, 'vlan0')?.kind).toBe('vlan');
  });

  it('takes no mode and no subject with characters that no system prints', () => {
    const output = block([
      'supported media:',
      '\tmedia \u000eutoselect',
      '\tmedia 1000baseT mediaopt \u001b[31m',
      '\tmedia 100baseTX mediaopt full-duplex',
    ]);
    const reading = read([
      { section: 'ifconfig', output },
      { section: 'route 198.18.0\u001b[31m', output: '  interface: en5' },
    ]);
    expect(factsOf(reading, 'en5')?.supportedModes).toEqual(['100baseTX full-duplex']);
    expect(reading.routes).toEqual([]);
  });
});
