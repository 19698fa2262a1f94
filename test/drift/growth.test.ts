import { describe, expect, it } from 'vitest';
import { countersBeganAgain, growthsOf } from '../../src/drift/growth.ts';
import { knownFrom, type NightOf, reading, secondNight } from './nights.ts';

const up = (uptimeSeconds: number, rxCrcErrors: number): NightOf => ({
  node: { uptimeSeconds },
  ports: { xg3: { rxCrcErrors, rxFrames: rxCrcErrors * 10 } },
});

describe('errors counted since the night before', () => {
  it.each<[string, NightOf, NightOf, readonly number[]]>([
    ['more', up(90_000, 5), up(176_400, 12), [7]],
    ['none', up(90_000, 5), up(176_400, 5), []],
    ['a counter that fell began again', up(90_000, 5), up(176_400, 2), []],
    ['a node that restarted began again', up(900_000, 5), up(600, 12), []],
    ['a counter that was not read', { ports: { xg3: {} } }, up(90_000, 5), []],
    ['a node that gave no answer', up(90_000, 5), { silent: true }, []],
  ])('%s', (_, before, after, added) => {
    const found = growthsOf(knownFrom(before), reading(after), secondNight);
    expect(found).toEqual(
      added.map((each) => ({ node: 'quay-sw', port: 'xg3', fact: 'rxCrcErrors', added: each })),
    );
  });

  it('tells nothing on the first night', () => {
    expect(growthsOf(undefined, reading(up(90_000, 5)), secondNight)).toEqual([]);
  });
});

describe('whether counters began again', () => {
  it.each<[string, NightOf, NightOf, boolean]>([
    ['they went on', up(90_000, 5), up(176_400, 12), false],
    ['one fell', up(90_000, 5), up(176_400, 2), true],
    ['the node restarted', up(900_000, 5), up(600, 12), true],
    ['one was not read', { ports: { xg3: {} } }, up(90_000, 5), false],
    ['the node gave no answer', up(90_000, 5), { silent: true }, false],
  ])('%s', (_, before, after, again) => {
    expect(countersBeganAgain(knownFrom(before), reading(after), secondNight)).toBe(again);
  });
});
