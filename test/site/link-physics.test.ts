import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { gapOf } from '../../src/facts/subject.ts';
import type { Site } from '../../src/site/types.ts';
import { type LinkSketch, subjectIn } from './builders.ts';
import { type PlottingSketch, plottingSite } from './plotting-site.ts';

const id = 'plot-1:desk - quay-sw:xg2';
const modes = (...speeds: readonly number[]) => speeds.map((speed) => `${speed}baseT/Full`);
const all = modes(100, 1000, 10_000);
const offersAll = { supportedModes: all, advertisedModes: all, partnerModes: all };
const tenGigabit: LinkSketch = { untagged: 'storage', speedMbps: 10_000 };

const linkOf = (site: Site) => subjectIn(site, 'links', id);

interface Sketch {
  readonly link?: LinkSketch;
  readonly desk?: PortReadFacts;
  readonly xg2?: PortReadFacts;
  readonly rest?: PlottingSketch;
}

function link({ link: declared = tenGigabit, desk = {}, xg2 = {}, rest = {} }: Sketch) {
  return linkOf(
    plottingSite({
      intent: { links: { [id]: declared, 'quay-sw:xg3 - vault:eth4': tenGigabit } },
      desk,
      xg2,
      ...rest,
    }),
  );
}

const g1 = { speedMbps: 1000 } as const;
const oldCord = {
  kind: 'cord',
  category: 'cat5e',
  lengthMetres: 5,
  text: 'cord cat5e 5 m',
} as const;

// What limits the link, with the words for it.
const limits: readonly (readonly [name: string, sketch: Sketch, kind: string, words?: string])[] = [
  ['nothing', {}, 'nothing'],
  ['more than declared', { link: { speedMbps: 1000 } }, 'nothing'],
  ['a downshift', { desk: { ...g1, ...offersAll }, xg2: g1 }, 'cable', 'cable or connector'],
  [
    'a downshift over an old cord',
    { link: { ...tenGigabit, run: [oldCord] }, desk: { ...g1, ...offersAll }, xg2: g1 },
    'run',
    'run',
  ],
  [
    'a downshift below what the old cord carries',
    {
      link: { ...tenGigabit, run: [oldCord] },
      desk: { speedMbps: 100, ...offersAll },
      xg2: { speedMbps: 100 },
    },
    'cable',
    'cable or connector',
  ],
  [
    'an old cord, and no list that tells',
    { link: { ...tenGigabit, run: [oldCord] }, desk: g1, xg2: g1 },
    'run',
    'run',
  ],
  [
    'a far end that is set to less',
    {
      desk: { ...g1, ...offersAll, partnerModes: modes(1000) },
      xg2: { ...g1, supportedModes: all, advertisedModes: modes(1000) },
    },
    'setting',
    'configuration of quay-sw:xg2',
  ],
  [
    'a near end that is fixed',
    { desk: { ...g1, supportedModes: all, autoNegotiation: false }, xg2: g1 },
    'setting',
    'configuration of plot-1:desk',
  ],
  [
    'an end that cannot',
    { desk: g1, xg2: { ...g1, supportedModes: modes(100, 1000) } },
    'capability',
    'capability of quay-sw:xg2',
  ],
  [
    'an end that is fixed at all that it can',
    { desk: { ...g1, autoNegotiation: false, supportedModes: modes(1000) }, xg2: g1 },
    'capability',
    'capability of plot-1:desk',
  ],
  ['unequal ends', { desk: g1 }, 'ends', 'unequal ends'],
  [
    'a duplex mismatch',
    {
      link: { speedMbps: 100 },
      desk: { speedMbps: 100, duplex: 'half' },
      xg2: { speedMbps: 100 },
    },
    'duplex',
    'duplex mismatch',
  ],
  ['a bus', { desk: { busText: 'PCIe 8.0 GT/s x1' } }, 'bus', 'bus of plot-1:desk'],
  ['slow, and no list', { desk: g1, xg2: g1 }, 'unknown'],
  [
    'a partner that is heard to offer less than it says',
    {
      desk: { ...g1, ...offersAll, partnerModes: modes(1000) },
      xg2: { ...g1, ...offersAll },
    },
    'unknown',
  ],
  ['no link', { desk: { operUp: false }, xg2: { operUp: false } }, 'unknown'],
  [
    'a virtual end',
    { desk: { kind: 'virtual', ...g1 }, xg2: { kind: 'virtual', ...g1 } },
    'unknown',
  ],
];

describe('what limits a link', () => {
  it.each(limits.map((row) => [row[0], row] as const))('%s', (_name, [, sketch, kind, words]) => {
    const subject = link(sketch);
    expect(subject.facts['limitKind']).toBe(kind);
    expect(subject.facts['limitedBy']).toBe(words);
    // What cannot be told says why; where nothing limits it there is nothing to say.
    expect(gapOf(subject, 'limitedBy') !== undefined).toBe(kind === 'unknown');
  });

  it('waits for a node that gives no answer under its cause', () => {
    const trouble = { kind: 'silent', seen: 'no answer', remedy: 'look' } as const;
    const subject = link({
      rest: { readings: { 'plot-1': { trouble }, 'quay-sw': { trouble } } },
    });
    expect(gapOf(subject, 'limitedBy')).toEqual({
      reason: 'unreachable',
      words: 'plot-1:desk: no answer',
      cause: 'node plot-1',
    });
  });
});

describe('what a source of modes cannot say', () => {
  // IEEE 802.1AB Annex F (LLDP): two octets of IANAifMauAutoNegCapBits, of which b10GbaseT is the 17th.
  it.each([
    ['LLDP-EXT-DOT3-MIB', 'unknown'],
    ['ethtool Link partner advertised link modes', 'setting'],
  ])('a partner that is heard to offer 1 Gb/s by %s', (partnerModes, kind) => {
    const readings = {
      'plot-1': {
        portSources: { partnerModes },
        ports: {
          desk: { ...g1, supportedModes: all, advertisedModes: all, partnerModes: modes(1000) },
        },
      },
    };
    const subject = link({ xg2: { ...g1, supportedModes: all }, rest: { readings } });
    expect(subject.facts['limitKind']).toBe(kind);
  });
});

describe('the modes of a link', () => {
  it('are what both ends can and what both offer', () => {
    const { facts } = link({
      link: {},
      desk: { ...offersAll, partnerModes: modes(100, 1000) },
      xg2: { supportedModes: modes(100, 1000, 2500) },
    });
    expect(facts).toMatchObject({
      ratedMbps: 2500,
      capableMbps: 2500,
      capableEnd: 'quay-sw:xg2',
      commonMbps: 1000,
    });
  });

  it('take the declared speed before what the ends can', () => {
    expect(
      link({ link: { speedMbps: 1000 }, desk: offersAll, xg2: offersAll }).facts,
    ).toMatchObject({ ratedMbps: 1000, capableMbps: 10_000, commonMbps: 10_000 });
  });

  it('are absent where nobody tells', () => {
    const { facts } = link({ link: {} });
    for (const name of ['ratedMbps', 'capableMbps', 'capableEnd', 'commonMbps'])
      expect([name, facts[name]]).toEqual([name, undefined]);
  });
});

describe('the run of a link', () => {
  const wall = {
    kind: 'wall',
    category: 'cat6',
    lengthMetres: 50,
    text: 'wall cat6 50 m',
  } as const;
  const slow = { desk: g1, xg2: g1 };

  it('is held to the declared speed', () => {
    expect(link({ link: { ...tenGigabit, run: [oldCord] }, ...slow }).facts).toMatchObject({
      runFits: false,
      runsAsDeclared: false,
      runReachMbps: 1000,
      runLengthMetres: 5,
      runLimitText: 'cord cat5e 5 m: 10GBASE-T is not specified for cat5e',
    });
  });

  it('is in doubt where it may carry it, with the condition', () => {
    const subject = link({ link: { ...tenGigabit, run: [wall] }, ...slow });
    expect(subject.facts['runFits']).toBeUndefined();
    expect(gapOf(subject, 'runFits')).toMatchObject({ reason: 'doubtful', cause: `link ${id}` });
    expect(gapOf(subject, 'runFits')?.words).toContain('wall cat6 50 m');
  });

  it('has doubts, each in full', () => {
    const run = [{ kind: 'cord', category: 'cat6a', text: 'cord cat6a' }] as const;
    const { facts } = link({ link: { ...tenGigabit, run } });
    expect(facts['runDoubts']).toEqual(['cord cat6a: its length is not declared']);
  });

  it('is in no doubt where it may carry it and is seen to', () => {
    const subject = link({ link: { ...tenGigabit, run: [wall] } });
    expect([subject.facts['runFits'], gapOf(subject, 'runFits')]).toEqual([undefined, undefined]);
  });

  it.each([
    ['no run', { link: tenGigabit }],
    ['no declared speed', { link: { run: [oldCord] } }],
    ['a run that does not tell', { link: { ...tenGigabit, run: [{ kind: 'jack' }] } }],
  ] as const)('claims nothing of %s', (_name, sketch) => {
    const subject = link(sketch);
    expect([subject.facts['runFits'], gapOf(subject, 'runFits')]).toEqual([undefined, undefined]);
  });

  it.each([
    ['the same medium', { phyText: '10GBASE-T' }, true],
    ['another medium', { phyText: '10GBASE-SR' }, false],
    ['words that name none', { phyText: '10GBASE-R', moduleText: 'of its own' }, undefined],
  ] as const)('compares its medium with that of the ends: %s', (_name, desk, same) => {
    const { facts } = link({ link: { ...tenGigabit, run: [wall] }, desk });
    expect(facts['mediumAsDeclared']).toBe(same);
    expect(facts['mediumSaid']).toEqual(
      same === undefined ? undefined : [`plot-1:desk ${desk.phyText}`],
    );
  });
});
