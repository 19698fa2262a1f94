import { describe, expect, it } from 'vitest';
import { explainLink } from '../../src/diagnose/explain-link.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
import { cable, type LinkCase, linkSite, lists, modesTo } from './fault-site.ts';

function told(site: Site) {
  const [link] = site.links;
  if (link === undefined) throw new Error('the site has no link');
  return explainLink(site, link);
}

const slow = { speedMbps: 1000 };
const own = { supportedModes: modesTo(10_000), advertisedModes: modesTo(10_000) };

describe('what the facts cannot tell apart', () => {
  const rows: readonly (readonly [name: string, of: LinkCase, unknown: string])[] = [
    [
      'macOS has no partner list',
      { desk: { ...slow, ...own }, port: slow, host: { facts: { systemKind: 'macos' } } },
      'whether the cable or quay-sw:xg2 limits it: macOS does not tell what the partner offers',
    ],
    [
      'FreeBSD has no partner list',
      { desk: { ...slow, ...own }, port: slow, host: { facts: { systemKind: 'freebsd' } } },
      'whether the cable or quay-sw:xg2 limits it: FreeBSD does not tell what the partner offers',
    ],
    [
      '10GBASE-R negotiates nothing',
      {
        link: { speedMbps: 25_000, run: [cable('fibre', 'om4', 20)] },
        desk: { speedMbps: 10_000, phyText: '10GBASE-SR' },
        port: { speedMbps: 10_000 },
      },
      'whether the cable or quay-sw:xg2 limits it: 10GBASE-SR negotiates nothing, so there is no list',
    ],
    [
      'LLDP has two octets',
      {
        desk: { ...slow, ...lists(10_000, 10_000, 1000) },
        port: slow,
        host: { portSources: { partnerModes: 'LLDP-EXT-DOT3-MIB' } },
      },
      'whether the cable or quay-sw:xg2 limits it: LLDP has two octets for modes and none above 1 Gb/s',
    ],
    [
      'capability bits have no 2.5 Gb/s',
      {
        link: { speedMbps: 2500 },
        desk: { ...slow, ...lists(2500, 2500, 1000) },
        port: slow,
        host: { portSources: { partnerModes: 'MAU-MIB ifMauAutoNegCapReceivedBits' } },
      },
      'whether the cable or quay-sw:xg2 limits it: the capability bits have none for 2.5 Gb/s',
    ],
  ];
  it.each(rows)(
    '%s: says so, accuses nobody for certain, and leads with the swap test',
    (...row) => {
      const [, of, unknown] = row;
      const { causes, cannotTell, next, standing } = told(linkSite(of));
      expect(standing).toBe('fault');
      expect(causes.map(({ certainty }) => certainty)).not.toContain('is');
      expect(causes[0]?.kind).toBe('cable');
      expect(cannotTell).toContain(unknown);
      expect(next).toMatch(/^join plot-1:en7 and quay-sw:xg2 by one known-good /);
    },
  );

  it('leads with unequal ends, whatever list is missing', () => {
    const { causes } = told(
      linkSite({ desk: { ...slow, ...own }, port: {}, host: { facts: { systemKind: 'macos' } } }),
    );
    expect(causes[0]?.kind).toBe('hidden-device');
    expect(causes[0]?.certainty).toBe('is');
  });

  it('says nothing wrong of what was not read', () => {
    const intent = makeIntent({
      nodes: { 'plot-1': {}, 'quay-sw': {} },
      links: { 'plot-1:en7 - quay-sw:xg2': { speedMbps: 10_000 } },
    });
    const { standing, cannotTell, next } = told(buildSite(intent, undefined, { strict: false }));
    expect(standing).toBe('cannot-tell');
    expect(cannotTell).toHaveLength(2);
    expect(next).toBe('let both ends be read, and declare the speed');
  });

  it('wants to know what a link is meant to run at', () => {
    const intent = makeIntent({
      nodes: { 'plot-1': {}, 'quay-sw': {} },
      links: { 'plot-1:en7 - quay-sw:xg2': {} },
    });
    const survey = makeSurvey({
      'plot-1': { ports: { en7: {} } },
      'quay-sw': { ports: { xg2: {} } },
    });
    const { standing, cannotTell, next } = told(buildSite(intent, survey, { strict: false }));
    expect(standing).toBe('cannot-tell');
    expect(next).toBe('declare its speed');
    expect(cannotTell).toEqual(['what the link is meant to run at: declare its speed']);
  });

  it('takes nobody for healthy whose speed is not known', () => {
    const gap = { reason: 'denied', words: 'permission denied' } as const;
    const { standing, cannotTell } = told(
      linkSite({ desk: {}, deskOwnGaps: { speedMbps: gap }, port: {} }),
    );
    expect(standing).toBe('cannot-tell');
    expect(cannotTell).toEqual(['the speed of plot-1:en7: permission denied']);
  });
});
