import { describe, expect, it } from 'vitest';
import { cord, type PaperRow, paper, saidOf } from './paper.ts';

/** plot-1 and vault by an unread node of their own. */
const through = (node: string, more: { carries?: string; mtu?: number; paths?: string } = {}) => {
  const carries = more.carries ?? 'untagged: storage';
  return paper({
    nodes: `  shed: { ${node} }`,
    segments: `storage: { mtu: ${more.mtu ?? 9000} }`,
    links: [
      `{ ends: [plot-1:en7, shed:p1], ${carries}, speed: 10G, ${cord} }`,
      `{ ends: [shed:p2, vault:eth4], ${carries}, speed: 10G, ${cord} }`,
    ],
    ...(more.paths === undefined ? {} : { paths: more.paths }),
  });
};
const tagged = { carries: 'tagged: storage' };
const small = { mtu: 1500 };

// A frame is its packet, 14 of header and 4 of FCS (IEEE 802.3), and 4 for a tag (IEEE 802.1Q).
const rows: readonly PaperRow[] = [
  [
    'a frame one byte too small, without any path',
    through('unread: switch, frame: 9017'),
    [
      [
        'impossible',
        'shed',
        'passes frames of at most 9017 bytes as declared, and segment storage needs 9018 bytes there (9000 + 18 of header and FCS, IEEE 802.3)',
      ],
    ],
    through('unread: switch, frame: 9018'),
  ],
  [
    'a frame without room for the tag',
    through('unread: switch, frame: 9021', tagged),
    [
      [
        'impossible',
        'shed',
        'passes frames of at most 9021 bytes as declared, and segment storage needs 9022 bytes there (9000 + 18 of header and FCS + 4 of a VLAN tag, IEEE 802.3 and 802.1Q)',
      ],
    ],
    through('unread: switch, frame: 9022', tagged),
  ],
  [
    'the paths that go through it, once',
    through('unread: switch, frame: 1522', {
      paths: 'plotting: { from: plot-1, to: vault, over: storage }',
    }),
    [
      [
        'impossible',
        'shed',
        'passes frames of at most 1522 bytes as declared, and segment storage needs 9018 bytes there (9000 + 18 of header and FCS, IEEE 802.3); it is on the way of path plotting',
      ],
    ],
    through('unread: switch, frame: 9216', {
      paths: 'plotting: { from: plot-1, to: vault, over: storage }',
    }),
  ],
  [
    'a radio: Wi-Fi carries 1500 (common practice)',
    through('unread: radio'),
    [
      [
        'impossible',
        'shed',
        'is a radio in segment storage, which is declared at 9000 bytes: Wi-Fi carries packets of 1500 bytes (common practice)',
      ],
    ],
    through('unread: radio', small),
  ],
  [
    'a radio of which the owner says more',
    through('unread: radio, frame: 9216'),
    [
      [
        'caution',
        'shed',
        'is a radio in segment storage, which is declared at 9000 bytes: Wi-Fi carries packets of 1500 bytes (common practice), and its declared frame of 9216 bytes says more',
      ],
    ],
    through('unread: radio, frame: 9216', small),
  ],
  ...(['switch', 'converter', 'dock', 'phone'] as const).map(
    (kind): PaperRow => [
      `a ${kind} without a declared frame above 1500`,
      through(`unread: ${kind}`),
      [
        [
          'unknown',
          'shed',
          `is an unread ${kind} without a declared frame, and segment storage needs 9018 bytes there (9000 + 18 of header and FCS, IEEE 802.3)`,
        ],
      ],
      through(`unread: ${kind}`, small),
    ],
  ),
];

describe('the frame of an unread node on paper', () => {
  it.each(rows)('%s', async (_, intent, said, twin) => {
    expect(await saidOf(intent)).toEqual(said);
    expect(await saidOf(twin)).toEqual([]);
  });

  it.each(['printer', 'phone', 'camera', 'host'])(
    'asks for that of a %s at an end',
    async (kind) => {
      const end = (mtu: number, frame = '') =>
        paper({
          nodes: `  shed: { unread: ${kind}${frame} }`,
          segments: `storage: { mtu: ${mtu} }`,
          links: [
            `{ ends: [plot-1:en7, vault:eth4], untagged: storage, speed: 10G, ${cord} }`,
            `{ ends: [shed:lan, vault:eth5], untagged: storage, speed: 1G, ${cord} }`,
          ],
        });
      const said = `is an unread ${kind} without a declared frame, and segment storage needs 9018 bytes there (9000 + 18 of header and FCS, IEEE 802.3)`;
      expect(await saidOf(end(9000))).toEqual([['unknown', 'shed', said]]);
      expect(await saidOf(end(9000, ', frame: 9018'))).toEqual([]);
      expect(await saidOf(end(1500))).toEqual([]);
    },
  );

  it('is held against the path where links name no segment', async () => {
    const open = (frame: number) =>
      paper({
        nodes: `  shed: { unread: switch, frame: ${frame} }`,
        links: [
          `{ ends: [plot-1:en7, shed:p1], speed: 10G, ${cord} }`,
          `{ ends: [shed:p2, vault:eth4], speed: 10G, ${cord} }`,
        ],
        paths: 'plotting: { from: plot-1, to: vault, over: storage }',
      });
    expect(await saidOf(open(1522))).toEqual([
      [
        'impossible',
        'plotting',
        'is declared at 9000 bytes, and shed passes at most 1504 by its declared frame',
      ],
    ]);
    expect(await saidOf(open(9018))).toEqual([]);
  });
});
