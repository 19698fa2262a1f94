import { describe, expect, it } from 'vitest';
import { busFromText, pcieFromText, usbFromText } from '../../src/ethernet/host-bus-text.ts';

describe('pcieFromText', () => {
  it.each([
    ['2.5 GT/s PCIe', '1', 1, 1],
    ['5.0 GT/s PCIe', '4', 2, 4],
    ['5 GT/s', '8', 2, 8],
    ['8.0 GT/s PCIe', '4', 3, 4],
    ['8 GT/s', '2', 3, 2],
    ['8.0 GT/s', 'x4', 3, 4],
    ['16.0 GT/s PCIe', '16', 4, 16],
    ['32.0 GT/s PCIe', '12', 5, 12],
  ])('%j and %j: generation %i x%i', (speed, width, generation, lanes) => {
    expect(pcieFromText(speed, width)).toEqual({ kind: 'pcie', generation, lanes });
  });

  it.each([
    ['Unknown', '4'],
    ['Unknown speed', '63'],
    ['8.0 GT/s PCIe', '0'],
    ['8.0 GT/s PCIe', '3'],
    ['8.0 GT/s PCIe', ''],
    ['8.0 GT/s PCIe', '-4'],
    ['64.0 GT/s PCIe', '4'],
    ['8.00 GT/s PCIe', '4'],
    ['8.0 GT/s PCIe\n', '4'],
    ['', '4'],
    ['0 GT/s', '4'],
    ['8.0', '4'],
  ])('%j and %j tell nothing', (speed, width) => {
    expect(pcieFromText(speed, width)).toBeUndefined();
  });
});

describe('usbFromText', () => {
  it.each(['480', '5000', '10000', '20000'])('%s', (speed) => {
    expect(usbFromText(speed)).toEqual({ kind: 'usb', speedMbps: Number(speed) });
  });

  it.each(['12', '1.5', '', '0', '4.8e2', ' 480', '0480', '40000', '-480'])(
    '%j tells nothing',
    (speed) => {
      expect(usbFromText(speed)).toBeUndefined();
    },
  );
});

describe('busFromText', () => {
  it.each([
    ['PCIe 8.0 GT/s x4', { kind: 'pcie', generation: 3, lanes: 4 }],
    ['USB 5000 Mb/s', { kind: 'usb', speedMbps: 5000 }],
    ['Thunderbolt 10 Gb/s', { kind: 'thunderbolt', version: 1 }],
    ['Thunderbolt 20 Gb/s', { kind: 'thunderbolt', version: 2 }],
    ['Thunderbolt 40 Gb/s', { kind: 'thunderbolt', version: 3 }],
  ] as const)('%s', (text, bus) => {
    expect(busFromText(text)).toEqual(bus);
  });

  it.each([
    'PCIe 64.0 GT/s x4',
    'PCIe 8.0 GT/s',
    'PCIe 8.0 GT/s x3',
    'USB 12 Mb/s',
    'Thunderbolt 80 Gb/s',
    'USB 5000 Mb/s\n',
    '',
  ])('%j tells nothing', (text) => {
    expect(busFromText(text)).toBeUndefined();
  });
});
