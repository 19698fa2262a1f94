import { describe, expect, it } from 'vitest';
import { unreadNode } from '../../src/collect/collect-survey.ts';
import type { PlannedNode } from '../../src/collect/plan.ts';
import { answerOf, readingIn } from '../../src/share/answer.ts';
import { askedNode, askedNodeIn, planOf } from '../../src/share/asked-node.ts';
import { fallsTo, queueName, queuePlace } from '../../src/share/queue-names.ts';

const node: PlannedNode = {
  name: 'vault',
  at: 'vault.office.example',
  atPort: 2222,
  access: [
    { via: 'ssh', name: 'hosts', user: 'auditor', passphrase: 'KEY_WORDS' },
    { via: 'ssh', name: 'cards', through: 'system' },
    {
      via: 'snmp',
      name: 'agents',
      version: '3',
      user: 'auditor',
      auth: 'sha256',
      secret: { auth: 'A' },
    },
  ],
  peerNames: ['plot-1', 'gate'],
  farPorts: [{ node: 'quay-sw', names: ['xg3'] }],
  reach: 'yard',
};
const plan = {
  site: 'the depot',
  nodes: [node],
  whereabouts: new Map([
    ['plot-1', '198.18.20.11'],
    ['attic', '198.18.20.9'],
  ]),
};
const run = {
  run: '5c6f3f4e-3f0e-4d6a-9a3e-0d1b2c3d4e5f',
  until: '2026-11-26T02:00:00.000Z',
  topics: ['neighbours' as const],
};

describe('a node in the queue', () => {
  const asked = askedNode(node, plan, run);

  it('comes out as it was put in, with where its peers are and no more', () => {
    const { farPorts: _, ...alone } = node;
    expect(askedNodeIn(JSON.parse(JSON.stringify(asked)))).toEqual(asked);
    expect(planOf(asked)).toEqual({
      site: 'the depot',
      nodes: [alone],
      whereabouts: new Map([['plot-1', '198.18.20.11']]),
    });
  });

  it.each([
    ['nothing', undefined],
    ['another version', { ...asked, version: 2 }],
    ['something more', { ...asked, secret: 'x' }],
    ['an address that is none', { ...asked, node: { ...asked.node, at: '-oProxyCommand=x' } }],
    [
      'a reading of the collector itself',
      { ...asked, node: { ...asked.node, access: [{ via: 'local', name: 'local' }] } },
    ],
    ['no access', { ...asked, node: { ...asked.node, access: [] } }],
    [
      'a user that is an option',
      { ...asked, node: { ...asked.node, access: [{ via: 'ssh', name: 'h', user: '-x' }] } },
    ],
    ['a peer that is no address', { ...asked, whereabouts: { 'plot-1': '$(x)' } }],
    ['a topic that nobody knows', { ...asked, topics: ['gossip'] }],
  ])('of %s is not taken', (_, value) => {
    expect(askedNodeIn(value)).toBeUndefined();
  });
});

describe('an answer', () => {
  const survey = unreadNode(
    node,
    { kind: 'refused', seen: 'refused', remedy: 'start it' },
    new Date('2026-11-26T01:00:00Z'),
  );
  const answer = answerOf(survey, 'depot:7');

  it('comes out as it was put in', () => {
    expect(readingIn(JSON.parse(JSON.stringify(answer)), 'vault')).toEqual(survey);
  });

  it.each([
    ['of another node', answer, 'gate'],
    ['without a reading', { by: 'depot:7' }, 'vault'],
    ['that is no packed JSON', { by: 'depot:7', packed: 'AAAA' }, 'vault'],
    [
      'of facts that are none',
      answerOf({ ...survey, facts: { uptimeSeconds: 'long' } } as never, 'x'),
      'vault',
    ],
    ['that is nothing', null, 'vault'],
  ])('%s gives no reading', (_, output, name) => {
    expect(readingIn(output, name)).toBeUndefined();
  });
});

describe('a queue', () => {
  const yard = queueName({ site: 'the depot', reach: 'yard' });
  const rest = queueName({ site: 'the depot', reach: '' });

  it('is named after site and reach, whatever they are', () => {
    // README's policy of rows rests on this form.
    expect(rest).toBe('survey ["the depot",""]');
    for (const place of [
      { site: 'a "b", c', reach: '' },
      { site: 'ä\n', reach: 'x/y' },
    ])
      expect(queuePlace(queueName(place))).toEqual(place);
    for (const name of ['__pgboss__send-it', 'survey nothing', 'survey ["one"]'])
      expect(queuePlace(name)).toBeUndefined();
  });

  it.each([
    [{ sites: [], reaches: [] }, [true, true]],
    [{ sites: ['the depot'], reaches: [] }, [true, true]],
    [{ sites: ['the depot'], reaches: ['yard'] }, [true, false]],
    [{ sites: ['the pier'], reaches: [] }, [false, false]],
    [{ sites: ['the pier', 'the depot'], reaches: ['yard', 'quay'] }, [true, false]],
  ])('falls to a collector of %j: %j', (takes, falls) => {
    expect([yard, rest].map((name) => fallsTo(name, takes))).toEqual(falls);
  });
});
