import { describe, expect, it } from 'vitest';
import { runMix } from '../../src/ethernet/run-mix.ts';
import { placed } from '../../src/ethernet/run-piece.ts';
import { runOf } from './run-of.ts';

describe('what can never work together (secondary source for mixed fibre)', () => {
  it.each([
    ['cord cat6 2 m, fibre om3 40 m', 1, 'fibre cannot be joined to copper'],
    ['fibre 40 m, cord cat6 2 m', 1, 'copper cannot be joined to fibre'],
    [
      'cord om3 2 m, panel A/1, fibre os2 40 m',
      2,
      'single-mode fibre cannot be joined to multi-mode fibre of 50 µm',
    ],
    [
      'fibre om1 40 m, fibre 3 m, cord om2 2 m',
      2,
      'multi-mode fibre of 50 µm cannot be joined to multi-mode fibre of 62.5 µm',
    ],
    [
      'direct-attach 3 m, direct-attach 1 m',
      1,
      'a direct-attach cable ends in its own modules: nothing can be joined to it',
    ],
    [
      'jack W-07, direct-attach 3 m',
      0,
      'a direct-attach cable ends in its own modules: nothing can be joined to it',
    ],
    [
      'cord om3 2 m, module 10GBASE-SR, cord om3 2 m',
      1,
      'a module stands at an end of a run, not between its pieces',
    ],
    ['module 10GBASE-SR, cord cat6a 2 m', 0, '10GBASE-SR does not run over cat6a'],
    ['module 10GBASE-SR, cord os2 2 m', 0, '10GBASE-SR does not run over os2'],
    ['cord om3 2 m, module 10GBASE-LR', 1, '10GBASE-LR does not run over om3'],
    ['cord om3 2 m, module 10GBASE-T', 1, '10GBASE-T does not run over om3'],
    ['module 10GBASE-T, direct-attach 3 m', 0, '10GBASE-T does not run over direct-attach'],
    [
      'module 10GBASE-SR, fibre om3 9 m, module 1000BASE-SX',
      2,
      '1000BASE-SX at one end and 10GBASE-SR at the other',
    ],
    [
      'module 10GBASE-SR, fibre 9 m, module 10GBASE-LR',
      2,
      '10GBASE-LR at one end and 10GBASE-SR at the other',
    ],
    [
      'module 10GBASE-T, cord 9 m, module 10GBASE-SR',
      2,
      '10GBASE-SR at one end and 10GBASE-T at the other',
    ],
  ])('%s', (run, pieceIndex, reason) => {
    expect(runMix(placed(runOf(run)))).toEqual({ pieceIndex, reason });
  });

  it.each([
    'cord cat5e 2 m, jack, wall cat8 9 m',
    'cord om3 2 m, fibre om4 40 m, cord om5 2 m',
    'fibre os1 40 m, cord os2 2 m',
    'cord 2 m, fibre os2 40 m, cord 2 m',
    'module 10GBASE-T, cord cat6a 9 m, module 1000BASE-T',
    // Of one wavelength, the shorter reach holds (from memory).
    'module 1000BASE-LX, fibre os2 40 m, module 1000BASE-LX10',
    'module 10GBASE-ER, fibre os2 40 m, module 10GBASE-LR',
    'module 25GBASE-CR, direct-attach 2 m, module 25GBASE-CR-S',
    // Nothing is known of these two, whose names differ because their ends do.
    'module 1000BASE-BX10-D, fibre os2 40 m, module 1000BASE-BX10-U',
    'module 1000BASE-LX, fibre om1 40 m',
    'jack W-07',
  ])('%s may', (run) => {
    expect(runMix(placed(runOf(run)))).toBeUndefined();
  });
});
