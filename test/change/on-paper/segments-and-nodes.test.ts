import { describe, expect, it } from 'vitest';
import { cord, joined, type PaperRow, paper, saidOf } from './paper.ts';

const whole = paper({});
const shed = '  shed: { at: shed.office.example }';
const yard = 'storage: { mtu: 9000 }, yard: { mtu: 1500 }';
const rows: readonly PaperRow[] = [
  [
    'a segment without an MTU',
    paper({ segments: 'storage: {}' }),
    [['unknown', 'storage', 'has no MTU declared']],
    whole,
  ],
  [
    'a segment that no link carries',
    paper({ segments: yard }),
    [['unknown', 'yard', 'is carried by no declared link']],
    paper({
      segments: yard,
      links: [`{ ends: [plot-1:en7, vault:eth4], tagged: [storage, yard], speed: 10G, ${cord} }`],
    }),
  ],
  [
    'a segment that a link may carry which names none is not missed',
    paper({ segments: yard }),
    [['unknown', 'yard', 'is carried by no declared link']],
    paper({
      segments: yard,
      links: [joined, `{ ends: [plot-1:en8, vault:eth5], speed: 10G, ${cord} }`],
    }),
  ],
  [
    'a node without a link',
    paper({ nodes: shed }),
    [['unknown', 'shed', 'has no link declared']],
    paper({
      nodes: shed,
      links: [joined, `{ ends: [shed:a, vault:eth5], untagged: storage, speed: 10G, ${cord} }`],
    }),
  ],
];

describe('segments and nodes on paper', () => {
  it.each(rows)('%s', async (_, intent, said, twin) => {
    expect(await saidOf(intent)).toEqual(said);
    expect(await saidOf(twin)).toEqual([]);
  });
});
