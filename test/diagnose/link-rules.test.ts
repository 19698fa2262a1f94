import { describe, expect, it } from 'vitest';
import { linkRules } from '../../src/diagnose/link-rules.ts';
import { viewLink } from '../../src/diagnose/link-view.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import { siteOf } from '../faults/described.ts';
import { neighbourRows } from '../faults/neighbour-rows.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
import { faultRows } from './fault-rows.ts';
import { cable, downGaps, type LinkCase, linkSite, lists, module, noLinkAt } from './fault-site.ts';

/** The rules that find something on a site, and what kinds of causes they find. */
function found(site: Site): Readonly<Record<string, readonly string[]>> {
  const all = site.links.flatMap((link) => {
    const view = viewLink(site, link);
    return Object.entries(linkRules).map(([name, rule]) => [name, rule(view)] as const);
  });
  return Object.fromEntries(
    all.flatMap(([name, drafts]) =>
      drafts.length === 0 ? [] : [[name, drafts.map((d) => d.kind)]],
    ),
  );
}

/** Rules that no fault of the trade's catalogue needs, each with a site of its own. */
const others: readonly (readonly [rule: string, kind: string, of: LinkCase])[] = [
  ['switchedOff', 'switched-off', { desk: { ...noLinkAt, adminUp: false }, deskOwnGaps: downGaps }],
  [
    'modulesRefused',
    'module',
    { link: { run: [module('10GBASE-SR'), cable('fibre', 'om3', 9), module('10GBASE-LR')] } },
  ],
  ['unratedRun', 'run', { link: { run: [cable('wall', 'cat5e', 60)] } }],
  ['sentLight', 'optics', { desk: { txPowerDbm: -9, txPowerLowDbm: -7.3, txPowerHighDbm: 0 } }],
  [
    'offer',
    'offer',
    { desk: { ...lists(10_000, 10_000, 1000), speedMbps: 1000 }, port: { speedMbps: 1000 } },
  ],
  ['perhapsCable', 'cable', { desk: { speedMbps: 1000 }, port: { speedMbps: 1000 } }],
];

describe('the rules', () => {
  it.each(others)('%s finds %s', (rule, kind, of) => {
    expect(found(linkSite(of))[rule]).toContain(kind);
  });

  it('excuse a link whose end may be asleep', () => {
    const intent = makeIntent({
      nodes: { 'plot-1': { sleeps: true }, 'quay-sw': {} },
      links: { 'plot-1:en7 - quay-sw:xg2': { speedMbps: 10_000 } },
    });
    const survey = makeSurvey({ 'quay-sw': { ports: { xg2: { operUp: false } } } });
    expect(found(buildSite(intent, survey, { strict: false }))).toEqual({ asleep: ['asleep'] });
  });

  it('find a cable between two hosts whose ends have no common subnet', () => {
    const intent = makeIntent({
      nodes: { 'plot-1': {}, vault: {} },
      links: { 'plot-1:en7 - vault:eth4': {} },
    });
    const at = (address: string) => ({ addresses: [address] });
    const joined = (server: string) =>
      found(
        buildSite(
          intent,
          makeSurvey({
            'plot-1': { ports: { en7: at('198.18.20.1/24') } },
            vault: { ports: { eth4: at(server) } },
          }),
          { strict: false },
        ),
      );
    expect(joined('198.18.99.2/24')).toEqual({ noCommonSubnet: ['no-common-subnet'] });
    expect(joined('198.18.20.2/24')).toEqual({});
  });

  it('are each tried by a fault of the catalogue, or above', async () => {
    const sites = [
      ...faultRows.map(({ sick }) => sick),
      ...(await Promise.all(neighbourRows.map(({ sick }) => siteOf(sick)))),
    ];
    const tried = new Set(sites.flatMap((sick) => Object.keys(found(sick))));
    const rest = new Set([...others.map(([rule]) => rule), 'asleep', 'noCommonSubnet']);
    expect(Object.keys(linkRules).filter((rule) => !tried.has(rule) && !rest.has(rule))).toEqual(
      [],
    );
  });

  it('find nothing on a healthy link with a run, lists and a bus', () => {
    const port = { ...lists(10_000), busText: 'PCIe 8.0 GT/s x4', eeeActive: true };
    expect(found(linkSite({ desk: port, port }))).toEqual({});
  });
});
