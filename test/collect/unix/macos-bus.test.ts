import { describe, expect, it } from 'vitest';
import { type BusReports, macosBus } from '../../../src/collect/unix/macos-bus.ts';
import { parseSystemProfile } from '../../../src/collect/unix/system-profile.ts';

type Json = Readonly<Record<string, unknown>>;

const profile = (type: string, items: readonly Json[]) =>
  parseSystemProfile(JSON.stringify({ [type]: items }), type) ?? [];

function reports(
  ethernet: readonly Json[],
  pci: readonly Json[] = [],
  thunderbolt: readonly Json[] = [],
) {
  return {
    ethernet: profile('SPEthernetDataType', ethernet),
    pci: profile('SPPCIDataType', pci),
    thunderbolt: profile('SPThunderboltDataType', thunderbolt),
  } satisfies BusReports;
}

function read(of: BusReports) {
  const { busText, busMbps } = macosBus('en7', of);
  const value = (settled: typeof busText | typeof busMbps) =>
    settled === undefined ? undefined : 'value' in settled ? settled.value : settled.reason;
  return [value(busText), value(busMbps)];
}

// Keys and words: from memory and from what others saw; no such machine was at hand.
const adapter = {
  spethernet_BSD_Device_Name: 'en7',
  spethernet_bus: 'spethernet_pcie',
  'spethernet_vendor-id': '0x1d6a',
  'spethernet_device-id': '0x94c0',
};
const card = {
  'sppci_vendor-id': '0x1d6a',
  'sppci_device-id': '0x94c0',
  'sppci_link-speed': '8.0 GT/s',
  'sppci_link-width': 'x4',
};
const tunnelled = { ...card, sppci_slot_name: 'Thunderbolt@67,0,0' };
const usb = (speed: string) => ({
  spethernet_BSD_Name: 'en7',
  spethernet_usb_device_speed: speed,
});
const receptacle = (n: number, speed: string, status: string) => ({
  _name: `bus ${n}`,
  [`receptacle_${n}_tag`]: { current_speed_key: speed, receptacle_status_key: status },
});
const used = 'receptacle_connected';
const empty = 'receptacle_no_devices_connected';

describe('macosBus', () => {
  it.each<[string, BusReports, unknown[]]>([
    ['USB 2', reports([usb('high_speed')]), ['USB 480 Mb/s', 480]],
    ['USB 3', reports([usb('super_speed')]), ['USB 5000 Mb/s', 4000]],
    ['USB 3 at 10 Gb/s', reports([usb('super_speed_plus')]), ['USB 10000 Mb/s', 9696]],
    ['a USB word of another release', reports([usb('hyper')]), ['unsupported', 'unsupported']],
    ['a card in a slot', reports([adapter], [card]), ['PCIe 8.0 GT/s x4', 31_507]],
    [
      'an adapter behind Thunderbolt, whose own link is made up',
      reports(
        [adapter],
        [tunnelled],
        [receptacle(1, '40 Gb/s', used), receptacle(2, 'Up to 40 Gb/s', empty)],
      ),
      ['Thunderbolt 40 Gb/s', 'unsupported'],
    ],
    [
      'a socket that tells only what it could do',
      reports([adapter], [tunnelled], [receptacle(1, 'Up to 40 Gb/s', used)]),
      ['unsupported', 'unsupported'],
    ],
    [
      'two Thunderbolt links of different rates',
      reports(
        [adapter],
        [tunnelled],
        [receptacle(1, '40 Gb/s', used), receptacle(2, '20 Gb/s', used)],
      ),
      ['doubtful', 'doubtful'],
    ],
    [
      'no card that is certainly this one',
      reports([adapter], [{ ...card, 'sppci_device-id': '0x1' }]),
      ['unsupported', 'unsupported'],
    ],
    [
      'one such card in a slot and one outside',
      reports([adapter], [card, tunnelled]),
      ['unsupported', 'unsupported'],
    ],
    [
      'two alike in slots that differ',
      reports([adapter], [card, { ...card, 'sppci_link-width': 'x1' }]),
      ['unsupported', 'unsupported'],
    ],
    [
      'another port',
      reports([{ ...adapter, spethernet_BSD_Device_Name: 'en8' }]),
      ['unsupported', 'unsupported'],
    ],
  ])('%s', (_, of, facts) => {
    expect(read(of)).toEqual(facts);
  });

  it('passes on why a report is missing, and only what needs it is lost', () => {
    const gap = { reason: 'truncated', words: 'the answer ended before this' } as const;
    expect(read({ ...reports([usb('super_speed')]), pci: gap, thunderbolt: gap })[0]).toBe(
      'USB 5000 Mb/s',
    );
    expect(macosBus('en7', { ...reports([adapter]), pci: gap }).busText).toEqual(gap);
    const tunnel = reports([adapter], [tunnelled]);
    expect(macosBus('en7', { ...tunnel, thunderbolt: gap }).busText).toEqual(gap);
    expect(macosBus('en7', { ...tunnel, ethernet: gap }).busMbps).toEqual(gap);
  });
});

describe('parseSystemProfile', () => {
  it('reads items inside items, and keys whatever their hyphens', () => {
    const text = '{"T":[{"a-B_c":"1","_items":[{"d":"2"}],"e":{"f":"3"},"g":4}]}';
    const items = parseSystemProfile(text, 'T') ?? [];
    expect(items.map((item) => [...item])).toEqual([[['abc', '1']], [['d', '2']], [['f', '3']]]);
  });

  it.each([[''], ['{'], ['[]'], ['{"T":{}}'], ['{"U":[]}'], ['null']])('none in %j', (text) => {
    expect(parseSystemProfile(text, 'T')).toBeUndefined();
  });

  it('is bounded in depth and in number', () => {
    const deep = `{"T":[${'{"_items":['.repeat(60)}{"a":"b"}${']}'.repeat(60)}]}`;
    expect(parseSystemProfile(deep, 'T')?.length).toBeLessThanOrEqual(9);
    const wide = JSON.stringify({ T: Array.from({ length: 5000 }, () => ({ a: 'b' })) });
    expect(parseSystemProfile(wide, 'T')).toHaveLength(1000);
  });
});
