import { describe, expect, it } from 'vitest';
import { linuxBus } from '../../../src/collect/unix/linux-bus.ts';
import { parseSysfs } from '../../../src/collect/unix/sysfs.ts';

type Link = readonly [speed: string, width: string, maxSpeed?: string, maxWidth?: string];

/** Lines of `/sys` for the links from the device upwards. */
function pcie(...links: readonly Link[]): string {
  return links
    .map(([speed, width, maxSpeed, maxWidth], i) => {
      const at = `device${'/..'.repeat(i)}`;
      const max = maxSpeed === undefined ? [] : [`${at}/max_link_speed:${maxSpeed}`];
      const maxLanes = maxWidth === undefined ? [] : [`${at}/max_link_width:${maxWidth}`];
      return [`${at}/current_link_speed:${speed}`, `${at}/current_link_width:${width}`]
        .concat(max, maxLanes)
        .join('\n');
    })
    .join('\n');
}

function read(lines: string) {
  const { busText, busMbps, busMaxMbps } = linuxBus(parseSysfs(`@device\n${lines}`, ''));
  const value = (settled: typeof busText | typeof busMbps) =>
    settled === undefined ? undefined : 'value' in settled ? settled.value : settled.reason;
  return [value(busText), value(busMbps), value(busMaxMbps)];
}

const gen3x4: Link = ['8.0 GT/s PCIe', '4', '8.0 GT/s PCIe', '4'];

describe('linuxBus', () => {
  // Rates after line coding: 8b/10b of generations 1 and 2, 128b/130b of 3 to 5 (PCI-SIG).
  it.each<[string, string, unknown[]]>([
    ['slot and card alike', pcie(gen3x4, gen3x4), ['PCIe 8.0 GT/s x4', 31_507, 31_507]],
    [
      'a card in a slot of one lane',
      pcie(
        ['2.5 GT/s PCIe', '1', '5.0 GT/s PCIe', '4'],
        ['2.5 GT/s PCIe', '1', '2.5 GT/s PCIe', '1'],
      ),
      ['PCIe 2.5 GT/s x1', 2000, 2000],
    ],
    [
      'a card that runs below what slot and card could do',
      pcie(
        ['5.0 GT/s PCIe', '1', '5.0 GT/s PCIe', '4'],
        ['5.0 GT/s PCIe', '1', '8.0 GT/s PCIe', '8'],
      ),
      ['PCIe 5.0 GT/s x1', 4000, 16_000],
    ],
    [
      'an older spelling',
      pcie(['8 GT/s', '4'], ['8 GT/s', '4']),
      ['PCIe 8.0 GT/s x4', 31_507, 'unsupported'],
    ],
    [
      'a bridge above with less',
      pcie(
        gen3x4,
        gen3x4,
        ['5.0 GT/s PCIe', '2', '8.0 GT/s PCIe', '4'],
        ['5.0 GT/s PCIe', '2', '8.0 GT/s PCIe', '16'],
      ),
      ['PCIe 5.0 GT/s x2', 8000, 31_507],
    ],
    [
      'a bridge that a hypervisor makes up: the two ends of one link differ',
      pcie(gen3x4, ['2.5 GT/s PCIe', '1', '2.5 GT/s PCIe', '1']),
      ['PCIe 8.0 GT/s x4', 31_507, 'unsupported'],
    ],
    [
      'a link that is not told',
      pcie(['Unknown', '0']),
      ['unsupported', 'unsupported', 'unsupported'],
    ],
    [
      'a width that no link has',
      pcie(['8.0 GT/s PCIe', '255']),
      ['unsupported', 'unsupported', 'unsupported'],
    ],
    [
      'a device outside the case',
      `device/removable:removable\n${pcie(['2.5 GT/s PCIe', '4'])}`,
      ['doubtful', 'doubtful', 'doubtful'],
    ],
    ['USB 3', 'device/../speed:5000', ['USB 5000 Mb/s', 4000, 'unsupported']],
    ['USB 2', 'device/../speed:480', ['USB 480 Mb/s', 480, 'unsupported']],
    [
      'USB whose device is the port itself',
      'device/speed:10000\ndevice/../speed:480',
      ['USB 10000 Mb/s', 9696, 'unsupported'],
    ],
    ['USB 1', 'device/../speed:12', ['USB 12 Mb/s', 'unsupported', 'unsupported']],
    ['USB that says nonsense', 'device/../speed:fast', ['unreadable', 'unreadable', 'unreadable']],
    ['neither', 'mtu:1500', ['unsupported', 'unsupported', 'unsupported']],
  ])('%s', (_, lines, facts) => {
    expect(read(lines)).toEqual(facts);
  });

  it('says that the narrowest link is one above', () => {
    const { busText } = linuxBus(
      parseSysfs(
        `@device\n${pcie(gen3x4, gen3x4, ['5.0 GT/s PCIe', '2'], ['5.0 GT/s PCIe', '2'])}`,
        '',
      ),
    );
    expect(busText).toEqual({
      value: 'PCIe 5.0 GT/s x2',
      source:
        '/sys/class/net/*/device and the bridges above it: current_link_speed, current_link_width',
    });
  });

  it('is not asked of what has no device, and passes on why /sys is silent', () => {
    expect(linuxBus(parseSysfs('mtu:1500', '')).busText).toMatchObject({ reason: 'unasked' });
    const gap = { reason: 'truncated', words: 'the answer ended before this' } as const;
    expect(linuxBus(gap)).toEqual({ busText: gap, busMbps: gap, busMaxMbps: gap });
  });
});
