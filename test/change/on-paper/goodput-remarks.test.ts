import { describe, expect, it } from 'vitest';
import { cord, type PaperRow, paper, saidOf } from './paper.ts';

const link = (ends: string, speed: string, lag = '') =>
  `{ ends: [${ends}], untagged: storage, ${speed}${lag}${cord} }`;
const wants = (goodput: string, links: readonly string[]) =>
  paper({
    nodes: '  quay: { unread: switch, frame: 9216 }',
    links: [
      '{ ends: [quay:p9, quay:p8], untagged: storage, speed: 10G, run: [cord cat6a 2 m] }',
      ...links,
    ],
    paths: `plotting: { from: plot-1, to: vault, over: storage, goodput: ${goodput} }`,
  });
const direct = (speed: string, n = 1, lag = '') => link(`plot-1:en${n}, vault:eth${n}`, speed, lag);
const by = (first: string, second: string) => [
  link('plot-1:en8, quay:p1', first),
  link('quay:p2, vault:eth8', second),
];
const member = (n: number) => direct('speed: 10G, ', n, 'lag: up, ');

// 9000 bytes over IPv4 with timestamps: 8948 of 9038 bytes of line time, 99.0042 % (RFC 6349 4.1.1,
// computed): 9900.4 Mb/s of 10 Gb/s, 990.0 of 1 Gb/s.
const rows: readonly PaperRow[] = [
  [
    'more than the slowest link carries',
    wants('1.5G', by('speed: 10G, ', 'speed: 1G, ')),
    [
      [
        'impossible',
        'plotting',
        'wants 1500 Mb/s, and quay:p2 - vault:eth8 at 1000 Mb/s with packets of 9000 bytes carries at most 990 Mb/s of TCP data',
      ],
    ],
    wants('0.99G', by('speed: 10G, ', 'speed: 1G, ')),
  ],
  [
    'more than the best of two ways',
    wants('9.91G', [direct('speed: 1G, '), ...by('speed: 10G, ', 'speed: 10G, ')]),
    [
      [
        'impossible',
        'plotting',
        'wants 9910 Mb/s, and plot-1:en8 - quay:p1 at 10000 Mb/s with packets of 9000 bytes carries at most 9900 Mb/s of TCP data',
      ],
    ],
    wants('9.9G', [direct('speed: 1G, '), ...by('speed: 10G, ', 'speed: 10G, ')]),
  ],
  [
    'more than one link of an aggregate carries, and less than all',
    wants('15G', [member(1), member(2)]),
    [
      [
        'unknown',
        'plotting',
        'wants 15000 Mb/s, and plot-1:en1 - vault:eth1, one link of aggregate up, which is all that one flow has, at 10000 Mb/s with packets of 9000 bytes carries at most 9900 Mb/s of TCP data; only several flows together may reach more',
      ],
    ],
    wants('9.9G', [member(1), member(2)]),
  ],
  [
    'more than all links of an aggregate carry',
    wants('20G', [member(1), member(2)]),
    [
      [
        'impossible',
        'plotting',
        'wants 20000 Mb/s, and plot-1:en1 - vault:eth1, one link of aggregate up, which is all that one flow has, at 10000 Mb/s with packets of 9000 bytes carries at most 9900 Mb/s of TCP data',
      ],
    ],
    wants('9.9G', [member(1), member(2)]),
  ],
];

describe('a wanted goodput on paper', () => {
  it.each(rows)('%s', async (_, intent, said, twin) => {
    expect(await saidOf(intent)).toEqual(said);
    expect(await saidOf(twin)).toEqual([]);
  });

  it('is not told of links without a speed', async () => {
    expect(await saidOf(wants('1G', [direct('')]))).toEqual([
      ['unknown', 'plot-1:en1 - vault:eth1', 'has no speed declared'],
      ['unknown', 'plotting', 'wants 1000 Mb/s over links without a declared speed'],
    ]);
  });
});
