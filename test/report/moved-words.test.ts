import { describe, expect, it } from 'vitest';
import type { Change, FactChange } from '../../src/drift/known-node.ts';
import { movedGroups, movedWords } from '../../src/report/moved-words.ts';
import { firstNight, secondNight } from '../drift/nights.ts';

function fact(
  name: string,
  was: FactChange['was'],
  is: FactChange['is'],
  over: Partial<FactChange> = {},
): Change {
  const where = { node: 'quay-sw', port: 'xg3' };
  return { kind: 'fact', ...where, fact: name, was, is, seenAt: firstNight, ...over };
}

function ofNode(name: string, was: FactChange['was'], is: FactChange['is']): Change {
  return { kind: 'fact', node: 'quay-sw', fact: name, was, is, seenAt: firstNight };
}

const of = { node: 'quay-sw', seenAt: firstNight } as const;

function words(changes: readonly Change[], lastAt = firstNight): readonly string[] {
  return movedGroups(changes).map((group) => movedWords(group, lastAt));
}

describe('what moved, in one line', () => {
  it.each<[string, readonly Change[], string]>([
    ['a size', [fact('mtuBytes', 9216, 1500)], 'quay-sw:xg3: MTU 9216 bytes, now 1500 bytes'],
    ['a speed', [fact('speedMbps', 10_000, 2500)], 'quay-sw:xg3: speed 10 Gb/s, now 2.5 Gb/s'],
    ['a link that is lost', [fact('operUp', true, false)], 'quay-sw:xg3: link up, now link down'],
    ['a link that came', [fact('operUp', false, true)], 'quay-sw:xg3: link down, now link up'],
    [
      'a port switched off',
      [fact('adminUp', true, false)],
      'quay-sw:xg3: switched on, now switched off',
    ],
    [
      'negotiation',
      [fact('autoNegotiation', true, false)],
      'quay-sw:xg3: negotiates, now does not negotiate',
    ],
    [
      'a neighbour',
      [fact('neighbour', ['plot-1 en7'], ['plot-2 eno1'])],
      'quay-sw:xg3: neighbour plot-1 en7, now plot-2 eno1',
    ],
    [
      'lists',
      [fact('addresses', ['198.18.20.7/24'], ['198.18.20.8/24', '198.18.21.8/24'])],
      'quay-sw:xg3: addresses 198.18.20.7/24, now 198.18.20.8/24, 198.18.21.8/24',
    ],
    ['a fact of the node', [ofNode('osVersion', '5.1', '5.2')], 'quay-sw: OS version 5.1, now 5.2'],
    ['a new port', [{ kind: 'port-new', ...of, port: 'xg9' }], 'quay-sw:xg9: is new there'],
    [
      'a port that is gone',
      [{ kind: 'port-gone', ...of, port: 'xg9' }],
      'quay-sw:xg9: is no longer there',
    ],
    [
      'a port of another name',
      [{ kind: 'port-renamed', ...of, port: 'xg9', to: 'te9' }],
      'quay-sw:xg9: is called te9 now',
    ],
    [
      'several at one port, the telling ones first',
      [
        fact('addresses', ['198.18.20.7/24'], []),
        fact('mtuBytes', 9216, 1500),
        fact('operUp', true, false),
      ],
      'quay-sw:xg3: link up, now link down; MTU 9216 bytes, now 1500 bytes; addresses 198.18.20.7/24, now none',
    ],
    [
      'reasons, each once',
      [
        fact('mtuBytes', 9216, 1500, { why: 'the node restarted between' }),
        fact('duplex', 'full', 'half', { why: 'the node restarted between' }),
      ],
      'quay-sw:xg3: duplex full, now half; MTU 9216 bytes, now 1500 bytes; the node restarted between',
    ],
    [
      'what a device says, without its control characters',
      [ofNode('systemName', 'quay', 'quay\u001b[31m')],
      'quay-sw: system name quay, now quay [31m',
    ],
  ])('%s', (_, changes, line) => {
    expect(words(changes)).toEqual([line]);
  });

  it('writes four facts of a port, and counts the others', () => {
    const five = ['mtuBytes', 'speedMbps', 'untaggedVlan', 'vlanId', 'lacpPartnerKey'];
    const [line] = words(five.map((name, at) => fact(name, at + 1, at + 2)));
    expect(line?.endsWith('; 1 more fact')).toBe(true);
    const [more] = words([...five, 'mtuMaxBytes'].map((name, at) => fact(name, at + 1, at + 2)));
    expect(more?.endsWith('; 2 more facts')).toBe(true);
  });

  it('says since when it was not read, where that is before the last audit', () => {
    const changes = [fact('mtuBytes', 9216, 1500)];
    expect(words(changes, secondNight)).toEqual([
      'quay-sw:xg3: MTU 9216 bytes, now 1500 bytes; not read since 2026-11-24 02:00 UTC',
    ]);
  });

  it('has a line for each node and port, in the order in which they moved', () => {
    const changes = [
      ofNode('osVersion', '5.1', '5.2'),
      fact('mtuBytes', 9216, 1500),
      fact('mtuBytes', 9216, 1500, { port: 'xg4' }),
      fact('duplex', 'full', 'half'),
    ];
    expect(movedGroups(changes).map(({ subject }) => subject)).toEqual([
      'quay-sw',
      'quay-sw:xg3',
      'quay-sw:xg4',
    ]);
  });
});
