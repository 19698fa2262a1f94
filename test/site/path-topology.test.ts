import { describe, expect, it } from 'vitest';
import { buildSite } from '../../src/site/build-site.ts';
import { makeIntent, makeSurvey, subjectIn } from './builders.ts';
import { plottingSite } from './plotting-site.ts';

describe('two ways through the middle', () => {
  const intent = makeIntent({
    nodes: { 'plot-1': {}, 'loft-sw': {}, 'quay-sw': {}, vault: {}, 'hall-sw': {}, nas: {} },
    segments: { storage: { mtuBytes: 9000 } },
    links: {
      'plot-1:desk - loft-sw:1': { untagged: 'storage' },
      'loft-sw:7 - quay-sw:7': { untagged: 'storage' },
      'loft-sw:8 - quay-sw:8': { untagged: 'storage' },
      'quay-sw:1 - vault:eth4': { untagged: 'storage' },
      'quay-sw:2 - hall-sw:1': { untagged: 'storage' },
      // A host with two links is no way through.
      'loft-sw:3 - nas:a': { untagged: 'storage' },
      'quay-sw:3 - nas:b': { untagged: 'storage' },
    },
    paths: { plotting: { from: ['plot-1'], to: ['vault'], over: ['storage'] } },
  });
  const big = { mtuBytes: 9216 };
  const survey = makeSurvey({
    'plot-1': { ports: { desk: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] } } },
    'loft-sw': { ports: { 1: big, 3: big, 7: big, 8: big } },
    'quay-sw': { ports: { 1: big, 2: big, 3: big, 7: big, 8: { mtuBytes: 1500 } } },
    vault: { ports: { eth4: { mtuBytes: 9000, addresses: ['198.18.20.2/24'] } } },
    'hall-sw': { ports: { 1: { mtuBytes: 1500 }, 2: big } },
    nas: { ports: { a: { mtuBytes: 1500 }, b: { mtuBytes: 1500 } } },
  });
  const site = buildSite(intent, survey, { strict: false });

  it('judges both, and neither dead ends nor hosts with two links', () => {
    expect(site.paths[0]?.hops.map((hop) => [hop.port.id, hop.distance])).toEqual([
      ['plot-1:desk', 0],
      ['loft-sw:1', 1],
      ['loft-sw:7', 1],
      ['loft-sw:8', 1],
      ['quay-sw:7', 2],
      ['quay-sw:8', 2],
      ['quay-sw:1', 2],
      ['vault:eth4', 3],
    ]);
  });

  it('is too small where one of the two is', () => {
    const { facts } = subjectIn(site, 'paths', 'plotting');
    expect([facts['carriesDeclaredMtu'], facts['narrowestPort']]).toEqual([false, 'quay-sw:8']);
  });
});

describe('ends that the links do not join', () => {
  it('are said not to be connected, and nothing of the path is known', () => {
    const site = plottingSite({
      intent: { links: { 'plot-1:desk - quay-sw:xg2': { untagged: 'storage' } } },
    });
    const { facts, own } = subjectIn(site, 'paths', 'plotting');
    expect(facts).toMatchObject({ connected: false, hopsUnknown: [], hopsOnWord: [] });
    const gap = {
      reason: 'unasked',
      words: 'plotting: the declared links do not join plot-1 and vault',
      cause: 'path plotting is not joined',
    };
    for (const name of ['mtuAtLeastBytes', 'mtuAtMostBytes', 'carriesDeclaredMtu', 'ceilingMbps'])
      expect([name, facts[name], own?.gaps[name]]).toEqual([name, undefined, gap]);
  });

  it('are not joined over a segment that a link does not carry', () => {
    const site = plottingSite({
      intent: {
        segments: { storage: { mtuBytes: 9000 }, office: {} },
        links: {
          'plot-1:desk - quay-sw:xg2': { untagged: 'storage' },
          'quay-sw:xg3 - vault:eth4': { untagged: 'office' },
        },
      },
    });
    expect(subjectIn(site, 'paths', 'plotting').facts['connected']).toBe(false);
  });

  it('are joined by links that name no segment', () => {
    const site = plottingSite({ link: {} });
    expect(subjectIn(site, 'paths', 'plotting').facts).toMatchObject({
      connected: true,
      carriesDeclaredMtu: true,
    });
  });
});

describe('the smallest intent: two nodes and a path', () => {
  const intent = makeIntent({
    nodes: { 'plot-1': { at: '198.18.20.1' }, vault: { at: '198.18.20.2' } },
    paths: { plotting: { from: ['plot-1'], to: ['vault'], mtuBytes: 9000 } },
  });
  const ports = {
    en0: { mtuBytes: 1500, addresses: ['198.18.1.1/24'] },
    en7: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] },
  };
  const vault = {
    ports: {
      eth4: { mtuBytes: 9000, addresses: [] },
      eth5: { mtuBytes: 1500, addresses: [] },
      bond0: {
        kind: 'bond',
        mtuBytes: 9000,
        lowerPorts: ['eth4', 'eth5'],
        addresses: ['198.18.20.2/24'],
      },
    },
  };

  it('judges the ports by which the routes leave, with what they are built on', () => {
    const survey = makeSurvey({ 'plot-1': { ports, routes: { '198.18.20.2': 'en7' } }, vault });
    const site = buildSite(intent, survey, { strict: false });
    expect(site.paths[0]?.hops.map((hop) => [hop.port.id, hop.position, hop.layer])).toEqual([
      ['plot-1:en7', 'from', false],
      ['vault:eth5', 'to', false],
      ['vault:eth4', 'to', false],
      ['vault:bond0', 'to', true],
    ]);
    expect(subjectIn(site, 'paths', 'plotting').facts).toMatchObject({
      connected: true,
      carriesDeclaredMtu: false,
      narrowestPort: 'vault:eth5',
    });
    expect(site.ports.map((port) => port.id)).toEqual([
      'plot-1:en7',
      'vault:bond0',
      'vault:eth4',
      'vault:eth5',
    ]);
    const direction = subjectIn(site, 'directions', 'plotting: plot-1 to vault');
    expect(direction.facts).toMatchObject({ leavesBy: 'plot-1:en7', declaredPorts: [] });
    expect('leavesByDeclaredPort' in direction.facts).toBe(false);
    expect('leavesByDeclaredPort' in (direction.own?.gaps ?? {})).toBe(false);
  });

  it('looks a route up in the table where none was asked for', () => {
    const routeTable = [
      { prefix: '0.0.0.0/0', device: 'en0' },
      { prefix: '198.18.20.0/24', device: 'en7', mtuBytes: 1500 },
    ];
    const survey = makeSurvey({ 'plot-1': { ports, routeTable }, vault });
    const site = buildSite(intent, survey, { strict: false });
    expect(site.paths[0]?.hops[0]?.port.id).toBe('plot-1:en7');
    expect(subjectIn(site, 'directions', 'plotting: plot-1 to vault').facts).toMatchObject({
      toAddress: '198.18.20.2',
      routeMtuBytes: 1500,
    });
  });

  it('knows nothing of an end that could not be read', () => {
    const trouble = { kind: 'no-answer', seen: 'no answer in 10 s', remedy: 'wake it' } as const;
    const survey = makeSurvey({ 'plot-1': { trouble }, vault });
    const site = buildSite(intent, survey, { strict: false });
    const { facts, own } = subjectIn(site, 'paths', 'plotting');
    expect(facts['hopsUnknown']).toEqual(['plot-1']);
    expect(facts['carriesDeclaredMtu']).toBe(false);
    expect(own?.gaps['mtuAtLeastBytes']).toEqual({
      reason: 'unreachable',
      words: 'plot-1: no answer in 10 s',
      cause: 'node plot-1',
    });
  });
});

describe('pairs of ends', () => {
  it('have ids of their own, and the same two ends are one pair', () => {
    const site = plottingSite({
      intent: {
        paths: {
          all: { from: ['plot-1', 'vault', 'quay-sw'], to: ['vault', 'plot-1'], over: ['storage'] },
        },
      },
    });
    expect(site.paths.map((path) => path.id)).toEqual([
      'all (plot-1 to vault)',
      'all (quay-sw to plot-1)',
      'all (quay-sw to vault)',
    ]);
    expect(site.directions.map((direction) => direction.id)).toEqual([
      'all: plot-1 to vault',
      'all: vault to plot-1',
      'all: quay-sw to plot-1',
      'all: plot-1 to quay-sw',
      'all: quay-sw to vault',
      'all: vault to quay-sw',
    ]);
  });

  it('may end at a switch', () => {
    const site = plottingSite({
      intent: { paths: { up: { from: ['quay-sw'], to: ['vault'], over: ['storage'] } } },
    });
    expect(site.paths[0]?.hops.map((hop) => [hop.port.id, hop.position])).toEqual([
      ['quay-sw:xg3', 'from'],
      ['vault:eth4', 'to'],
    ]);
  });
});
