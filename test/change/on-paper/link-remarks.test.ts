import { describe, expect, it } from 'vitest';
import { type PaperRow, paper, saidOf } from './paper.ts';

const id = 'plot-1:en7 - vault:eth4';
const link = (speed: string, run: string) =>
  paper({
    links: [`{ ends: [plot-1:en7, vault:eth4], untagged: storage, ${speed}run: [${run}] }`],
  });
const at = (speed: string, run: string) => link(`speed: ${speed}, `, run);
const lr = 'module 10GBASE-LR';
const sr = 'module 10GBASE-SR';

const rows: readonly PaperRow[] = [
  [
    'copper longer than 100 m (IEEE 802.3 10GBASE-T over category 6A)',
    at('10G', 'wall cat6a 70 m, cord cat6a 31 m'),
    [
      [
        'impossible',
        id,
        'is declared at 10000 Mb/s, and its run does not reach that (wall cat6a 70 m: a run of 101 m with cat6a in it: 10GBASE-T is assured to 100 m)',
      ],
    ],
    at('10G', 'wall cat6a 90 m, cord cat6a 10 m'),
  ],
  [
    'category 5e at 10 Gb/s: not specified (IEEE 802.3an)',
    at('10G', 'cord cat5e 2 m'),
    [
      [
        'impossible',
        id,
        'is declared at 10000 Mb/s, and its run does not reach that (cord cat5e 2 m: 10GBASE-T is not specified for cat5e)',
      ],
    ],
    at('1G', 'cord cat5e 2 m'),
  ],
  [
    'category 6 beyond 37 m (TIA TSB-155, secondary source)',
    at('10G', 'wall cat6 40 m'),
    [
      [
        'unknown',
        id,
        expect.stringMatching(
          /^may or may not reach 10000 Mb\/s: wall cat6 40 m: a run of 40 m with cat6 in it: 10GBASE-T is assured to 37 m, and runs to 55 m only /,
        ) as unknown as string,
      ],
    ],
    at('10G', 'wall cat6 37 m'),
  ],
  [
    'fibre longer than 300 m over OM3 (IEEE 802.3 10GBASE-SR)',
    at('10G', `${sr}, fibre om3 301 m, ${sr}`),
    [
      [
        'impossible',
        id,
        'is declared at 10000 Mb/s, and its run does not reach that (fibre om3 301 m: 10GBASE-SR over om3 reaches 300 m; the run has 301 m)',
      ],
    ],
    at('10G', `${sr}, fibre om3 300 m, ${sr}`),
  ],
  [
    'modules of two kinds',
    at('10G', `${sr}, fibre om3 40 m, module 10GBASE-LRM`),
    [
      [
        'impossible',
        id,
        'has modules that do not go together (module 10GBASE-LRM: 10GBASE-LRM at one end and 10GBASE-SR at the other)',
      ],
    ],
    at('10G', `${sr}, fibre om3 40 m, ${sr}`),
  ],
  [
    'modules for another fibre, at any speed',
    link('', `${lr}, fibre om3 40 m, ${lr}`),
    [
      [
        'impossible',
        id,
        'has a module that does not suit its run (module 10GBASE-LR: 10GBASE-LR does not run over om3)',
      ],
      ['unknown', id, 'has no speed declared'],
    ],
    at('10G', `${lr}, fibre os2 40 m, ${lr}`),
  ],
  [
    'a module that cannot do the declared speed',
    at('25G', `${sr}, fibre om3 40 m, ${sr}`),
    [
      [
        'impossible',
        id,
        'is declared at 25000 Mb/s, and its module cannot do that (module 10GBASE-SR: 10GBASE-SR runs at its one rate)',
      ],
    ],
    at('25G', 'module 25GBASE-SR, fibre om3 40 m, module 25GBASE-SR'),
  ],
  [
    'a module of twisted pair that is too slow',
    at('10G', 'module 1000BASE-T, cord cat6a 2 m'),
    [
      [
        'impossible',
        id,
        'is declared at 10000 Mb/s, and its module cannot do that (module 1000BASE-T: 1000BASE-T runs at 1 Gb/s at most)',
      ],
    ],
    at('1G', 'module 1000BASE-T, cord cat6a 2 m'),
  ],
  [
    'copper joined to fibre',
    at('10G', 'cord cat6a 2 m, fibre om3 40 m'),
    [
      [
        'impossible',
        id,
        'has pieces that cannot be joined (fibre om3 40 m: fibre cannot be joined to copper)',
      ],
    ],
    at('10G', 'cord cat6a 2 m, wall cat6a 40 m'),
  ],
  [
    'a run of which no piece tells the medium',
    at('10G', 'jack W-07'),
    [
      [
        'unknown',
        id,
        expect.stringMatching(
          /^may or may not reach 10000 Mb\/s: .*no piece tells copper/,
        ) as unknown as string,
      ],
    ],
    at('10G', 'jack W-07, cord cat6a 2 m'),
  ],
  [
    'a cord with plugs put on by hand',
    at('10G', 'cord cat6a 2 m field-terminated'),
    [
      [
        'caution',
        id,
        'is to be looked at: cord cat6a 2 m field-terminated: its plugs were put on by hand; try another cord first',
      ],
    ],
    at('10G', 'cord cat6a 2 m'),
  ],
  [
    'a copper module that runs hot (SFF-8431, SFF-8419, secondary source)',
    at('10G', 'module 10GBASE-T, cord cat6a 2 m'),
    [
      [
        'caution',
        id,
        'is to be looked at: module 10GBASE-T: draws 2.5 to 3.5 W where a cage grants 2 W at most; it runs hot, and the cages beside it may have to stay empty',
      ],
    ],
    at('10G', 'cord cat6a 2 m'),
  ],
  [
    'no speed',
    link('', 'cord cat6a 2 m'),
    [['unknown', id, 'has no speed declared']],
    at('10G', 'cord cat6a 2 m'),
  ],
  ['no run', at('10G', ''), [['unknown', id, 'has no run declared']], at('10G', 'cord cat6a 2 m')],
];

describe('a link on paper', () => {
  it.each(rows)('%s', async (_, intent, said, twin) => {
    expect(await saidOf(intent)).toEqual(said);
    expect(await saidOf(twin)).toEqual([]);
  });

  it('tells a run that nothing reaches, whatever its speed', async () => {
    expect(await saidOf(link('', 'wall cat6a 140 m'))).toEqual([
      [
        'impossible',
        id,
        expect.stringMatching(/^has a run for which no Ethernet known here is specified \(/),
      ],
      ['unknown', id, 'has no speed declared'],
    ]);
  });
});
