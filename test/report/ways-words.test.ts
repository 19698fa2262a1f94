import { describe, expect, it } from 'vitest';
import { noCost } from '../../src/change/state-cost.ts';
import type { PathWays, SegmentWays, Way } from '../../src/change/ways-types.ts';
import { leftOutWords, waysInWords } from '../../src/report/ways-words.ts';

const way = (bytes: number, more: Partial<Way> = {}): Way => ({
  bytes,
  isChange: false,
  steps: 0,
  impossible: 0,
  bounces: 0,
  restarts: 0,
  ...more,
});
const ways = (more: Partial<SegmentWays> = {}): SegmentWays => ({
  segment: 'storage',
  larger: way(9000),
  smaller: way(1500),
  unread: [],
  paths: [],
  ...more,
});
const path = (id: string, slowestMbps: number): PathWays => {
  const at = (packetBytes: number) => ({ packetBytes, goodputMbps: 900, packetsPerSecond: 7 });
  return { id, ceilings: { slowestMbps, larger: at(9000), smaller: at(1500), gainPercent: 5 } };
};
const figures =
  'at 9000 bytes at most 900 Mb/s of TCP data in 7 packets a second; at 1500 bytes at most 900 Mb/s of TCP data in 7 packets a second: 5 % more with the larger';

describe('a way in words', () => {
  const cut = { ...noCost, pathsCut: 2 };
  const loses = 'at worst 2 pairs of ends lose large packets silently at a hop in the middle';
  it.each([
    ['nothing to do', {}, 'nothing to set'],
    ['too many steps', { steps: 201 }, '201 steps; its steps were not put into an order'],
    [
      'the change, with a gap',
      { isChange: true, steps: 3, bounces: 2, restarts: 1, start: noCost, worst: cut },
      `as in this change: 3 steps, a link goes down for a moment at 2 of them, 1 node restarts; ${loses}`,
    ],
    [
      'no worse than before',
      { steps: 1, start: cut, worst: cut },
      `1 step; ${loses}, and no worse than before it`,
    ],
    [
      'what cannot follow',
      { impossible: 3, firstImpossible: { on: 'tablet:wlan0', what: 'cannot carry 9000' } },
      'nothing to set; impossible: tablet:wlan0 cannot carry 9000; and 2 more cannot follow',
    ],
  ])('%s', (_, more, wanted) => {
    expect(waysInWords(ways({ larger: way(9000, more) })).ways[0]).toEqual({
      label: '9000 bytes',
      words: wanted,
    });
  });
});

describe('the paths of a segment in words', () => {
  it('puts those alike together, and says what is not known', () => {
    const alike = ['a', 'b', 'c', 'd', 'e'].map((id) => path(id, 1000));
    const dark = { id: 'f', gap: 'its slowest speed is not known: denied' };
    const told = waysInWords(ways({ paths: [...alike, path('g', 10_000), dark] }));
    expect(told.paths).toEqual([
      `a, b, c and 2 more at 1 Gb/s, the slowest that is known of it: ${figures}`,
      `g at 10 Gb/s, the slowest that is known of it: ${figures}`,
      'f: what the ways give is not known, since its slowest speed is not known: denied',
    ]);
  });

  it('says how many are left out', () => {
    const many = Array.from({ length: 10 }, (_, at) => path(`p${at}`, 100 + at));
    const { paths } = waysInWords(ways({ paths: many }));
    expect(paths).toHaveLength(9);
    expect(paths.at(-1)).toBe('2 more lines of other paths: --format json has all');
  });

  it('tells a path that another segment binds', () => {
    const at = (packetBytes: number) => ({ packetBytes, goodputMbps: 1, packetsPerSecond: 1 });
    const ceilings = { slowestMbps: 1000, larger: at(1500), smaller: at(1500), gainPercent: 0 };
    expect(waysInWords(ways({ paths: [{ id: 'p', ceilings }] })).paths).toEqual([
      'p at 1 Gb/s, the slowest that is known of it: the same either way, since another segment on it passes 1500 bytes',
    ]);
  });

  it('names what was not read', () => {
    expect(waysInWords(ways()).unread).toBeUndefined();
    expect(waysInWords(ways({ unread: ['gate', 'quay-sw'] })).unread).toBe(
      'what gate, quay-sw may need either way, which could not be read',
    );
  });
});

describe('segments left out', () => {
  it.each([
    [[], []],
    [['a', 'b'], ['no ways are worked out for a, b: rehearse these in a change of their own']],
  ])('%j', (names, wanted) => {
    expect(leftOutWords(names)).toEqual(wanted);
  });
});
