import { describe, expect, it } from 'vitest';
import type { FailureKind } from '../../../src/collect/snmp/failure.ts';
import {
  columnsAtOnce,
  newPace,
  type Pace,
  repetitionsFor,
  slowDown,
} from '../../../src/collect/snmp/pace.ts';

const pace = (change: Partial<Pace> = {}): Pace => ({ ...newPace('2c'), ...change });

describe('repetitionsFor', () => {
  it.each([
    ['fills a datagram', pace(), 6, 120, 1000, 11],
    ['leaves room for the security parameters of v3', newPace('3'), 6, 120, 1000, 10],
    ['asks for no more rows than are left', pace(), 6, 120, 4, 4],
    ['asks for one row of any size', pace(), 6, 9000, 1000, 1],
    ['keeps to what the agent can do', pace({ valuesMax: 10 }), 5, 100, 1000, 2],
    ['never exceeds 128 values', pace(), 1, 1, 100_000, 128],
  ])('%s', (_, at, columns, rowBytes, rowsLeft, repetitions) => {
    expect(repetitionsFor(at, columns, rowBytes, rowsLeft)).toBe(repetitions);
  });
});

describe('columnsAtOnce', () => {
  it.each([
    [128, 'bulk', 6],
    [10, 'bulk', 5],
    [12, 'bulk', 6],
    [4, 'bulk', 4],
    [1, 'bulk', 1],
    [6, 'next', 6],
    [1, 'next', 1],
  ] as const)('%i values by %s: %i', (valuesMax, mode, columns) => {
    expect(columnsAtOnce(pace({ valuesMax, mode }))).toBe(columns);
  });
});

describe('slowDown', () => {
  it.each<[FailureKind, Partial<Pace>, number, boolean, Partial<Pace>]>([
    ['too-big', {}, 54, true, { mode: 'bulk', valuesMax: 27 }],
    ['empty', {}, 2, true, { mode: 'bulk', valuesMax: 1 }],
    ['too-big', {}, 1, true, { mode: 'next', valuesMax: 1 }],
    ['too-big', { mode: 'next', valuesMax: 6 }, 6, true, { mode: 'next', valuesMax: 3 }],
    ['too-big', { mode: 'next', valuesMax: 1 }, 1, false, { mode: 'next', valuesMax: 1 }],
    ['timeout', {}, 54, true, { mode: 'bulk', valuesMax: 18 }],
    ['timeout', {}, 16, true, { mode: 'next', valuesMax: 6 }],
    ['timeout', { provenValues: 54 }, 54, false, { mode: 'bulk', valuesMax: 128 }],
    ['timeout', { mode: 'next' }, 6, false, { mode: 'next' }],
    ['over', {}, 54, false, { mode: 'bulk', valuesMax: 128 }],
    ['auth-wrong', {}, 54, false, { mode: 'bulk', valuesMax: 128 }],
  ])('%s at %o with %i values: %s', (kind, before, values, again, after) => {
    const changed = pace(before);
    expect(slowDown(changed, kind, values)).toBe(again);
    expect(changed).toMatchObject(after);
  });
});
