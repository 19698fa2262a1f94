import { describe, expect, it } from 'vitest';
import { type PaperRow, paper, saidOf } from './paper.ts';

const two = (first: string, second: string, more = ', lag: up') =>
  paper({
    segments: 'storage: { mtu: 9000 }, office: { mtu: 1500 }',
    links: [
      `{ ends: [plot-1:en7, vault:eth4], ${first}${more}, run: [cord cat6a 2 m] }`,
      `{ ends: [plot-1:en8, vault:eth5], ${second}${more}, run: [cord cat6a 2 m] }`,
    ],
  });
const both = 'tagged: [storage, office], speed: 10G';

// IEEE 802.1AX: one port to its client, links of one rate (from memory).
const rows: readonly PaperRow[] = [
  [
    'members of unequal speeds',
    two(both, 'tagged: [storage, office], speed: 1G'),
    [
      [
        'impossible',
        'aggregate up',
        'has links of unequal speeds: plot-1:en7 - vault:eth4 at 10000 Mb/s and plot-1:en8 - vault:eth5 at 1000 Mb/s; only those of one speed carry frames together (IEEE 802.1AX)',
      ],
    ],
    two(both, 'tagged: [storage, office], speed: 1G', ''),
  ],
  [
    'members of different segments',
    two(both, 'untagged: storage, tagged: office, speed: 10G'),
    [
      [
        'impossible',
        'aggregate up',
        'has links that carry different segments: plot-1:en7 - vault:eth4 tagged office, storage and plot-1:en8 - vault:eth5 untagged storage, tagged office; it is one port, and any link may carry any frame (IEEE 802.1AX)',
      ],
    ],
    two(both, 'tagged: [office, storage], speed: 10G'),
  ],
];

describe('an aggregate on paper', () => {
  it.each(rows)('%s', async (_, intent, said, twin) => {
    expect(await saidOf(intent)).toEqual(said);
    expect(await saidOf(twin)).toEqual([]);
  });
});
