import { describe, expect, it } from 'vitest';
import { rehearse } from '../../src/change/rehearse.ts';
import { weighCosts } from '../../src/change/state-cost.ts';
import type { SegmentWays } from '../../src/change/ways-types.ts';
import { makeLargeSite } from '../bench/large-site.ts';
import { planned, type TwoSwitchesSketch, twoSwitches } from './two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';
const low = { hosts: 1500, switches: 1518, declared: 1500 };
const high = { hosts: 9000, switches: 9216, declared: 9000 };
const to = (mtu: number) => `segments: { storage: { mtu: ${mtu} } }`;

function run(text: string, { intent, survey }: ReturnType<typeof twoSwitches>) {
  return rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
}

function waysIn(text: string, sketch: TwoSwitchesSketch): SegmentWays {
  const [ways] = run(text, twoSwitches(sketch)).ways;
  if (ways === undefined) throw new Error('no ways are offered');
  return ways;
}

describe('the ways of a segment', () => {
  it.each([
    ['raised', to(9000), low, [9000, true], [1500, false]],
    ['lowered', to(1500), high, [9000, false], [1500, true]],
    ['lowered half-way', to(4000), high, [9000, false], [1500, false]],
    ['raised half-way', to(4000), low, [4000, true], [1500, false]],
    ['lowered below 1500', to(1300), low, [1500, false], [1300, true]],
    [
      'declared as it was, with ports that lag',
      to(9000),
      { ...low, declared: 9000 },
      [9000, true],
      [1500, false],
    ],
    [
      'raised by ports that are listed',
      `${to(9000)}\nports: { "plot-1:en7": { mtu: 9000 } }`,
      low,
      [9000, false],
      [1500, false],
    ],
  ] as const)('are both sizes where it is %s', (_, text, sketch, most, least) => {
    const { segment, larger, smaller } = waysIn(text, sketch);
    expect(segment).toBe('storage');
    expect([larger.bytes, larger.isChange]).toEqual(most);
    expect([smaller.bytes, smaller.isChange]).toEqual(least);
  });

  it.each([
    ['a speed', 'links: { "plot-1:en7 - quay-sw:xg2": { speed: 1G } }', low],
    ['ports of it alone', 'ports: { "plot-1:en7": { mtu: 9000 } }', low],
    [
      'nothing, since it is so already',
      to(9000),
      { ...high, phone: { kind: 'physical' as const, mtuBytes: 9000 } },
    ],
    ['what is 1500 before and after', to(1500), low],
  ])('are none where a change moves %s', (_, text, sketch) => {
    const told = run(text, twoSwitches(sketch));
    expect(told.ways).toEqual([]);
    expect(told.waysLeftOut).toEqual([]);
  });

  // The second reckoning is the rehearsal of the other change by itself.
  it.each([
    ['raised', to(9000), to(1500), low, 'smaller'],
    ['lowered', to(1500), to(9000), high, 'larger'],
    ['mended upwards', to(9000), to(1500), { ...low, hosts: 9000, declared: 9000 }, 'smaller'],
  ] as const)(
    'cost what the other change would, where it is %s',
    (_, text, other, sketch, side) => {
      const way = waysIn(text, sketch)[side];
      const { order, start, remarks } = run(other, twoSwitches(sketch));
      const refused = remarks.filter(({ kind }) => kind === 'impossible');
      expect(way).toMatchObject({ steps: order?.steps.length, impossible: refused.length });
      expect(way.worst).toEqual(
        order?.steps.length === 0 ? undefined : weighCosts(order?.costs ?? []).worst,
      );
      expect(way.start).toEqual(order?.steps.length === 0 ? undefined : start);
      expect(way.firstImpossible?.on).toBe(refused[0]?.on);
    },
  );

  it('are the change itself on its own side', () => {
    const { order, start, ways } = run(to(9000), twoSwitches(low));
    expect(ways[0]?.larger).toEqual({
      bytes: 9000,
      isChange: true,
      steps: 14,
      impossible: 1,
      firstImpossible: {
        on: 'tablet:wlan0',
        what: 'cannot carry 9000: it is a Wi-Fi port, and no setting gives Wi-Fi packets above 1500 bytes',
      },
      start,
      worst: weighCosts(order?.costs ?? []).worst,
      // All but the VLAN interface and the virtual port of store.
      bounces: 12,
      restarts: 0,
    });
  });

  it('count a node that restarts once, in both directions', () => {
    const reload = `${to(9000)}\nnodes: { loft-sw: { mtu: 9216, mtuChange: reload } }`;
    const { larger, smaller } = waysIn(reload, low);
    expect([larger.restarts, smaller.restarts]).toEqual([1, 1]);
    // quay-sw:xg2, xg6, xg7, xg8; plot-1, vault, store:eno1 and gate.
    expect(larger.bounces).toBe(8);
  });

  it('reckon with the device that the change puts in, in either size', () => {
    const device = `${to(9000)}\nnodes: { loft-sw: { replace: { by: shelf, mtu: 1518, mtuMax: 8000 } } }`;
    const { larger, smaller } = waysIn(device, {
      ...high,
      phone: { kind: 'physical' as const, mtuBytes: 9000 },
    });
    expect(larger.firstImpossible).toMatchObject({
      on: expect.stringMatching(/^loft-sw:/),
      what: 'cannot be set to 9022: shelf, which is put in its place, takes at most 8000',
    });
    expect(smaller.firstImpossible).toBeUndefined();
  });

  it('say what a driver cannot do, and give no figures of paths through it', () => {
    const told = waysIn(to(9000), { ...low, eth4: { mtuMaxBytes: 4082 } });
    expect(told.larger.impossible).toBe(2);
    expect(told.larger.firstImpossible?.on).toBe('tablet:wlan0');
    expect(told.paths).toEqual([
      { id: 'copies', gap: 'vault:bond0 cannot follow to 9000' },
      { id: 'plotting', gap: 'vault:bond0 cannot follow to 9000' },
    ]);
  });

  it('name what could not be read', () => {
    const { intent, survey } = twoSwitches(low);
    const nodes = survey.nodes.filter(({ node }) => !node.endsWith('-sw'));
    const [ways] = run(to(9000), { intent, survey: { ...survey, nodes } }).ways;
    expect(ways?.unread).toEqual(['quay-sw', 'loft-sw']);
    // What was read still has its step.
    expect(ways?.larger.steps).toBe(6);
  });

  it('guess no speed', () => {
    const { intent, survey } = twoSwitches(low);
    const nodes = survey.nodes.map((node) => {
      const ports = node.ports.map((port) => {
        const { speedMbps: _, ...facts } = port.facts;
        return { ...port, facts };
      });
      return { ...node, ports };
    });
    const [ways] = run(to(9000), { intent, survey: { ...survey, nodes } }).ways;
    expect(ways?.paths.map(({ id, ceilings }) => [id, ceilings])).toEqual([
      ['copies', undefined],
      ['plotting', undefined],
    ]);
    expect(ways?.paths[0]?.gap).toBe(
      'its slowest speed is not known: store:eno1, loft-sw:xg5, loft-sw:xg3, loft-sw:xg4, vault:eth4, vault:eth5: speedMbps was not read',
    );
  });

  it.each([
    [200, true],
    [201, false],
  ])('put %i steps beside the change into an order: %s', (hosts, isOrdered) => {
    const site = makeLargeSite((host) => (host < hosts ? 9000 : 1500));
    const text = to(9000);
    const told = rehearse({ ...site, policies: [], now }, planned(text, site.intent, site.survey));
    const { larger, smaller } = told.ways[0] ?? {};
    expect(smaller?.steps).toBe(hosts);
    expect([smaller?.worst !== undefined, smaller?.start !== undefined]).toEqual([
      isOrdered,
      isOrdered,
    ]);
    // That of the change was sought already.
    expect(larger?.worst).toEqual(weighCosts(told.order?.costs ?? []).worst);
  });

  it('are worked out of eight segments, and the others are named', () => {
    const names = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'storage'];
    const segments = Object.fromEntries(names.map((name) => [name, { mtuBytes: 1500 }]));
    const asks = names.map((name) => `${name}: { mtu: 9000 }`).join(', ');
    const told = run(`segments: { ${asks} }`, twoSwitches({ ...low, intent: { segments } }));
    expect(told.ways.map(({ segment }) => segment)).toEqual(names.slice(0, 8));
    expect(told.waysLeftOut).toEqual(['storage']);
  });
});

describe('what both ways give a path', () => {
  const ceilings = (sketch: TwoSwitchesSketch) =>
    waysIn(to(9000), sketch).paths.find(({ id }) => id === 'plotting')?.ceilings;

  // RFC 6349 4.1.1 and table 4.1.2: 81,274 and 812,743 packets of 1500 bytes a second, in slots of
  // 1538 bytes, and 949.2 and 9,492.0 Mb/s of TCP data without options, its decimals cut off.
  it.each([
    [1000, 81_274, 949.2, 0.1],
    [10_000, 812_743, 9492, 1],
  ])('is at %i Mb/s what RFC 6349 works out', (speedMbps, packets, mbps, within) => {
    const told = ceilings({ ...low, eth4: { speedMbps } });
    expect(told?.slowestMbps).toBe(speedMbps);
    expect(told?.smaller.packetsPerSecond).toBe(packets);
    const withoutOptions = (packets * (1500 - 40) * 8) / 1e6;
    expect(withoutOptions - mbps).toBeGreaterThanOrEqual(0);
    expect(withoutOptions - mbps).toBeLessThan(within);
    // Timestamps take 12 bytes of each packet (RFC 7323 appendix A); less than one packet is rounded.
    const told1500 = told?.smaller.goodputMbps ?? 0;
    expect(Math.abs(told1500 - (withoutOptions - (packets * 12 * 8) / 1e6))).toBeLessThan(0.012);
  });

  // By hand: 38 bytes beside the packet, preamble 7, start 1, header 14, FCS 4, gap 12 (IEEE 802.3;
  // RFC 6349 4.1.1); 52 bytes of it are headers, IPv4 20, TCP 20 and timestamps 12.
  it('has the figures of 9000 and 1500 bytes at 10 Gb/s, worked out by hand', () => {
    expect(ceilings(low)).toEqual({
      slowestMbps: 10_000,
      larger: { packetBytes: 9000, goodputMbps: (10_000 * 8948) / 9038, packetsPerSecond: 138_304 },
      smaller: {
        packetBytes: 1500,
        goodputMbps: (10_000 * 1448) / 1538,
        packetsPerSecond: 812_743,
      },
      gainPercent: expect.closeTo(5.158, 3),
    });
    expect(ceilings(low)?.larger.goodputMbps).toBeCloseTo(9900.42, 2);
    expect(ceilings(low)?.smaller.goodputMbps).toBeCloseTo(9414.82, 2);
  });

  it.each([
    [
      'is bound by a smaller segment on it',
      { mtuBytes: 1500 },
      { larger: 1500, smaller: 1500, gain: 0 },
    ],
    ['is not known where another segment has no MTU', {}, 'segment desks has no MTU declared'],
  ])('%s', (_, desks, wanted) => {
    const segments = { storage: { vlan: 20, mtuBytes: 1500 }, desks };
    const paths = { plotting: { from: ['plot-1'], to: ['vault'], over: ['storage', 'desks'] } };
    const [path] = waysIn(to(9000), { ...low, intent: { segments, paths } }).paths;
    const { larger, smaller, gainPercent } = path?.ceilings ?? {};
    expect(
      path?.gap ?? {
        larger: larger?.packetBytes,
        smaller: smaller?.packetBytes,
        gain: gainPercent,
      },
    ).toEqual(wanted);
  });
});
