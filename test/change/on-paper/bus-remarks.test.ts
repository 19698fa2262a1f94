import { describe, expect, it } from 'vitest';
import { type PaperRow, paper, saidOf } from './paper.ts';

const withBus = (bus: string, speed = '10G', port = 'desk') =>
  paper({
    nodes: `  store: { at: store.office.example, ports: { desk: { name: en7, bus: ${bus} } } }`,
    links: [
      '{ ends: [plot-1:en7, vault:eth4], untagged: storage, speed: 10G, run: [cord cat6a 2 m] }',
      `{ ends: [store:${port}, vault:eth5], untagged: storage, speed: ${speed}, run: [cord cat6a 2 m] }`,
    ],
  });

// PCI Express Base Specification: 8b/10b for generations 1 and 2, 128b/130b from 3 on; which widths
// feed 10 Gb/s by the table of host bus ceilings (secondary source, computed).
const rows: readonly PaperRow[] = [
  [
    'PCI Express 3.0 x1 at 10 Gb/s: 7.877 Gb/s after coding',
    withBus('PCIe 8.0 GT/s x1'),
    [
      [
        'impossible',
        'store:desk',
        'cannot carry the declared 10000 Mb/s: PCI Express 3.0 x1 carries 6.46 to 7.2 Gb/s of data: too little for a port of 10 Gb/s (8 GT/s on 1 lane, of which coding leaves 128/130: 7.88 Gb/s, less the overhead of its packets; PCI Express Base Specification)',
      ],
    ],
    withBus('PCIe 8.0 GT/s x4'),
  ],
  [
    'PCI Express 1.0 x4 at 10 Gb/s: 8 Gb/s after coding',
    withBus('PCIe 2.5 GT/s x4'),
    [
      [
        'impossible',
        'store:desk',
        'cannot carry the declared 10000 Mb/s: PCI Express 1.0 x4 carries 6.56 to 7.31 Gb/s of data: too little for a port of 10 Gb/s (2.5 GT/s on 4 lanes, of which coding leaves 8/10: 8 Gb/s, less the overhead of its packets; PCI Express Base Specification)',
      ],
    ],
    withBus('PCIe 2.5 GT/s x8'),
  ],
  [
    'USB 3.2 Gen 2 at 10 Gb/s: 9.70 Gb/s after coding',
    withBus('USB 10000 Mb/s'),
    [
      [
        'impossible',
        'store:desk',
        'cannot carry the declared 10000 Mb/s: USB at 10000 Mb/s carries 7.76 to 8.73 Gb/s of data: too little for a port of 10 Gb/s (10 Gb/s, of which coding leaves 128/132: 9.7 Gb/s, less the overhead of its packets; USB 3.2)',
      ],
    ],
    withBus('USB 10000 Mb/s', '5G'),
  ],
  [
    'USB 2.0 at 1 Gb/s (common practice)',
    withBus('USB 480 Mb/s', '1G'),
    [
      [
        'impossible',
        'store:desk',
        'cannot carry the declared 1000 Mb/s: USB at 480 Mb/s carries 0.28 to 0.35 Gb/s of data: too little for a port of 1 Gb/s (480 Mb/s, of which polling leaves 280 to 350 Mb/s; USB 2.0, common practice)',
      ],
    ],
    withBus('USB 5000 Mb/s', '1G'),
  ],
  [
    'the first Thunderbolt at 10 Gb/s: borderline',
    withBus('Thunderbolt 10 Gb/s'),
    [
      [
        'unknown',
        'store:desk',
        expect.stringMatching(
          /^may or may not carry the declared 10000 Mb\/s: Thunderbolt 1 carries /,
        ) as unknown as string,
      ],
    ],
    withBus('Thunderbolt 40 Gb/s'),
  ],
  [
    "a link that names the port by the node's own name",
    withBus('PCIe 8.0 GT/s x1', '10G', 'en7'),
    [
      [
        'impossible',
        'store:en7',
        expect.stringMatching(/^cannot carry the declared 10000 Mb\/s/) as unknown as string,
      ],
    ],
    withBus('PCIe 8.0 GT/s x1', '10G', 'en8'),
  ],
];

describe('a declared bus on paper', () => {
  it.each(rows)('%s', async (_, intent, said, twin) => {
    expect(await saidOf(intent)).toEqual(said);
    expect(await saidOf(twin)).toEqual([]);
  });
});
