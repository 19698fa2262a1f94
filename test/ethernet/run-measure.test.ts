import { describe, expect, it } from 'vitest';
import { connectorPlaces, measureRun } from '../../src/ethernet/run-measure.ts';
import { placed } from '../../src/ethernet/run-piece.ts';
import { runOf } from './run-of.ts';

describe('measureRun', () => {
  it('counts the lengths, the joins and the plugs put on by hand', () => {
    const run =
      'cord cat6a 2 m, jack W-07, wall cat6a 21 m, panel B/12, cord cat6 2 m field-terminated';
    expect(measureRun(placed(runOf(run)))).toEqual({
      lengthMetres: 25,
      lengthIsWhole: true,
      cordsMetres: 4,
      wallMetres: 21,
      connectors: 2,
      fieldTerminated: 1,
    });
  });

  it.each([
    ['all lengths declared', 'cord cat6 2 m, wall cat6 30 m', 32, true],
    ['one not', 'cord cat6 2 m, wall cat6', 2, false],
    ['none', 'cord cat6', 0, false],
    ['no cable', 'jack W-07, module 10GBASE-T', 0, false],
    [
      'centimetres, without the dust of binary fractions',
      'cord cat6 10 cm, cord cat6 20 cm',
      0.3,
      true,
    ],
    ['kilometres', 'cord os2 2 m, fibre os2 9.996 km, cord os2 2 m', 10_000, true],
  ])('%s: %d m, whole: %s', (_, run, metres, whole) => {
    const { lengthMetres, lengthIsWhole } = measureRun(placed(runOf(run)));
    expect([lengthMetres, lengthIsWhole]).toEqual([metres, whole]);
  });
});

describe('connectorPlaces', () => {
  it.each([
    ['one cable has none', 'cord cat6 2 m', []],
    ['a cable after a cable', 'cord cat6 2 m, wall cat6 9 m, cord cat6 2 m', [1, 2]],
    ['jacks and panels stand for their join', 'cord cat6 2 m, jack, wall cat6 9 m, panel', [1, 3]],
    ['two panels in a row are two', 'cord cat6 2 m, panel A/1, panel A/2, cord cat6 2 m', [1, 2]],
    ['modules are none', 'module 10GBASE-SR, cord om3 2 m, fibre om3 9 m, module 10GBASE-SR', [2]],
    ['a jack at the end', 'wall cat6 9 m, jack', [1]],
  ])('%s', (_, run, places) => {
    expect(connectorPlaces(placed(runOf(run)))).toEqual(places);
  });
});
