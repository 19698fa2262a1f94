import { describe, expect, it } from 'vitest';
import { type RunReach, reachOfRun, type WantedReach } from '../../src/ethernet/run-reach.ts';
import { runOf } from './run-of.ts';

type Told = Omit<
  RunReach,
  | 'lengthMetres'
  | 'lengthIsWhole'
  | 'cordsMetres'
  | 'wallMetres'
  | 'connectors'
  | 'fieldTerminated'
  | 'medium'
  | 'cautions'
>;

/** What a run is good for, without its measures. */
function told(run: string, wanted?: WantedReach): Told | undefined {
  const reach = reachOfRun(runOf(run), wanted);
  if (reach === undefined) return undefined;
  const { standing, ratedMbps, conditionalMbps, carriesWanted, limitedBy, doubts } = reach;
  return {
    standing,
    ...(ratedMbps === undefined ? {} : { ratedMbps }),
    ...(conditionalMbps === undefined ? {} : { conditionalMbps }),
    ...(carriesWanted === undefined ? {} : { carriesWanted }),
    ...(limitedBy === undefined ? {} : { limitedBy }),
    doubts,
  };
}

const ten: WantedReach = { rateMbps: 10_000 };
type Row = readonly [string, string, WantedReach | undefined, Told];

const crosstalk = 'where alien crosstalk is low: no long tight bundles';
const measured = 'where alien crosstalk has been measured and is low (TIA TSB-155)';

const copper: readonly Row[] = [
  [
    'wall and two cords of 6A, 100 m in all',
    'cord cat6a 5 m, jack, wall cat6a 90 m, panel, cord cat6a 5 m',
    ten,
    { standing: 'rated', ratedMbps: 10_000, carriesWanted: 'assured', doubts: [] },
  ],
  [
    'what keeps that run from more',
    'cord cat6a 5 m, jack, wall cat6a 90 m, panel, cord cat6a 5 m',
    undefined,
    {
      standing: 'rated',
      ratedMbps: 10_000,
      limitedBy: { pieceIndex: 2, reason: '25GBASE-T is not specified for cat6a' },
      doubts: [],
    },
  ],
  [
    'one short cord of 6 holds 40 m of 6A to the reach of 6 (37 and 55 m)',
    'cord cat6 2 m, jack, wall cat6a 40 m',
    ten,
    {
      standing: 'rated',
      ratedMbps: 2500,
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 0,
        reason: `a run of 42 m with cat6 in it: 10GBASE-T is assured to 37 m, and runs to 55 m only ${measured}`,
      },
      doubts: [`10 Gb/s over cat6 only ${measured}`],
    },
  ],
  [
    '56 m of 6 carry no 10 Gb/s',
    'wall cat6 56 m',
    ten,
    {
      standing: 'rated',
      ratedMbps: 2500,
      conditionalMbps: 5000,
      carriesWanted: 'no',
      limitedBy: {
        pieceIndex: 0,
        reason: `a run of 56 m with cat6 in it: 10GBASE-T is assured to 37 m, and runs to 55 m only ${measured}`,
      },
      doubts: [`5 Gb/s over cat6 only ${crosstalk}`],
    },
  ],
  [
    'a cord of 5e carries no 10 Gb/s, however short',
    'wall cat6a 10 m, cord cat5e 1 m',
    { phy: '10GBASE-T' },
    {
      standing: 'rated',
      ratedMbps: 1000,
      conditionalMbps: 5000,
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 1, reason: '10GBASE-T is not specified for cat5e' },
      doubts: [`5 Gb/s over cat5e only ${crosstalk}`],
    },
  ],
  [
    'longer than any rate',
    'wall cat6a 80 m, cord cat6a 21 m',
    { rateMbps: 100 },
    {
      standing: 'out-of-reach',
      carriesWanted: 'no',
      limitedBy: {
        pieceIndex: 0,
        reason: 'a run of 101 m with cat6a in it: 100BASE-TX is assured to 100 m',
      },
      doubts: [
        'cord cat6a 21 m: cords of 21 m beside 80 m of wall cable lose more than a channel of 90 and 10 m',
      ],
    },
  ],
  [
    'a module is sold for 30 m (common practice)',
    'wall cat6a 31 m, module 10GBASE-T',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 1,
        reason: 'modules of 10GBASE-T are usually sold for 30 m; the run has 31 m',
      },
      doubts: [
        'module 10GBASE-T: modules of 10GBASE-T are usually sold for 30 m; the run has 31 m',
      ],
    },
  ],
  [
    'a module holds a run to its rate',
    'module 1000BASE-T, wall cat6a 31 m',
    ten,
    {
      standing: 'rated',
      ratedMbps: 1000,
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 0, reason: '1000BASE-T runs at 1 Gb/s at most' },
      doubts: [],
    },
  ],
  [
    'a module promises no rate below its own (from memory)',
    'module 10GBASE-T, cord cat5e 5 m',
    { rateMbps: 1000 },
    {
      standing: 'conditional',
      conditionalMbps: 5000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 0,
        reason: 'the run is good for 1 Gb/s, and not every module of 10GBASE-T links below 10 Gb/s',
      },
      doubts: [
        `5 Gb/s over cat5e only ${crosstalk}`,
        'module 10GBASE-T: the run is good for 1 Gb/s, and not every module of 10GBASE-T links below 10 Gb/s',
      ],
    },
  ],
  [
    'modules of two rates meet at the lower one, if the faster can',
    'module 10GBASE-T, cord cat6a 5 m, module 1000BASE-T',
    { rateMbps: 1000 },
    {
      standing: 'conditional',
      conditionalMbps: 1000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 0,
        reason: 'the run is good for 1 Gb/s, and not every module of 10GBASE-T links below 10 Gb/s',
      },
      doubts: [
        'module 10GBASE-T: the run is good for 1 Gb/s, and not every module of 10GBASE-T links below 10 Gb/s',
      ],
    },
  ],
  [
    'a module of which no class is known',
    'module 5GBASE-T, cord cat6a 5 m',
    { rateMbps: 5000 },
    {
      standing: 'conditional',
      conditionalMbps: 5000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: 'how far modules of 5GBASE-T reach is not known here' },
      doubts: ['module 5GBASE-T: how far modules of 5GBASE-T reach is not known here'],
    },
  ],
  [
    'a length not declared: a lower bound, and nothing assured',
    'cord cat6a 2 m, wall cat6a, cord cat6a 2 m',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 1, reason: 'its length is not declared; the run has at least 4 m' },
      doubts: ['wall cat6a: its length is not declared; the run has at least 4 m'],
    },
  ],
  [
    'a lower bound that is already too long',
    'wall cat6 60 m, cord cat6',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 5000,
      carriesWanted: 'no',
      limitedBy: {
        pieceIndex: 0,
        reason: `a run of at least 60 m with cat6 in it: 10GBASE-T is assured to 37 m, and runs to 55 m only ${measured}`,
      },
      doubts: [
        `5 Gb/s over cat6 only ${crosstalk}`,
        'cord cat6: its length is not declared; the run has at least 60 m',
      ],
    },
  ],
  [
    'a category not declared',
    'cord 2 m, wall cat6 30 m',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: 'its category is not declared' },
      doubts: ['cord 2 m: its category is not declared'],
    },
  ],
  [
    'no category at all, known as copper by its module',
    'cord 2 m, module 1000BASE-T',
    { rateMbps: 1000 },
    {
      standing: 'conditional',
      conditionalMbps: 1000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: 'the category of no cable is declared' },
      doubts: ['cord 2 m: its category is not declared'],
    },
  ],
  [
    'no cable at all',
    'module 10GBASE-T',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: 'the category of no cable is declared' },
      doubts: ['module 10GBASE-T: no cable of the run is declared'],
    },
  ],
  [
    '90 m of wall and 10 m of cords, no more (secondary source): the wall',
    'wall cat6a 91 m, cord cat6a 5 m',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: 'wall cable of 91 m; a channel has 90 m at most' },
      doubts: ['wall cat6a 91 m: wall cable of 91 m; a channel has 90 m at most'],
    },
  ],
  [
    'longer cords beside a shorter wall: 70 + 1.2 x 26 = 101.2 m (from memory)',
    'wall cat6a 70 m, cord cat6a 26 m',
    ten,
    {
      standing: 'rated',
      ratedMbps: 10_000,
      carriesWanted: 'assured',
      doubts: ['cords of 26 m in all, where 10 m are allowed for'],
    },
  ],
  [
    'and 70 + 1.2 x 27 = 102.4 m',
    'wall cat6a 70 m, cord cat6a 27 m',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 1,
        reason: 'cords of 27 m beside 70 m of wall cable lose more than a channel of 90 and 10 m',
      },
      doubts: [
        'cord cat6a 27 m: cords of 27 m beside 70 m of wall cable lose more than a channel of 90 and 10 m',
      ],
    },
  ],
  [
    'four connectors (from memory)',
    'cord cat6a 2 m, panel, cord cat6a 2 m, panel, wall cat6a 9 m, jack, cord cat6a 2 m, jack',
    ten,
    { standing: 'rated', ratedMbps: 10_000, carriesWanted: 'assured', doubts: [] },
  ],
  [
    'and a fifth',
    'jack, cord cat6a 2 m, panel, cord cat6a 2 m, panel, wall cat6a 9 m, jack, cord cat6a 2 m, jack W-9',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 8, reason: '5 connectors; a channel has 4 at most' },
      doubts: ['jack W-9: 5 connectors; a channel has 4 at most'],
    },
  ],
  [
    'category 8 at 40 Gb/s allows two connectors (secondary source)',
    'cord cat8 2 m, panel, wall cat8 20 m, jack, cord cat8 2 m',
    { rateMbps: 40_000 },
    { standing: 'rated', ratedMbps: 40_000, carriesWanted: 'assured', doubts: [] },
  ],
  [
    'and not three',
    'cord cat8 2 m, panel, wall cat8 20 m, jack, jack C, cord cat8 2 m',
    { rateMbps: 40_000 },
    {
      standing: 'rated',
      ratedMbps: 10_000,
      conditionalMbps: 40_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 4, reason: '3 connectors; 25 Gb/s and more allow 2' },
      doubts: ['jack C: 3 connectors; 25 Gb/s and more allow 2'],
    },
  ],
  [
    'a rate that no twisted pair has',
    'cord cat8 2 m',
    { rateMbps: 100_000 },
    {
      standing: 'rated',
      ratedMbps: 40_000,
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 0, reason: 'no twisted pair carries more than 40 Gb/s' },
      doubts: [],
    },
  ],
];

const fibre: readonly Row[] = [
  [
    'om3 to 300 m',
    'module 10GBASE-SR, fibre om3 300 m, module 10GBASE-SR',
    ten,
    { standing: 'rated', ratedMbps: 10_000, carriesWanted: 'assured', doubts: [] },
  ],
  [
    'the worst fibre rules: 2 m of om2 reach 82 m',
    'module 10GBASE-SR, cord om2 2 m, fibre om4 100 m, module 10GBASE-SR',
    ten,
    {
      standing: 'out-of-reach',
      carriesWanted: 'no',
      limitedBy: {
        pieceIndex: 1,
        reason: '10GBASE-SR over om2 reaches 82 m; the run has 102 m',
      },
      doubts: [],
    },
  ],
  [
    'om1 at 27 m: of the older grade it reaches 26 m only',
    'module 10GBASE-SR, fibre om1 27 m, module 10GBASE-SR',
    ten,
    {
      standing: 'rated',
      ratedMbps: 10_000,
      carriesWanted: 'assured',
      doubts: ['om1 of an older grade (160 MHz·km) carries 10GBASE-SR to 26 m only'],
    },
  ],
  [
    '10GBASE-ER beyond 30 km (from memory)',
    'module 10GBASE-ER, fibre os2 35 km, module 10GBASE-ER',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 1,
        reason:
          '10GBASE-ER over os2 reaches 30000 m, and reaches 40000 m only on an engineered link whose loss was measured; the run has 35000 m',
      },
      doubts: ['10GBASE-ER over os2 only on an engineered link whose loss was measured'],
    },
  ],
  [
    'LX and LX10: the shorter of the two (from memory)',
    'module 1000BASE-LX, fibre os2 6 km, module 1000BASE-LX10',
    { rateMbps: 1000 },
    {
      standing: 'out-of-reach',
      carriesWanted: 'no',
      limitedBy: {
        pieceIndex: 1,
        reason: '1000BASE-LX over os2 reaches 5000 m; the run has 6000 m',
      },
      doubts: [],
    },
  ],
  [
    'one module declared',
    'module 10GBASE-SR, fibre om3 38 m',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 1, reason: 'the module at this end is not declared' },
      doubts: ['fibre om3 38 m: the module at this end is not declared'],
    },
  ],
  [
    'no module declared: 100GBASE-SR4 would reach 70 m',
    'fibre om3 70 m',
    undefined,
    {
      standing: 'conditional',
      conditionalMbps: 100_000,
      limitedBy: { pieceIndex: 0, reason: 'the modules at its ends are not declared' },
      doubts: ['the modules at its ends are not declared'],
    },
  ],
  [
    'no module, and a PHY wanted of it',
    'fibre om3 300 m',
    { phy: '10GBASE-SR' },
    { standing: 'rated', ratedMbps: 10_000, carriesWanted: 'assured', doubts: [] },
  ],
  [
    'a PHY wanted that it can never carry',
    'fibre om3 120 m',
    { phy: '10GBASE-LR' },
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 0, reason: '10GBASE-LR does not run over om3' },
      doubts: ['the modules at its ends are not declared'],
    },
  ],
  [
    'a PHY wanted beside other modules',
    'module 10GBASE-SR, fibre om3 9 m, module 10GBASE-SR',
    { phy: '25GBASE-SR' },
    {
      standing: 'rated',
      ratedMbps: 10_000,
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 0, reason: 'the module is 10GBASE-SR, not 25GBASE-SR' },
      doubts: [],
    },
  ],
  [
    'a module runs at its one rate, and a slower port may not link with it',
    'module 10GBASE-SR, fibre om3 9 m, module 10GBASE-SR',
    { rateMbps: 1000 },
    {
      standing: 'rated',
      ratedMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: '10GBASE-SR runs at its one rate' },
      doubts: [],
    },
  ],
  [
    "a fibre without a figure does what the next worse does, on one's word",
    'module 10GBASE-LX4, fibre om4 300 m, module 10GBASE-LX4',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 1,
        reason:
          '10GBASE-LX4 over om4 reaches 300 m only as over om3: no figure for om4 is known here; the run has 300 m',
      },
      doubts: ['10GBASE-LX4 over om4 only as over om3: no figure for om4 is known here'],
    },
  ],
  [
    'a PHY without a figure for any fibre so bad',
    'module 25GBASE-SR, fibre om2 1 m, module 25GBASE-SR',
    { rateMbps: 25_000 },
    {
      standing: 'out-of-reach',
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 1, reason: '25GBASE-SR is not specified for om2' },
      doubts: [],
    },
  ],
  [
    'a fibre of a type not declared',
    'module 10GBASE-SR, fibre 400 m, module 10GBASE-SR',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: {
        pieceIndex: 1,
        reason:
          '10GBASE-SR over any fibre reaches 400 m only on the best fibre it is made for; the run has 400 m',
      },
      doubts: ['fibre 400 m: its category is not declared'],
    },
  ],
  [
    'a PHY that is not in the tables',
    'module 1000BASE-BX10-D, fibre os2 9 m, module 1000BASE-BX10-U',
    { rateMbps: 1000 },
    {
      standing: 'unknown',
      limitedBy: { pieceIndex: 0, reason: 'nothing is known here of 1000BASE-BX10-D' },
      doubts: [
        'module 1000BASE-BX10-D: nothing is known here of 1000BASE-BX10-D',
        'module 1000BASE-BX10-U: nothing is known here of 1000BASE-BX10-U',
      ],
    },
  ],
  [
    'many connectors (1.5 dB for about two, from memory)',
    'module 10GBASE-SR, cord om3 2 m, panel, cord om3 2 m, panel, cord om3 2 m, panel, cord om3 2 m, module 10GBASE-SR',
    ten,
    {
      standing: 'rated',
      ratedMbps: 10_000,
      carriesWanted: 'assured',
      doubts: ['3 connectors, where reach is reckoned with about 2: measure the loss'],
    },
  ],
  [
    'two fibres that cannot be joined',
    'module 10GBASE-SR, fibre om3 9 m, fibre om1 9 m, module 10GBASE-SR',
    ten,
    {
      standing: 'refused',
      carriesWanted: 'no',
      limitedBy: {
        pieceIndex: 2,
        reason: 'multi-mode fibre of 62.5 µm cannot be joined to multi-mode fibre of 50 µm',
      },
      doubts: [],
    },
  ],
];

const suits = 'its length suits 10 Gb/s; the rate it is made for is not declared';
const active =
  'direct-attach of 10 Gb/s reaches 7 m, and 15 m only as an active cable, or as a passive one to 10 m that its maker vouches for';
const directAttach: readonly Row[] = [
  [
    '7 m at 10 Gb/s (secondary source)',
    'direct-attach 7 m',
    ten,
    { standing: 'rated', ratedMbps: 10_000, carriesWanted: 'assured', doubts: [suits] },
  ],
  [
    '12 m at 10 Gb/s (from memory)',
    'direct-attach 12 m',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: `${active}; the run has 12 m` },
      doubts: ['the rate it is made for is not declared'],
    },
  ],
  [
    '16 m at 10 Gb/s',
    'direct-attach 16 m',
    ten,
    {
      standing: 'out-of-reach',
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 0, reason: `${active}; the run has 16 m` },
      doubts: [],
    },
  ],
  [
    'no rate wanted: 40 Gb/s at most over 6 m (from memory)',
    'direct-attach 6 m',
    undefined,
    {
      standing: 'conditional',
      conditionalMbps: 40_000,
      limitedBy: { pieceIndex: 0, reason: 'the rate it is made for is not declared' },
      doubts: ['the rate it is made for is not declared'],
    },
  ],
  [
    'its PHY declared (25GBASE-CR 5 m, from memory)',
    'module 25GBASE-CR, direct-attach 4 m',
    { rateMbps: 25_000 },
    { standing: 'rated', ratedMbps: 25_000, carriesWanted: 'assured', doubts: [] },
  ],
  [
    'two PHYs, the shorter holds (25GBASE-CR-S 3 m, from memory)',
    'module 25GBASE-CR, direct-attach 4 m, module 25GBASE-CR-S',
    { rateMbps: 25_000 },
    {
      standing: 'out-of-reach',
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 1, reason: '25GBASE-CR-S reaches 3 m; the run has 4 m' },
      doubts: [],
    },
  ],
  [
    'its length not declared',
    'direct-attach',
    ten,
    {
      standing: 'conditional',
      conditionalMbps: 10_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: 'its length is not declared' },
      doubts: [
        'the rate it is made for is not declared',
        'direct-attach: its length is not declared',
      ],
    },
  ],
  [
    'a PHY of another medium wanted of it',
    'direct-attach 3 m',
    { phy: '10GBASE-SR' },
    {
      standing: 'conditional',
      conditionalMbps: 100_000,
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 0, reason: '10GBASE-SR does not run over direct-attach' },
      doubts: ['the rate it is made for is not declared'],
    },
  ],
  [
    'a rate that no direct-attach PHY has',
    'direct-attach 3 m',
    { rateMbps: 1000 },
    {
      standing: 'conditional',
      conditionalMbps: 100_000,
      carriesWanted: 'conditional',
      limitedBy: { pieceIndex: 0, reason: 'the rate it is made for is not declared' },
      doubts: ['the rate it is made for is not declared'],
    },
  ],
];

describe('reachOfRun, worked by hand from the published reaches (secondary source, from memory)', () => {
  it.each(copper)('copper: %s', (_, run, wanted, expected) => {
    expect(told(run, wanted)).toEqual(expected);
  });
  it.each(fibre)('fibre: %s', (_, run, wanted, expected) => {
    expect(told(run, wanted)).toEqual(expected);
  });
  it.each(directAttach)('direct attach: %s', (_, run, wanted, expected) => {
    expect(told(run, wanted)).toEqual(expected);
  });

  it('claims nothing of a run that is not declared', () => {
    expect(reachOfRun([], ten)).toBeUndefined();
  });

  it('claims nothing of pieces that do not tell their medium', () => {
    expect(told('jack W-07, cord 3 m', ten)).toEqual({
      standing: 'unknown',
      limitedBy: { pieceIndex: 0, reason: 'no piece tells copper from fibre' },
      doubts: ['jack W-07: no piece tells copper from fibre'],
    });
  });

  it('does not refuse for a PHY of which nothing is known', () => {
    expect(told('fibre om3 9 m', { phy: '1000BASE-BX10-D' })?.standing).toBe('unknown');
  });
});
