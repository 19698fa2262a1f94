import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import { makeIntent, makeSurvey, subjectIn } from './builders.ts';
import { harbourSite, learnt, macs } from './harbour-site.ts';

const forwarding = { spanningTree: 'forwarding' } as const;
const fast = { tagged: ['storage'], speedMbps: 10_000 };

/** Two switches with two cords between them, and the ends at either side. */
function twoCords(sketch: {
  readonly first?: PortReadFacts;
  readonly second?: PortReadFacts;
  readonly secondMbps?: number;
  readonly quay?: readonly ReturnType<typeof learnt>[];
}): Site {
  const secondSpeed = sketch.secondMbps ?? 10_000;
  const intent = makeIntent({
    nodes: { 'plot-1': {}, 'quay-sw': {}, 'loft-sw': {}, vault: {} },
    segments: { storage: {} },
    links: {
      'plot-1:desk - quay-sw:xg2': {},
      'quay-sw:xg8 - loft-sw:xg1': fast,
      'quay-sw:xg9 - loft-sw:xg9': { ...fast, speedMbps: secondSpeed },
      'loft-sw:xg3 - vault:eth4': {},
    },
    paths: { plotting: { from: ['plot-1'], to: ['vault'] } },
  });
  const second = { ...forwarding, speedMbps: secondSpeed, ...sketch.second };
  const survey = makeSurvey({
    'plot-1': { ports: { desk: { macAddress: macs.desk } } },
    'quay-sw': {
      ports: { xg2: forwarding, xg8: forwarding, xg9: { ...forwarding, speedMbps: secondSpeed } },
      ...(sketch.quay === undefined ? {} : { forwarding: sketch.quay }),
    },
    'loft-sw': { ports: { xg1: { ...forwarding, ...sketch.first }, xg3: forwarding, xg9: second } },
    vault: { ports: { eth4: { macAddress: macs.eth4 } } },
  });
  return buildSite(intent, survey, { strict: false });
}

const useOf = (site: Site) =>
  Object.fromEntries(
    (site.paths[0]?.hops ?? []).map(({ port, inUse, idleBecause }) => [
      port.id,
      idleBecause ?? inUse ?? 'not known',
    ]),
  );

describe('which way is in use', () => {
  it('is not the one that the spanning tree blocks, at both its ends', () => {
    expect(useOf(twoCords({ second: { spanningTree: 'blocking' } }))).toEqual({
      'plot-1:desk': 'not known',
      'quay-sw:xg2': 'not known',
      'quay-sw:xg8': 'not known',
      'quay-sw:xg9': 'spanning-tree',
      'loft-sw:xg1': 'not known',
      'loft-sw:xg9': 'spanning-tree',
      'loft-sw:xg3': 'not known',
      'vault:eth4': 'not known',
    });
  });

  it('is where a switch has learnt both ends', () => {
    const use = useOf(twoCords({ quay: [learnt('xg2', macs.desk), learnt('xg8', macs.eth4)] }));
    expect([use['quay-sw:xg2'], use['quay-sw:xg8'], use['quay-sw:xg9']]).toEqual([
      true,
      true,
      false,
    ]);
  });

  it('is not known of a switch that has both ends behind one port, or knows one only', () => {
    for (const quay of [[learnt('xg8', macs.desk, macs.eth4)], [learnt('xg2', macs.desk)]])
      expect(useOf(twoCords({ quay }))['quay-sw:xg9']).toBe('not known');
  });

  it('leaves out a member that LACP leaves out', () => {
    const site = harbourSite({ ports: { 'vault:eth5': { lacpActor: ['activity', 'defaulted'] } } });
    const use = useOf(site);
    expect([use['vault:eth5'], use['loft-sw:xg3'], use['vault:eth4']]).toEqual([
      'lacp',
      'lacp',
      'not known',
    ]);
  });
});

describe('a way that the spanning tree blocks', () => {
  const names = ['blockedPorts', 'takesBestWay', 'bestWayMbps', 'wayInUseMbps'] as const;
  const told = (site: Site) => {
    const { facts } = subjectIn(site, 'paths', 'plotting');
    return names.map((name) => facts[name]);
  };

  it.each([
    ['none', {}, [[], true, 10_000, 10_000]],
    [
      'one of two equal ways',
      { second: { spanningTree: 'blocking' } },
      [['loft-sw:xg9'], true, 10_000, 10_000],
    ],
    [
      'the slow one',
      { secondMbps: 1000, second: { spanningTree: 'blocking' } },
      [['loft-sw:xg9'], true, 10_000, 10_000],
    ],
    [
      'the fast one',
      { secondMbps: 1000, first: { spanningTree: 'blocking' } },
      [['loft-sw:xg1'], false, 10_000, 1000],
    ],
    [
      'all',
      { first: { spanningTree: 'blocking' }, second: { spanningTree: 'broken' } },
      [['loft-sw:xg1', 'loft-sw:xg9'], false, 10_000, undefined],
    ],
    [
      'a fast one that is down',
      { secondMbps: 1000, first: { spanningTree: 'blocking', operUp: false } },
      [[], true, 1000, 1000],
    ],
  ])('%s', (_name, sketch, expected) => {
    expect(told(twoCords(sketch))).toEqual(expected);
  });

  it('is not said to be faster where its speed is not known', () => {
    const intent = makeIntent({
      nodes: { 'a-sw': {}, 'b-sw': {} },
      links: { 'a-sw:1 - b-sw:1': {}, 'a-sw:2 - b-sw:2': { speedMbps: 1000 } },
      paths: { across: { from: ['a-sw'], to: ['b-sw'] } },
    });
    const tap = { kind: 'virtual', spanningTree: 'forwarding' } as const;
    const survey = makeSurvey({
      'a-sw': { ports: { 1: { ...tap, spanningTree: 'blocking' }, 2: tap } },
      'b-sw': { ports: { 1: tap, 2: tap } },
    });
    const { facts } = subjectIn(buildSite(intent, survey, { strict: false }), 'paths', 'across');
    expect([facts['blockedPorts'], facts['takesBestWay']]).toEqual([['a-sw:1'], true]);
  });

  it('is not known while the tree still settles, or where none is read', () => {
    const settling = twoCords({ second: { spanningTree: 'learning' } });
    const { facts, own } = subjectIn(settling, 'ports', 'loft-sw:xg9');
    expect([facts['spanningTreeForwards'], own?.gaps['spanningTreeForwards']?.reason]).toEqual([
      undefined,
      'doubtful',
    ]);
    expect(subjectIn(settling, 'ports', 'vault:eth4').facts['spanningTreeForwards']).toBe(
      undefined,
    );
  });
});

describe('VLANs of a port', () => {
  const quay = (name: string, ports: Readonly<Record<string, PortReadFacts>>) => {
    const { facts } = subjectIn(harbourSite({ ports }), 'ports', name);
    return [facts['vlansMissing'], facts['vlansUnexpected'], facts['vlansAsDeclared']];
  };
  it.each([
    ['as declared', {}, [[], [], true]],
    ['untagged frames arrive in another VLAN', { untaggedVlan: 7 }, [[20], [7], false]],
    ['frames leave tagged', { untaggedVlans: [], taggedVlans: [20] }, [[20], [], false]],
    ['a tagged VLAN of another declared segment to a host', { taggedVlans: [1] }, [[], [1], false]],
    ['a tagged VLAN that the intent does not know', { taggedVlans: [400] }, [[], [], true]],
    ['no PVID read', { untaggedVlan: undefined as never }, [[], [], true]],
    [
      'nothing read',
      {
        untaggedVlan: undefined as never,
        untaggedVlans: undefined as never,
        taggedVlans: undefined as never,
      },
      [undefined, undefined, undefined],
    ],
  ])('to a host: %s', (_name, facts, expected) => {
    expect(quay('quay-sw:xg2', { 'quay-sw:xg2': facts })).toEqual(expected);
  });

  it('are those of the aggregate where the port is a member', () => {
    expect(
      quay('quay-sw:xg3', { 'quay-sw:lag1': { untaggedVlan: 1, untaggedVlans: [1] } }),
    ).toEqual([[20], [1], false]);
  });

  it('leave the default VLAN of a trunk alone', () => {
    expect(quay('quay-sw:xg8', {})).toEqual([[], [], true]);
    expect(
      quay('quay-sw:xg8', { 'quay-sw:xg8': { untaggedVlan: 40, untaggedVlans: [40] } }),
    ).toEqual([[], [40], false]);
  });
});

describe('a route beside a declared port that is not there', () => {
  it('waits for the port, under the same cause', () => {
    const site = harbourSite({
      readings: {
        'plot-1': {
          ports: { en9: { addresses: ['198.18.20.1/24'] } },
          routes: { '198.18.20.2': 'en9' },
        },
      },
    });
    const { facts, own } = subjectIn(site, 'directions', 'plotting: plot-1 to vault');
    expect([facts['leavesBy'], facts['leavesByDeclaredPort']]).toEqual(['plot-1:en9', undefined]);
    expect(own?.gaps['leavesByDeclaredPort']).toMatchObject({
      reason: 'unsupported',
      cause: 'port plot-1:desk',
    });
  });
});
