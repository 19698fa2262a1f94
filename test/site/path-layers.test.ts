import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Site } from '../../src/site/types.ts';
import { type LinkSketch, subjectIn } from './builders.ts';
import { plottingSite } from './plotting-site.ts';

/** The plotting path where vault stands on `ports`. */
function vaultSite(
  link: LinkSketch,
  ports: Readonly<Record<string, PortReadFacts>>,
  routes: Readonly<Record<string, string>> = {},
): Site {
  return plottingSite({ link, readings: { vault: { ports, routes } } });
}

function vaultHops(site: Site): unknown[] {
  return (site.paths[0]?.hops ?? [])
    .filter((hop) => hop.position === 'to')
    .map((hop) => [hop.port.id, hop.layer, hop.clearance.atMostBytes]);
}

const held = { addresses: ['198.18.20.2/24'] };
const none = { addresses: [] };
const untagged = { untagged: 'storage' };
const tagged = { tagged: ['storage'] };

describe('the layers of an end', () => {
  it('a bridge dragged down by another member is named, the member only in its facts', () => {
    const site = vaultSite(untagged, {
      eth4: { mtuBytes: 9000, ...none },
      tap0: { kind: 'virtual', mtuBytes: 1500, ...none },
      br0: { kind: 'bridge', mtuBytes: 1500, lowerPorts: ['eth4', 'tap0'], ...held },
    });
    expect(vaultHops(site)).toEqual([
      ['vault:eth4', false, 9000],
      ['vault:br0', true, 1500],
    ]);
    expect(site.paths[0]?.subject.facts['narrowestPort']).toBe('vault:br0');
    expect(subjectIn(site, 'ports', 'vault:br0').facts).toMatchObject({
      linked: false,
      virtual: true,
      addressed: true,
      declaredMtuBytes: 9000,
      carriesDeclaredMtu: false,
      smallestLayer: 'vault:br0',
      smallestLayerMtuBytes: 1500,
    });
    expect(site.ports.map((port) => port.id)).not.toContain('vault:tap0');
  });

  it('a VLAN interface left at 1500 on a tagged link', () => {
    const site = vaultSite(tagged, {
      eth4: { mtuBytes: 9000, ...none },
      'eth4.20': { kind: 'vlan', vlanId: 20, mtuBytes: 1500, lowerPorts: ['eth4'], ...held },
      'eth4.30': {
        kind: 'vlan',
        vlanId: 30,
        mtuBytes: 1400,
        lowerPorts: ['eth4'],
        addresses: ['198.18.30.2/24'],
      },
    });
    expect(vaultHops(site)).toEqual([
      ['vault:eth4', false, 9000],
      ['vault:eth4.20', true, 1500],
    ]);
    expect(subjectIn(site, 'segments', 'storage').facts['oddPorts']).toEqual(['vault:eth4.20']);
  });

  it('on an untagged link a VLAN interface is no part of the way', () => {
    const site = vaultSite(untagged, {
      eth4: { mtuBytes: 9000, ...held },
      'eth4.30': { kind: 'vlan', vlanId: 30, mtuBytes: 1500, lowerPorts: ['eth4'], ...none },
    });
    expect(vaultHops(site)).toEqual([['vault:eth4', false, 9000]]);
  });

  it('of several addressed layers the route tells which one is meant', () => {
    const link = { tagged: ['storage'] };
    const layer = (name: string, mtuBytes: number) => ({
      kind: 'virtual',
      mtuBytes,
      lowerPorts: ['eth4.20'],
      addresses: [`198.18.20.${name}/24`],
    });
    const ports = {
      eth4: { mtuBytes: 9000, ...none },
      'eth4.20': { kind: 'vlan', vlanId: 20, mtuBytes: 9000, lowerPorts: ['eth4'], ...none },
      mac0: layer('2', 9000),
      mac1: layer('3', 1500),
    };
    expect(vaultHops(vaultSite(link, ports, { '198.18.20.1': 'mac0' }))).toEqual([
      ['vault:eth4', false, 9000],
      ['vault:eth4.20', true, 9000],
      ['vault:mac0', true, 9000],
    ]);
    expect(vaultHops(vaultSite(link, ports)).at(-1)).toEqual(['vault:mac0', true, 9000]);
  });

  it('a ring of layers ends', () => {
    const site = vaultSite(untagged, {
      eth4: { mtuBytes: 9000, lowerPorts: ['br0'], ...none },
      br0: { kind: 'bridge', mtuBytes: 9000, lowerPorts: ['eth4'], ...held },
    });
    expect(vaultHops(site)).toEqual([
      ['vault:eth4', false, 9000],
      ['vault:br0', true, 9000],
    ]);
  });
});

describe('an aggregate', () => {
  const bonded = (members: Readonly<Record<string, PortReadFacts>>) =>
    plottingSite({
      intent: {
        links: {
          'plot-1:desk - quay-sw:xg2': { untagged: 'storage' },
          'vault:eth4 - quay-sw:xg3': {
            untagged: 'storage',
            lag: 'vault-up',
            run: [
              { kind: 'direct-attach', label: 'DA-3' },
              { kind: 'panel', label: 'B/12' },
            ],
          },
          'vault:eth5 - quay-sw:xg4': { untagged: 'storage', lag: 'vault-up' },
        },
      },
      readings: {
        'quay-sw': {
          ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 9216 }, xg4: { mtuBytes: 9216 } },
        },
        vault: {
          ports: {
            eth4: { mtuBytes: 9000, addresses: [], ...members['eth4'] },
            eth5: { mtuBytes: 9000, addresses: [], ...members['eth5'] },
            bond0: {
              kind: 'bond',
              mtuBytes: 9000,
              speedMbps: 20_000,
              lowerPorts: ['eth4', 'eth5'],
              addresses: ['198.18.20.2/24'],
            },
          },
          routes: { '198.18.20.1': 'bond0' },
        },
      },
    });

  it('has every member judged, and the ceiling of one', () => {
    const site = bonded({});
    const hops = site.paths[0]?.hops ?? [];
    expect(hops.map((hop) => [hop.port.id, hop.distance, hop.inUse])).toEqual([
      ['plot-1:desk', 0, true],
      ['quay-sw:xg2', 1, undefined],
      ['quay-sw:xg3', 1, undefined],
      ['quay-sw:xg4', 1, undefined],
      ['vault:eth4', 2, undefined],
      ['vault:eth5', 2, undefined],
      ['vault:bond0', 2, true],
    ]);
    // The run is told from the side it is walked from.
    expect(hops[2]?.runToNext.map((piece) => piece.label)).toEqual(['B/12', 'DA-3']);
    expect(hops[4]?.runToNext).toEqual([]);
    const { facts } = subjectIn(site, 'paths', 'plotting');
    expect(facts['slowestMbps']).toBe(10_000);
    expect(facts['ceilingMbps']).toBeCloseTo(9900.42, 2);
  });

  it('with one small member is too small', () => {
    const { facts } = subjectIn(bonded({ eth5: { mtuBytes: 1500 } }), 'paths', 'plotting');
    expect([facts['carriesDeclaredMtu'], facts['narrowestPort']]).toEqual([false, 'vault:eth5']);
  });

  it('tells which members are down, and by which link', () => {
    const { facts } = subjectIn(bonded({ eth5: { operUp: false } }), 'ports', 'vault:bond0');
    expect(facts).toMatchObject({
      membersDownPorts: ['vault:eth5'],
      membersDownLink: 'vault:eth5 - quay-sw:xg4',
    });
  });

  it('may be left by the aggregate as well as by its members', () => {
    const { facts } = subjectIn(bonded({}), 'directions', 'plotting: vault to plot-1');
    expect(facts).toMatchObject({
      leavesBy: 'vault:bond0',
      declaredPorts: ['vault:bond0', 'vault:eth4', 'vault:eth5'],
      leavesByDeclaredPort: true,
    });
  });
});
