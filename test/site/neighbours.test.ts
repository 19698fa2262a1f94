import { describe, expect, it } from 'vitest';
import type { FactValue } from '../../src/facts/entry.ts';
import { subjectIn } from './builders.ts';
import {
  type HarbourSketch,
  harbourHeard,
  harbourLinks,
  harbourSite,
  learnt,
  macs,
  says,
} from './harbour-site.ts';

type Facts = Readonly<Record<string, FactValue | undefined>>;

const quay = harbourHeard['quay-sw'] ?? { neighbours: [], forwarding: [] };
const withoutLldp = quay.neighbours.filter(({ port }) => port === 'xg8');
const tables = (...forwarding: readonly ReturnType<typeof learnt>[]) => {
  const changed = new Set(forwarding.map(({ port }) => port));
  return [...quay.forwarding.filter(({ port }) => !changed.has(port)), ...forwarding];
};

const swapped: HarbourSketch['heard'] = {
  'quay-sw': { forwarding: tables(learnt('xg2', macs.gate), learnt('xg7', macs.desk)) },
};

const rows: readonly (readonly [name: string, HarbourSketch, port: string, Facts])[] = [
  [
    'a host is known by its MAC address where it does not speak LLDP',
    {},
    'quay-sw:xg2',
    {
      neighbour: 'plot-1:desk',
      neighbourDeclared: true,
      neighbourKnownBy: 'forwarding',
      foundOn: ['quay-sw:xg2'],
      farEndElsewhere: false,
      macsBehind: 1,
      behindAtMost: 1,
      movedLink: undefined,
    },
  ],
  [
    'a switch by its system name and the name of its port',
    {},
    'quay-sw:xg8',
    { neighbour: 'loft-sw:xg1', neighbourDeclared: true, neighbourKnownBy: 'lldp', between: [] },
  ],
  [
    'members of a bond share one MAC address, so that either will do',
    {},
    'quay-sw:xg3',
    { neighbour: 'vault:eth4', neighbourDeclared: true, macsBehind: 1 },
  ],
  [
    'a printer by the MAC address that the intent declares',
    {},
    'quay-sw:g7',
    { neighbour: 'labeller:lan', neighbourDeclared: true, neighbourKnownBy: 'forwarding' },
  ],
  [
    'a telephone that the intent cannot tell from others is no accusation',
    {},
    'quay-sw:g1',
    { neighbour: 'telephone-7 1', neighbourDeclared: undefined, macsBehind: 2, behindAtMost: 3 },
  ],
  [
    'virtual machines of a host',
    {},
    'quay-sw:xg6',
    { neighbourDeclared: true, macsBehind: 4, behindAtMost: 8 },
  ],
  [
    'what is heard on the way to a switch says nothing of that way',
    {},
    'loft-sw:xg1',
    { neighbourDeclared: true, macsBehind: undefined, behindAtMost: undefined },
  ],
  [
    'silence says nothing',
    { heard: { 'quay-sw': { neighbours: [], forwarding: [] } } },
    'quay-sw:xg2',
    { neighbour: undefined, neighbourDeclared: undefined, foundOn: undefined, macsBehind: 0 },
  ],
  [
    'a swapped pair, by forwarding table: one end',
    { heard: swapped },
    'quay-sw:xg2',
    {
      neighbour: 'gate:em0',
      neighbourDeclared: false,
      foundOn: ['quay-sw:xg7'],
      farEndElsewhere: true,
      movedLink: 'plot-1:desk - quay-sw:xg2',
    },
  ],
  [
    'a swapped pair, by forwarding table: the other end has the same cause',
    { heard: swapped },
    'quay-sw:xg7',
    {
      neighbour: 'plot-1:desk',
      neighbourDeclared: false,
      foundOn: ['quay-sw:xg2'],
      movedLink: 'plot-1:desk - quay-sw:xg2',
    },
  ],
  [
    'a cord moved to a spare port',
    { heard: { 'quay-sw': { forwarding: tables(learnt('xg2'), learnt('xg5', macs.desk)) } } },
    'quay-sw:xg2',
    {
      neighbourDeclared: undefined,
      foundOn: ['quay-sw:xg5'],
      farEndElsewhere: true,
      movedLink: 'plot-1:desk - quay-sw:xg2',
    },
  ],
  [
    'a spare port that leads to a switch tells of nobody behind it',
    {
      heard: {
        'quay-sw': {
          neighbours: [...quay.neighbours, says('xg5', 'attic', '1', { capabilities: ['bridge'] })],
          forwarding: tables(learnt('xg2'), learnt('xg5', macs.desk)),
        },
      },
    },
    'quay-sw:xg2',
    { foundOn: undefined, farEndElsewhere: undefined, neighbourDeclared: undefined },
  ],
  [
    'a spare port with stations of several nodes tells of none',
    {
      heard: {
        'quay-sw': {
          forwarding: tables(learnt('xg2'), learnt('xg7'), learnt('xg5', macs.desk, macs.gate)),
        },
      },
    },
    'quay-sw:xg2',
    { foundOn: undefined, farEndElsewhere: undefined },
  ],
  [
    'a spare port of another switch tells only where this one has learnt the station as well',
    {
      heard: {
        'quay-sw': { forwarding: tables(learnt('xg2')) },
        'loft-sw': { forwarding: [learnt('xg9', macs.desk)] },
      },
    },
    'quay-sw:xg2',
    { foundOn: undefined },
  ],
  [
    'found behind another switch',
    {
      heard: {
        'quay-sw': { forwarding: tables(learnt('xg2'), learnt('xg8', macs.desk)) },
        'loft-sw': { forwarding: [learnt('xg9', macs.desk)] },
      },
    },
    'quay-sw:xg2',
    { foundOn: ['loft-sw:xg9'], farEndElsewhere: true },
  ],
  [
    'another node where the declared one is silent',
    {
      heard: {
        'quay-sw': {
          neighbours: withoutLldp,
          forwarding: tables(learnt('xg2', macs.gate), learnt('xg7')),
        },
      },
    },
    'quay-sw:xg2',
    { neighbour: 'gate:em0', neighbourDeclared: false, foundOn: undefined },
  ],
  [
    'stations that nobody knows are no other node',
    { heard: { 'quay-sw': { forwarding: tables(learnt('xg2', macs.strangers[0])) } } },
    'quay-sw:xg2',
    { neighbour: undefined, neighbourDeclared: undefined, macsBehind: 1 },
  ],
  [
    'LLDP goes before the forwarding table',
    { heard: { 'quay-sw': { neighbours: [...quay.neighbours, says('xg2', 'gate', 'em0')] } } },
    'quay-sw:xg2',
    { neighbour: 'gate:em0', neighbourDeclared: false, neighbourKnownBy: 'lldp' },
  ],
  [
    'another port of the right node',
    { heard: { 'quay-sw': { neighbours: [says('xg8', 'loft-sw', 'xg3')] } } },
    'quay-sw:xg8',
    { neighbour: 'loft-sw:xg3', neighbourDeclared: false },
  ],
  [
    'the right node and a port that cannot be told',
    {
      heard: { 'quay-sw': { neighbours: [says('xg8', 'loft-sw', '17', { portIdKind: 'other' })] } },
    },
    'quay-sw:xg8',
    { neighbour: 'loft-sw:xg1', neighbourDeclared: true },
  ],
  [
    'signs that contradict each other tell nothing',
    {
      heard: {
        'quay-sw': {
          neighbours: [says('xg2', 'gate', 'em0', { chassis: macs.desk })],
          forwarding: [],
        },
      },
    },
    'quay-sw:xg2',
    { neighbour: 'gate em0', neighbourDeclared: undefined },
  ],
  [
    'a telephone between a port and the host that is declared there',
    {
      heard: {
        'quay-sw': {
          neighbours: [says('xg2', 'telephone-9', '1', { capabilities: ['telephone'] })],
          forwarding: tables(learnt('xg2', macs.desk, macs.phone)),
        },
      },
    },
    'quay-sw:xg2',
    { neighbourDeclared: true, between: ['telephone-9 1'], macsBehind: 2 },
  ],
  [
    'the firmware of an adapter is nothing between',
    { heard: { 'quay-sw': { neighbours: [says('xg2', 'nic', '1')] } } },
    'quay-sw:xg2',
    { neighbourDeclared: true, between: [] },
  ],
  [
    'a printer that announces itself as an access point',
    {
      heard: {
        'quay-sw': {
          neighbours: [
            says('g7', 'roof-ap', 'eth0', { capabilities: ['bridge', 'wlan-access-point'] }),
          ],
          forwarding: [],
        },
      },
    },
    'quay-sw:g7',
    { neighbour: 'roof-ap eth0', neighbourDeclared: false },
  ],
  [
    'one station with another MAC address than the printer has',
    { heard: { 'quay-sw': { forwarding: tables(learnt('g7', macs.strangers[1])) } } },
    'quay-sw:g7',
    { neighbour: macs.strangers[1], neighbourDeclared: false },
  ],
  [
    'the printer, found at another port',
    { heard: { 'quay-sw': { forwarding: tables(learnt('g7'), learnt('xg5', macs.labeller)) } } },
    'quay-sw:g7',
    { foundOn: ['quay-sw:xg5'], farEndElsewhere: true },
  ],
  [
    'what a host hears tells as well, though the switch says nothing',
    {
      heard: {
        'quay-sw': { neighbours: [], forwarding: [] },
        'plot-1': { neighbours: [says('desk', 'quay-sw', 'xg7')] },
      },
    },
    'plot-1:desk',
    { neighbour: 'quay-sw:xg7', neighbourDeclared: false, movedLink: 'plot-1:desk - quay-sw:xg2' },
  ],
  [
    'what the neighbour says of its port',
    {
      heard: {
        'quay-sw': {
          neighbours: [
            says('xg8', 'loft-sw', 'xg1', {
              speedMbps: 10_000,
              duplex: 'full',
              frameMaxBytes: 9216,
              autoNegotiation: false,
              untaggedVlan: 1,
            }),
          ],
        },
      },
    },
    'quay-sw:xg8',
    {
      neighbourSpeedMbps: 10_000,
      neighbourDuplex: 'full',
      neighbourFrameBytes: 9216,
      neighbourAutoNegotiation: false,
      neighbourUntaggedVlan: 1,
    },
  ],
];

describe('who is at the other end', () => {
  it.each(rows)('%s', (_name, sketch, port, expected) => {
    const { facts } = subjectIn(harbourSite(sketch), 'ports', port);
    const seen = Object.fromEntries(Object.keys(expected).map((name) => [name, facts[name]]));
    expect(seen).toEqual(expected);
  });

  it('is heard through a switch that nobody reads', () => {
    const site = harbourSite({
      nodes: { 'shed-sw': { unread: 'switch' } },
      intent: {
        links: {
          'quay-sw:xg2 - shed-sw:1': {},
          'shed-sw:2 - plot-1:desk': {},
          'quay-sw:xg7 - gate:em0': {},
        },
        paths: {},
      },
      heard: {
        'quay-sw': { neighbours: [says('xg2', 'plot-1', macs.desk, { portIdKind: 'mac' })] },
      },
    });
    const { facts } = subjectIn(site, 'ports', 'quay-sw:xg2');
    expect([facts['neighbour'], facts['neighbourDeclared']]).toEqual(['plot-1:desk', true]);
  });

  it('says why, where a switch did not give its tables', () => {
    const gap = { reason: 'denied', words: 'no access to lldpRemTable' } as const;
    const site = harbourSite({
      readings: { 'quay-sw': { neighbours: [], forwarding: [], gaps: { neighbours: gap } } },
    });
    const { own } = subjectIn(site, 'ports', 'quay-sw:xg2');
    expect(own?.gaps['neighbourDeclared']).toEqual({ ...gap, cause: 'neighbours of quay-sw' });
  });

  it.each(['unsupported', 'unasked'] as const)(
    'expects nothing of a table that is %s',
    (reason) => {
      const gap = { reason, words: 'none' };
      const site = harbourSite({
        readings: { 'quay-sw': { neighbours: [], forwarding: [], gaps: { neighbours: gap } } },
      });
      const { own } = subjectIn(site, 'ports', 'quay-sw:xg2');
      expect(own?.gaps['neighbourDeclared']).toBe(undefined);
    },
  );

  it('believes nothing that another machine says at the address of a node', () => {
    const site = harbourSite({
      nodes: { 'quay-sw': { identity: { systemName: 'other' } } },
      heard: swapped,
    });
    const { facts, own } = subjectIn(site, 'ports', 'quay-sw:xg2');
    expect(facts['neighbourDeclared']).toBe(undefined);
    expect(own?.gaps['neighbourDeclared']).toMatchObject({
      reason: 'doubtful',
      cause: 'node quay-sw',
    });
  });
});

describe('stations behind a port', () => {
  const cut = { reason: 'truncated', words: 'dot1qTpFdbPort: cut' } as const;
  const cutAt = (port: string) =>
    subjectIn(
      harbourSite({ heard: { 'quay-sw': { gaps: { forwarding: cut } } } }),
      'ports',
      `quay-sw:${port}`,
    );

  it('are not known to be few by a table that was cut short', () => {
    const { facts, own } = cutAt('xg2');
    expect(facts['macsBehind']).toBe(undefined);
    expect(own?.gaps['macsBehind']).toEqual({ ...cut, cause: 'forwarding of quay-sw' });
  });

  it('are known to be many by what there is of such a table', () => {
    const site = harbourSite({
      nodes: { 'quay-sw': {} },
      heard: { 'quay-sw': { gaps: { forwarding: cut } } },
    });
    expect(subjectIn(site, 'ports', 'quay-sw:xg6').facts['macsBehind']).toBe(4);
  });

  it('are not counted where another machine answers for the switch', () => {
    const site = harbourSite({ nodes: { 'quay-sw': { identity: { systemName: 'other' } } } });
    const { facts, own } = subjectIn(site, 'ports', 'quay-sw:xg2');
    expect(facts['macsBehind']).toBe(undefined);
    expect(own?.gaps['macsBehind']).toMatchObject({ cause: 'node quay-sw' });
  });

  it('are not counted at a port that was not found', () => {
    const site = harbourSite({
      intent: { links: { ...harbourLinks, 'quay-sw:xg99 - gate:em1': {} } },
    });
    expect(subjectIn(site, 'ports', 'quay-sw:xg99').facts['macsBehind']).toBe(undefined);
  });
});

describe('links that nobody declared', () => {
  it('are not known to be none by a list that was cut short', () => {
    const cut = { reason: 'truncated', words: 'lldpRemChassisId: cut' } as const;
    const { facts, own } = subjectIn(
      harbourSite({ heard: { 'quay-sw': { gaps: { neighbours: cut } } } }),
      'nodes',
      'quay-sw',
    );
    expect([facts['undeclaredLinks'], own?.gaps['undeclaredLinks']]).toEqual([undefined, cut]);
  });

  const both: HarbourSketch['heard'] = {
    'quay-sw': { neighbours: [...quay.neighbours, says('xg5', 'loft-sw', 'xg9')] },
    'loft-sw': { neighbours: [says('xg9', 'quay-sw', 'xg5')] },
  };

  it('are told at one of their two nodes', () => {
    const site = harbourSite({ heard: both, ports: { 'loft-sw:xg9': {} } });
    const told = ['quay-sw', 'loft-sw'].map(
      (node) => subjectIn(site, 'nodes', node).facts['undeclaredLinks'],
    );
    expect(told).toEqual([[], ['loft-sw:xg9 - quay-sw:xg5']]);
  });

  it('are not told of a node that moved', () => {
    const site = harbourSite({
      heard: {
        'quay-sw': { neighbours: [says('xg5', 'plot-1', macs.desk, { portIdKind: 'mac' })] },
      },
    });
    expect(subjectIn(site, 'nodes', 'quay-sw').facts['undeclaredLinks']).toEqual([]);
    expect(subjectIn(site, 'ports', 'quay-sw:xg2').facts['foundOn']).toEqual([
      'quay-sw:xg2',
      'quay-sw:xg5',
    ]);
  });

  it('are not known where neighbours were not read', () => {
    expect(subjectIn(harbourSite(), 'nodes', 'gate').facts['undeclaredLinks']).toBe(undefined);
  });
});

describe('what others tell of a port that nobody reads', () => {
  const printer = (sketch: HarbourSketch) =>
    subjectIn(
      harbourSite({ nodes: { labeller: { unread: 'printer', at: '198.18.10.9' } }, ...sketch }),
      'ports',
      'labeller:lan',
    );

  it('is the speed of its partner', () => {
    const { facts, own } = printer({});
    expect([facts['heardSpeedMbps'], facts['heardDuplex']]).toEqual([1000, 'full']);
    expect(own?.sources['heardSpeedMbps']).toBe('reading of the other end of its link');
  });

  const session = {
    remote: '198.18.10.9',
    segmentBytes: 1048,
    advertisedBytes: 1448,
    pathMtuBytes: 1500,
  };
  const sessions = (more: object) => ({
    readings: { gate: { sessions: [more] } },
  });

  it.each([
    // 1048 of payload, 12 of timestamps (RFC 7323), 20 of TCP and 20 of IPv4.
    ['a segment that only the far end explains', {}, 1100, false],
    ['a segment as large as is offered', { segmentBytes: 1448 }, undefined, true],
    ['a path MTU that was learnt', { pathMtuBytes: 1100 }, undefined, true],
    ['an offer that was not printed', { advertisedBytes: undefined }, undefined, true],
  ])('is its packet, from %s', (_name, more, bytes, carries) => {
    const { facts, own } = printer(sessions(JSON.parse(JSON.stringify({ ...session, ...more }))));
    expect([facts['heardMtuBytes'], facts['carriesDeclaredMtu']]).toEqual([bytes, carries]);
    if (bytes !== undefined)
      expect(own?.sources['passesAtMostBytes']).toBe('live TCP sessions of gate with it');
  });

  const shed = (frameMaxBytes: number) =>
    harbourSite({
      nodes: { 'loft-sw': { unread: 'switch' } },
      heard: { 'quay-sw': { neighbours: [says('xg8', 'loft-sw', 'xg1', { frameMaxBytes })] } },
    });

  it.each([
    ['less than a declared packet, however counted', 4000, false, 4000],
    ['more', 9216, true, 9000],
    // Many say 1518 or 1522 whatever they pass (common practice).
    ['what everybody says', 1522, true, 9000],
  ])('is its frame by LLDP: %s', (_name, frame, carries, most) => {
    const { facts } = subjectIn(shed(frame), 'ports', 'loft-sw:xg1');
    expect([facts['carriesDeclaredMtu'], facts['passesAtMostBytes']]).toEqual([carries, most]);
    expect(facts['heardFrameBytes']).toBe(frame);
  });
});
