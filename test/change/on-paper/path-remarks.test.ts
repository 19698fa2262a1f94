import { describe, expect, it } from 'vitest';
import { cord, joined, type PaperRow, paper, saidOf } from './paper.ts';

const routed = (sizes: { storage: string; office: string; routes?: boolean; path?: string }) =>
  paper({
    nodes: `  gate: { at: gate.office.example, routes: ${sizes.routes ?? true} }`,
    segments: `storage: { ${sizes.storage} }, office: { ${sizes.office} }`,
    links: [
      `{ ends: [plot-1:en7, gate:em0], untagged: storage, speed: 10G, ${cord} }`,
      `{ ends: [gate:em1, vault:eth4], untagged: office, speed: 10G, ${cord} }`,
    ],
    paths: sizes.path ?? '',
  });
const over = 'plotting: { from: plot-1, to: vault, over: [storage, office] }';
const gateway =
  'is the way out of segment storage (9000 bytes) into office (1500): it fragments larger packets, or answers that they are too big (RFC 791, RFC 1191; of IPv6 always, RFC 8201)';
const one = (path: string, segments?: string) =>
  paper({ paths: `plotting: { from: plot-1, to: vault, ${path} }`, ...(segments && { segments }) });

const rows: readonly PaperRow[] = [
  [
    'the way out of a large segment into a small one',
    routed({ storage: 'mtu: 9000', office: 'mtu: 1500' }),
    [['caution', 'gate', gateway]],
    routed({ storage: 'mtu: 9000', office: 'mtu: 1500', routes: false }),
  ],
  [
    'no way out of a segment of 1500',
    routed({ storage: 'mtu: 9000', office: 'mtu: 8000' }),
    [['caution', 'gate', gateway.replace('office (1500)', 'office (8000)')]],
    routed({ storage: 'mtu: 1500', office: 'mtu: 1400' }),
  ],
  [
    'a path over segments of different MTU',
    routed({ storage: 'mtu: 9000', office: 'mtu: 1500', path: over }),
    [
      [
        'caution',
        'plotting',
        'goes over segments of different MTU, storage (9000) and office (1500): its packet is 1500 bytes; what routes between (gate) fragments larger packets, or answers that they are too big (RFC 791, RFC 1191; of IPv6 always, RFC 8201)',
      ],
      ['caution', 'gate', gateway],
    ],
    routed({ storage: 'mtu: 9000', office: 'mtu: 9000', path: over }),
  ],
  [
    'a path over two segments that nothing routes between',
    routed({ storage: 'mtu: 9000', office: 'mtu: 9000', routes: false, path: over }),
    [['impossible', 'plotting', 'is not joined by the declared links']],
    routed({ storage: 'mtu: 9000', office: 'mtu: 9000', path: over }),
  ],
  [
    'segments of different MTU for a path within one of them',
    paper({
      segments: 'storage: { mtu: 9000 }, office: { mtu: 1500 }',
      links: [`{ ends: [plot-1:en7, vault:eth4], tagged: [storage, office], speed: 10G, ${cord} }`],
      paths: over,
    }),
    [
      [
        'caution',
        'plotting',
        'goes over segments of different MTU, storage (9000) and office (1500): its packet is 1500 bytes, and no declared node routes between them',
      ],
    ],
    paper({
      segments: 'storage: { mtu: 9000 }, office: { mtu: 1500 }',
      links: [`{ ends: [plot-1:en7, vault:eth4], tagged: [storage, office], speed: 10G, ${cord} }`],
      paths: 'plotting: { from: plot-1, to: vault, over: storage }',
    }),
  ],
  [
    'a packet below that of IPv6 (RFC 8200 section 5)',
    one('over: storage, mtu: 1279', 'storage: { mtu: 9000, ipv6: true }'),
    [
      [
        'impossible',
        'plotting',
        'is declared at 1279 bytes over segment storage, which carries IPv6: no link of IPv6 may pass less than 1280 (RFC 8200 section 5)',
      ],
    ],
    one('over: storage, mtu: 1280', 'storage: { mtu: 9000, ipv6: true }'),
  ],
  [
    'a packet above the segments of an end',
    one('mtu: 9001'),
    [
      [
        'impossible',
        'plotting',
        'is declared at 9001 bytes, and plot-1 stands in segments of at most 9000 alone',
      ],
      [
        'impossible',
        'plotting',
        'is declared at 9001 bytes, and vault stands in segments of at most 9000 alone',
      ],
    ],
    one('mtu: 9000'),
  ],
  [
    'a path without an MTU',
    one('load: allowed'),
    [['unknown', 'plotting', 'has no MTU declared']],
    one('over: storage'),
  ],
  [
    'ends that are not joined',
    paper({
      nodes: '  store: { at: store.office.example }',
      links: [joined, `{ ends: [store:a, store:b], untagged: storage, speed: 10G, ${cord} }`],
      paths: 'plotting: { from: plot-1, to: store, over: storage }',
    }),
    [['impossible', 'plotting', 'is not joined by the declared links']],
    one('over: storage'),
  ],
];

describe('a path on paper', () => {
  it.each(rows)('%s', async (_, intent, said, twin) => {
    expect(await saidOf(intent)).toEqual(said);
    expect(await saidOf(twin)).toEqual([]);
  });

  it('may be larger than the segments of an end with a link that names none', async () => {
    const open = `{ ends: [plot-1:en8, vault:eth5], speed: 10G, ${cord} }`;
    const paths = 'plotting: { from: plot-1, to: vault, mtu: 9001 }';
    expect(await saidOf(paper({ links: [joined, open], paths }))).toEqual([]);
  });
});
