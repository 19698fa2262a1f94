import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareNode } from '../../src/drift/compare-node.ts';
import {
  firstNight,
  knownFrom,
  type NightOf,
  neighbour,
  reading,
  secondNight,
  thirdNight,
} from './nights.ts';

const day = 86_400;
const healthy = { kind: 'physical', mtuBytes: 9216, speedMbps: 10_000, operUp: true } as const;

function changesBetween(before: NightOf, after: NightOf) {
  return compareNode(knownFrom(before), reading(after), secondNight).changes;
}

describe('a node that is read again', () => {
  it.each<[string, NightOf, NightOf]>([
    ['the same', { ports: { xg3: healthy } }, { ports: { xg3: healthy } }],
    [
      'counters, light, uptime and indexes that move by themselves',
      {
        node: { uptimeSeconds: 5 },
        ports: { xg3: { ...healthy, rxFrames: 1, rxPowerDbm: -3, ifIndex: 3 } },
      },
      {
        node: { uptimeSeconds: 5 + day },
        ports: { xg3: { ...healthy, rxFrames: 9, rxPowerDbm: -3.4, ifIndex: 4 } },
      },
    ],
    [
      'a fact that could not be read',
      { ports: { xg3: healthy } },
      { ports: { xg3: { kind: 'physical', mtuBytes: 9216 } } },
    ],
    [
      'lists in another order',
      { ports: { xg3: { addresses: ['198.18.0.1/24', '198.18.1.1/24'] } } },
      { ports: { xg3: { addresses: ['198.18.1.1/24', '198.18.0.1/24'] } } },
    ],
    [
      'guests that come and go',
      { ports: { veth1: { kind: 'virtual' } } },
      { ports: { veth2: { kind: 'virtual' } } },
    ],
    [
      'ports that a cut list lacks',
      { ports: { xg3: healthy, xg4: healthy } },
      {
        ports: { xg3: healthy },
        gaps: { ports: { reason: 'truncated', words: 'the answer ended' } },
      },
    ],
    ['no answer at all', { ports: { xg3: healthy } }, { silent: true }],
    [
      'a neighbour that was not heard tonight',
      { ports: { xg3: healthy }, neighbours: [neighbour('vault', 'eth4')] },
      { ports: { xg3: healthy }, neighbours: [] },
    ],
  ])('%s: nothing moved', (_, before, after) => {
    expect(changesBetween(before, after)).toEqual([]);
  });

  it('tells a fact with another value, and when the old one was read', () => {
    const after = { ports: { xg3: { ...healthy, mtuBytes: 1500 } } };
    expect(changesBetween({ ports: { xg3: healthy } }, after)).toEqual([
      {
        kind: 'fact',
        node: 'quay-sw',
        port: 'xg3',
        fact: 'mtuBytes',
        was: 9216,
        is: 1500,
        seenAt: firstNight,
      },
    ]);
  });

  it('tells another neighbour', () => {
    const changes = changesBetween(
      { ports: { xg3: healthy }, neighbours: [neighbour('vault', 'eth4')] },
      { ports: { xg3: healthy }, neighbours: [neighbour('gate', 'em0')] },
    );
    expect(changes).toEqual([
      {
        kind: 'fact',
        node: 'quay-sw',
        port: 'xg3',
        fact: 'neighbour',
        was: ['vault eth4'],
        is: ['gate em0'],
        seenAt: firstNight,
      },
    ]);
  });

  it('compares a value over nights on which it could not be read, with its age', () => {
    const down = { ports: { xg3: { kind: 'physical', mtuBytes: 9216, operUp: false } } } as const;
    const second = compareNode(knownFrom({ ports: { xg3: healthy } }), reading(down), secondNight);
    const slow = { ports: { xg3: { ...healthy, speedMbps: 1000 } } };
    const third = compareNode(second.known, reading(slow), thirdNight);
    expect(third.changes).toEqual([
      expect.objectContaining({ fact: 'operUp', was: false, is: true, seenAt: secondNight }),
      expect.objectContaining({ fact: 'speedMbps', was: 10_000, is: 1000, seenAt: firstNight }),
    ]);
    expect(third.known?.older).toEqual([]);
  });

  it('keeps what is known of a node that gives no answer', () => {
    const known = knownFrom({ ports: { xg3: healthy } });
    expect(compareNode(known, reading({ silent: true }), secondNight).known).toBe(known);
    expect(compareNode(undefined, reading({ silent: true }), secondNight)).toEqual({ changes: [] });
  });

  it('tells ports that came and went, and one with a new name by its hardware address', () => {
    const card = { kind: 'physical', permanentMacAddress: '02:00:5e:00:00:05' } as const;
    const changes = changesBetween(
      { ports: { en7: { ...card, mtuBytes: 9000 }, xg1: healthy } },
      { ports: { en8: { ...card, mtuBytes: 1500 }, xg2: healthy } },
    );
    expect(changes.map(({ seenAt: _, node: __, ...each }) => each)).toEqual([
      { kind: 'port-renamed', port: 'en7', to: 'en8' },
      { kind: 'port-gone', port: 'xg1' },
      { kind: 'port-new', port: 'xg2' },
      { kind: 'fact', port: 'en8', fact: 'mtuBytes', was: 9000, is: 1500 },
    ]);
  });
});

describe('what explains a change', () => {
  const small = { ...healthy, mtuBytes: 1500 };
  it.each<[string, NightOf, NightOf, string | undefined]>([
    [
      'a node that has been up since before',
      { node: { uptimeSeconds: 50 }, ports: { xg3: healthy } },
      { node: { uptimeSeconds: 50 + day }, ports: { xg3: small } },
      undefined,
    ],
    [
      'a restart',
      { node: { uptimeSeconds: 50 * day }, ports: { xg3: healthy } },
      { node: { uptimeSeconds: 3600 }, ports: { xg3: small } },
      'the node restarted between: the old value was not persistent, or the new one waited for the restart',
    ],
    [
      'an update',
      { node: { osVersion: '14.5', uptimeSeconds: 50 * day }, ports: { xg3: healthy } },
      { node: { osVersion: '15.0', uptimeSeconds: 3600 }, ports: { xg3: small } },
      'the system was updated between (to 15.0)',
    ],
    [
      'a link that went down and up with it',
      { ports: { xg3: { ...healthy, carrierChanges: 4 } } },
      { ports: { xg3: { ...small, carrierChanges: 6 } } },
      'the link went down and up once, as many drivers do when the MTU is set',
    ],
    [
      'another machine',
      { node: { engineId: '80001f8804aa' }, ports: { xg3: healthy } },
      { node: { engineId: '80001f8804bb' }, ports: { xg3: small } },
      'another machine answers there now (engineId changed)',
    ],
  ])('%s', (_, before, after, why) => {
    const change = changesBetween(before, after).find((each) => each.port === 'xg3');
    expect(change?.why).toBe(why);
  });
});

describe('any two nights', () => {
  const value = fc.oneof(fc.constant(undefined), fc.integer({ min: 1, max: 3 }));
  const night = fc.record({ mtuBytes: value, speedMbps: value }).map((facts) => {
    const known = Object.entries(facts).filter(([, each]) => each !== undefined);
    return { ports: { xg3: Object.fromEntries(known) } } as NightOf;
  });

  it('compare to what a person would find who keeps the last value of each fact', () => {
    fc.assert(
      fc.property(fc.array(night, { minLength: 2, maxLength: 6 }), (nights) => {
        const last: Record<string, unknown> = {};
        let known: ReturnType<typeof compareNode>['known'];
        for (const each of nights) {
          const after = reading(each);
          const expected = Object.entries(after.ports[0]?.facts ?? {}).flatMap(([fact, is]) => {
            const was = last[fact];
            last[fact] = is;
            return was === undefined || was === is ? [] : [`${fact} ${String(was)} ${String(is)}`];
          });
          const found = compareNode(known, after, secondNight);
          known = found.known;
          const told = found.changes.map((change) =>
            change.kind === 'fact' ? `${change.fact} ${change.was} ${change.is}` : change.kind,
          );
          expect(told).toEqual(expected.sort());
        }
      }),
    );
  });
});
