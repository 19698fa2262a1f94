import { describe, expect, it } from 'vitest';
import { fitAgainstFacts } from '../../src/diagnose/fit-against-facts.ts';
import type { FitReason, FitSeen, LossSeen } from '../../src/diagnose/fit-seen.ts';
import { type PlottingSketch, plottingSite } from '../site/plotting-site.ts';

const there = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.2', wantedBytes: 9000 };
const back = { from: 'vault', to: 'plot-1', toAddress: '198.18.20.1', wantedBytes: 9000 };

function reasons(sketch: PlottingSketch, seen: readonly FitSeen[]): readonly FitReason[] {
  const site = plottingSite(sketch);
  const [path] = site.paths;
  if (path === undefined) throw new Error('no path');
  return fitAgainstFacts(site, path, seen);
}

/** Silence of `lost` bytes both ways, while `proven` came back. */
function silent(lost: number, proven?: number): readonly FitSeen[] {
  const loss: LossSeen = { bytes: lost, by: 'silence' };
  const came = proven === undefined ? {} : { provenBytes: proven };
  return [
    { ...there, ...came, loss },
    { ...back, ...came, loss },
  ];
}

/** Loss of the first direction alone, as somebody said it. */
const told = (loss: LossSeen): readonly FitSeen[] => [
  { ...there, provenBytes: 1500, loss },
  { ...back, provenBytes: 1500 },
];

const unread = { nodes: { 'quay-sw': { unread: 'switch' } }, readings: { 'quay-sw': {} } } as const;

interface Row {
  readonly name: string;
  readonly site: PlottingSketch;
  readonly seen: readonly FitSeen[];
  readonly kind: FitReason['kind'];
  readonly at: readonly string[];
  readonly says: string;
  readonly remedy: string;
}

const rows: readonly Row[] = [
  {
    name: 'a switch port that is known to be small',
    site: { xg3: { mtuBytes: 1500 } },
    seen: silent(2000, 1500),
    kind: 'explains',
    at: ['quay-sw:xg3'],
    says: 'quay-sw:xg3 passes 1500 bytes: that is why 2000 bytes are lost in silence',
    remedy:
      'raise quay-sw:xg3 so that 9000 bytes pass, switches before hosts; then run the fit again',
  },
  {
    name: 'an MTU of 9000 on a switch that counts header and FCS: a packet of 8982, IEEE 802.3',
    site: { xg3: { mtuBytes: 9000 } },
    seen: silent(8986, 8982),
    kind: 'counts',
    at: ['quay-sw:xg3'],
    says: 'quay-sw:xg3: its MTU of 9000 seems to count the header and the FCS, 18 bytes, so that 8982 pass; 8982 came back and 8986 did not',
    remedy: 'set it to 9018 or more; or declare mtuCounts: { port: header-fcs } for its node',
  },
  {
    name: 'one that counts the header alone',
    site: { xg2: { mtuBytes: 9000 } },
    seen: silent(8996, 8986),
    kind: 'counts',
    at: ['quay-sw:xg2'],
    says: 'its MTU of 9000 seems to count the Ethernet header, 14 bytes, so that 8986 pass',
    remedy: 'set it to 9014 or more; or declare mtuCounts: { port: header } for its node',
  },
  {
    name: 'one that counts header, tag and FCS',
    site: { xg3: { mtuBytes: 9000 } },
    seen: silent(8982, 8978),
    kind: 'counts',
    at: ['quay-sw:xg3'],
    says: 'seems to count the header, a tag and the FCS, 22 bytes, so that 8978 pass',
    remedy: 'set it to 9022 or more; or declare mtuCounts: { port: header-fcs-tag } for its node',
  },
  {
    name: 'one that counts a tag, of which the intent has no word',
    site: { xg3: { mtuBytes: 9000 } },
    seen: silent(9000, 8996),
    kind: 'counts',
    at: ['quay-sw:xg3'],
    says: 'seems to count a tag, 4 bytes, so that 8996 pass',
    remedy: 'set it to 9004 or more',
  },
  {
    name: 'a host that counts more, where every other hop passes it for certain',
    site: {},
    seen: silent(9000, 8996),
    kind: 'counts',
    at: ['plot-1:desk', 'vault:eth4'],
    says: 'plot-1:desk, vault:eth4: its MTU of 9000 seems to count a tag',
    remedy: 'set it to 9004 or more',
  },
  {
    name: 'a switch that nobody reads, where no hop that is read explains it',
    site: unread,
    seen: silent(2000, 1500),
    kind: 'unread',
    at: ['quay-sw:xg2', 'quay-sw:xg3'],
    says: 'no hop that was read explains why 2000 bytes are lost; nobody reads quay-sw, which is known from the intent alone',
    remedy: 'look at quay-sw: its data sheet',
  },
  {
    name: 'a hop of which it is not known what it passes',
    site: { xg3: { mtuBytes: 9000 } },
    seen: silent(9000, 2000),
    kind: 'unknown',
    at: ['quay-sw:xg3'],
    says: 'no hop is known to be too small for 9000 bytes; what these pass is not known: quay-sw:xg3',
    remedy: 'look at them first',
  },
  {
    name: 'a lying agent: every hop says that it passes',
    site: {},
    seen: silent(2000, 1500),
    kind: 'contradicts',
    at: ['plot-1:desk', 'quay-sw:xg2', 'quay-sw:xg3', 'vault:eth4'],
    says: 'every hop of plotting says that 2000 bytes pass, and they do not',
    remedy: 'read the survey anew; then split the path',
  },
  {
    name: 'a hop that says less than what came through both ways',
    site: { xg3: { mtuBytes: 1500 } },
    seen: [
      { ...there, provenBytes: 9000 },
      { ...back, provenBytes: 9000 },
    ],
    kind: 'contradicts',
    at: ['quay-sw:xg3'],
    says: 'quay-sw:xg3 is said to pass at most 1500 bytes, and 9000 came through',
    remedy: 'read it anew; if it says the same, its number counts less than is thought',
  },
  {
    name: 'the sender itself',
    site: { desk: { mtuBytes: 1500 } },
    seen: told({ bytes: 9000, by: 'interface', mtuBytes: 1500, device: 'desk' }),
    kind: 'explains',
    at: ['plot-1:desk'],
    says: 'plot-1 itself sends no packet of 9000 bytes: its own interface plot-1:desk is too small; it passes 1500 bytes',
    remedy:
      'raise the MTU of plot-1:desk to 9000 or more, below its layers first; then run the fit again',
  },
  {
    name: 'the sender itself, of which the survey has more',
    site: {},
    seen: told({ bytes: 9000, by: 'interface', mtuBytes: 1500, device: 'desk' }),
    kind: 'explains',
    at: ['plot-1:desk'],
    says: 'plot-1 itself sends no packet of 9000 bytes',
    remedy: 'the survey has 9000 bytes for it, so it has changed since',
  },
  {
    name: 'a route of the sender',
    site: {},
    seen: told({ bytes: 9000, by: 'route', mtuBytes: 1500 }),
    kind: 'explains',
    at: ['plot-1'],
    says: 'a route of plot-1 has an MTU of its own, which passes 1500 bytes, though its interface takes more',
    remedy: 'see what set it on plot-1 (ip route get 198.18.20.2), and take it away',
  },
  {
    name: 'what a router said before: it is forgotten in ten minutes (Linux, mtu_expires 600 s)',
    site: {},
    seen: told({ bytes: 9000, by: 'learnt', mtuBytes: 1500 }),
    kind: 'explains',
    at: ['plot-1'],
    says: 'plot-1 keeps a path MTU that a router told it earlier, which passes 1500 bytes',
    remedy: 'it forgets that by itself within ten minutes',
  },
  {
    name: 'a router that nobody declared',
    site: {},
    seen: told({ bytes: 9000, by: 'router', mtuBytes: 1500, router: '198.18.99.1' }),
    kind: 'explains',
    at: [],
    says: 'the router 198.18.99.1 says that 9000 bytes are too big; it passes 1500 bytes',
    remedy: 'raise the MTU of its port towards vault so that 9000 bytes pass',
  },
  {
    name: 'a router of the intent, by an address that was read',
    site: {},
    seen: told({ bytes: 9000, by: 'router', mtuBytes: 1500, router: '198.18.20.2' }),
    kind: 'explains',
    at: ['vault'],
    says: 'the router vault (198.18.20.2) says that 9000 bytes are too big',
    remedy: 'so filter no ICMP there',
  },
];

describe('a fit against the facts', () => {
  it.each(rows)('$name', ({ site, seen, kind, at, says, remedy }) => {
    const found = reasons(site, seen);
    expect(found.map((reason) => [reason.kind, reason.at])).toEqual([[kind, at]]);
    expect(found[0]?.says).toContain(says);
    expect(found[0]?.remedy).toContain(remedy);
  });

  it('finds nothing where all passes and every hop says so', () => {
    expect(
      reasons({}, [
        { ...there, provenBytes: 9000 },
        { ...back, provenBytes: 9000 },
      ]),
    ).toEqual([]);
  });

  it('holds nothing against a hop that one way alone passed, or that nothing passed', () => {
    const small = { xg3: { mtuBytes: 1500 } };
    expect(reasons(small, [{ ...there, provenBytes: 9000 }, back])).toEqual([]);
    expect(reasons(small, [there, back])).toEqual([]);
    expect(reasons(small, [])).toEqual([]);
  });

  it('blames no hop for a loss that is smaller than what came back through it', () => {
    const found = reasons({ xg3: { mtuBytes: 1500 } }, silent(9000, 2000));
    expect(found.map(({ kind, at }) => [kind, at])).toEqual([
      ['unknown', ['quay-sw:xg3']],
      ['contradicts', ['quay-sw:xg3']],
    ]);
  });

  it('says what would let it, where nothing was read', () => {
    const site = { readings: { 'plot-1': {}, 'quay-sw': {}, vault: {} } };
    expect(reasons(site, silent(2000, 1500))[0]?.remedy).toContain('hopgauge survey --out FILE');
  });
});
