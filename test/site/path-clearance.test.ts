import { describe, expect, it } from 'vitest';
import type { Subject } from '../../src/facts/subject.ts';
import { subjectIn } from './builders.ts';
import { type PlottingSketch, plottingSite } from './plotting-site.ts';

function path(sketch: PlottingSketch): Subject {
  return subjectIn(plottingSite(sketch), 'paths', 'plotting');
}

const clearanceFacts = [
  'mtuAtLeastBytes',
  'mtuAtMostBytes',
  'carriesDeclaredMtu',
  'narrowestPort',
] as const;

describe('the clearance of a path', () => {
  const rows: readonly (readonly [string, PlottingSketch, readonly unknown[]])[] = [
    ['9216 against 9000 is silent', {}, [9000, 9000, true, 'plot-1:desk']],
    [
      '1500 everywhere is silent where 1500 is declared',
      {
        mtuBytes: 1500,
        desk: { mtuBytes: 1500 },
        xg2: { mtuBytes: 1500 },
        xg3: { mtuBytes: 1500 },
        eth4: { mtuBytes: 1500 },
      },
      [1500, 1500, true, 'plot-1:desk'],
    ],
    ['a small near end', { desk: { mtuBytes: 1500 } }, [1500, 1500, false, 'plot-1:desk']],
    ['a small far end', { eth4: { mtuBytes: 1500 } }, [1500, 1500, false, 'vault:eth4']],
    ['a small middle', { xg3: { mtuBytes: 1500 } }, [1500, 1500, false, 'quay-sw:xg3']],
    [
      'a switch at exactly 9000 is not decided, and is the narrowest',
      { xg3: { mtuBytes: 9000 } },
      [8978, 9000, undefined, 'quay-sw:xg3'],
    ],
    [
      'unless the owner says what it counts',
      { xg3: { mtuBytes: 9000 }, nodes: { 'quay-sw': { mtuCounts: { port: 'payload' } } } },
      [9000, 9000, true, 'plot-1:desk'],
    ],
    [
      'counted as a frame, 9000 is too small by 18',
      { xg3: { mtuBytes: 9000 }, nodes: { 'quay-sw': { mtuCounts: { port: 'header-fcs' } } } },
      [8982, 8982, false, 'quay-sw:xg3'],
    ],
    [
      'tagged, a frame of 9018 may or may not have room for the tag',
      {
        link: { tagged: ['storage'] },
        xg3: { mtuBytes: 9018 },
        nodes: { 'quay-sw': { mtuCounts: { port: 'header-fcs' } } },
      },
      [8996, 9000, undefined, 'quay-sw:xg3'],
    ],
    [
      'untagged, a frame of 9018 is exact',
      { xg3: { mtuBytes: 9018 }, nodes: { 'quay-sw': { mtuCounts: { port: 'header-fcs' } } } },
      [9000, 9000, true, 'plot-1:desk'],
    ],
    [
      '1500 on all ports of a switch accuses nobody',
      { xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 } },
      [undefined, 9000, undefined, 'plot-1:desk'],
    ],
    [
      'unless the owner believes it',
      {
        xg2: { mtuBytes: 1500 },
        xg3: { mtuBytes: 1500 },
        nodes: { 'quay-sw': { believe: ['mtu'] } },
      },
      [1500, 1500, false, 'quay-sw:xg2'],
    ],
    [
      'an unread hop is taken on word',
      { nodes: { 'quay-sw': { unread: 'switch' } }, readings: {} },
      [9000, 9000, true, 'plot-1:desk'],
    ],
    [
      'an unread hop whose declared frame is too small is named',
      { nodes: { 'quay-sw': { unread: 'switch', frameBytes: 1518 } } },
      [1500, 1500, false, 'quay-sw:xg2'],
    ],
    [
      'strict takes no word',
      { nodes: { 'quay-sw': { unread: 'switch' } }, strict: true },
      [undefined, 9000, undefined, 'plot-1:desk'],
    ],
    [
      'an unread hop never hides one that is too small',
      { nodes: { 'quay-sw': { unread: 'switch' } }, strict: true, eth4: { mtuBytes: 1500 } },
      [undefined, 1500, false, 'vault:eth4'],
    ],
  ];
  it.each(rows)('%s', (_, sketch, expected) => {
    const { facts } = path(sketch);
    expect(clearanceFacts.map((name) => facts[name])).toEqual(expected);
  });

  it('says why it is not decided, with one cause for port and path', () => {
    const site = plottingSite({ xg3: { mtuBytes: 9000 } });
    const gap = {
      reason: 'doubtful',
      words:
        'it says 9000, and 9000 may or may not pass; what that counts is not known (9000 bytes pass where it counts the packet, 8986 where it counts the header, 8982 where it counts header and FCS, 8978 with a tag): set mtuCounts of quay-sw, or run a fit',
      cause: 'what the mtu counts on quay-sw',
    };
    expect(subjectIn(site, 'ports', 'quay-sw:xg3').own?.gaps['carriesDeclaredMtu']).toEqual(gap);
    expect(subjectIn(site, 'paths', 'plotting').own?.gaps['carriesDeclaredMtu']).toEqual({
      ...gap,
      words: `quay-sw:xg3: ${gap.words}`,
    });
  });

  it('tells the doubtful value, in the gap of every port of the switch and of the path', () => {
    const site = plottingSite({ xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 } });
    const gap = {
      reason: 'doubtful',
      words:
        'all 2 physical ports say 1500; some agents say that while larger frames pass: set believe: [mtu] if it is true, or run a fit',
      cause: 'mtu of quay-sw',
    };
    for (const id of ['quay-sw:xg2', 'quay-sw:xg3']) {
      const port = subjectIn(site, 'ports', id);
      expect(port.facts['mtuBytes']).toBeUndefined();
      expect(port.own?.gaps['mtuBytes']).toEqual(gap);
      expect(port.own?.gaps['passesAtMostBytes']).toEqual(gap);
    }
    const { facts, own } = subjectIn(site, 'paths', 'plotting');
    expect(facts['hopsUnknown']).toEqual(['quay-sw:xg2', 'quay-sw:xg3']);
    expect(own?.gaps['carriesDeclaredMtu']).toEqual({
      ...gap,
      words: `quay-sw:xg2, quay-sw:xg3: ${gap.words}`,
    });
  });

  it('lists what is taken on word, and expects nothing to be read of it', () => {
    const site = plottingSite({ nodes: { 'quay-sw': { unread: 'switch', frameBytes: 9216 } } });
    const { facts, own } = subjectIn(site, 'paths', 'plotting');
    expect(facts['hopsOnWord']).toEqual(['quay-sw:xg2', 'quay-sw:xg3']);
    expect(facts['hopsUnknown']).toEqual([]);
    expect(own?.gaps).toEqual({});
    const port = subjectIn(site, 'ports', 'quay-sw:xg2');
    expect(port.facts).toMatchObject({ unread: true, passesAtMostBytes: 9198 });
    expect({ ...port.own?.gaps, ...port.shared.gaps }).toEqual({});
  });

  it('names one cause for all ports of a node that could not be read', () => {
    const trouble = {
      kind: 'silent',
      seen: 'no answer from 198.18.0.9 in 3 tries',
      remedy: 'check that the agent is on',
    } as const;
    const site = plottingSite({ readings: { 'quay-sw': { trouble } } });
    const gap = { reason: 'unreachable', words: trouble.seen, cause: 'node quay-sw' };
    expect(subjectIn(site, 'ports', 'quay-sw:xg3').shared.gaps['mtuBytes']).toEqual(gap);
    expect(subjectIn(site, 'ports', 'quay-sw:xg3').own?.gaps['found']).toEqual(gap);
    expect(subjectIn(site, 'paths', 'plotting').own?.gaps['carriesDeclaredMtu']).toEqual({
      ...gap,
      words: `quay-sw:xg2, quay-sw:xg3: ${gap.words}`,
    });
    const node = subjectIn(site, 'nodes', 'quay-sw');
    expect(node.facts).toMatchObject({
      trouble: `snmp: ${trouble.seen}`,
      remedy: trouble.remedy,
    });
    expect(node.own?.gaps['read']).toEqual(gap);
  });
});

describe('the ceiling of a path', () => {
  it('is that of the slowest hop and the packet that passes for certain', () => {
    const { facts } = path({ xg3: { speedMbps: 2500 } });
    expect(facts['slowestPort']).toBe('quay-sw:xg3');
    // 2500 x 8948 / 9038, RFC 6349 4.1.1 with timestamps.
    expect(facts['ceilingMbps']).toBeCloseTo(2475.105, 3);
  });

  it('is not known where a speed is not', () => {
    const reading = { ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 9216 } } };
    const gap = { reason: 'unsupported', words: 'ifHighSpeed 0, ifSpeed 0: not known' } as const;
    const { facts, own } = path({
      readings: { 'quay-sw': { ...reading, portOwnGaps: { xg3: { speedMbps: gap } } } },
    });
    expect([facts['ceilingMbps'], facts['slowestMbps']]).toEqual([undefined, 10_000]);
    expect(own?.gaps['ceilingMbps']).toEqual({ ...gap, words: `quay-sw:xg3: ${gap.words}` });
  });

  it('takes no speed from what has no hardware, nor from a dead link', () => {
    const { facts } = path({
      desk: { kind: 'physical', driver: 'veth', speedMbps: 10 },
      xg2: { operUp: false, speedMbps: 100 },
    });
    expect(facts['slowestMbps']).toBe(10_000);
  });
});
