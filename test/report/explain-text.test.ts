import { describe, expect, it } from 'vitest';
import { explainTarget, type TargetExplanation } from '../../src/diagnose/explain-target.ts';
import { findTarget } from '../../src/diagnose/find-target.ts';
import { explainText } from '../../src/report/explain-text.ts';
import { columnsOf } from '../../src/report/layout.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import { faultRows } from '../diagnose/fault-rows.ts';
import { cable, deskLink, lagSite, linkSite, lists } from '../diagnose/fault-site.ts';
import { makeIntent } from '../site/builders.ts';
import { expectGolden } from './golden.ts';

function explained(site: Site, name: string): TargetExplanation {
  const found = findTarget(site, name);
  if (!found.ok) throw new Error(`no target ${name}`);
  return explainTarget(site, found.target);
}

const look = { width: 80, colour: false };

/** The drawing table with a cord of Cat5e in its run, while plots are being written. */
const oldCord = linkSite({
  link: {
    run: [
      cable('cord', 'cat6', 2),
      { kind: 'jack', label: 'L-03', text: 'jack L-03' },
      cable('wall', 'cat6', 18),
      { kind: 'panel', label: 'D/3', text: 'panel D/3' },
      cable('cord', 'cat5e', 5),
    ],
  },
  desk: {
    ...lists(10_000),
    speedMbps: 1000,
    addresses: ['198.18.20.11/24'],
    busText: 'PCIe 8.0 GT/s x4',
    busMbps: 31_508,
  },
  port: { ...lists(10_000), speedMbps: 1000 },
  host: {
    sessions: [{ local: '198.18.20.11', remote: '198.18.20.2', count: 2 }],
    mounts: [{ server: '198.18.20.2', kind: 'nfs', at: '/plots' }],
  },
});

/** A fibre that gets too little light, and errors with it. */
const weakLight =
  faultRows.find(({ fault }) => fault === 'light that is too weak')?.sick ?? oldCord;
/** A Mac that runs slow and does not tell what its partner offers. */
const silentMac = linkSite({
  desk: { speedMbps: 1000, supportedModes: ['10Gbase-T full-duplex', '1000baseT full-duplex'] },
  port: { speedMbps: 1000 },
  host: { facts: { systemKind: 'macos' } },
});

describe('the text of an explanation', () => {
  it.each([
    ['explain-cord.txt', oldCord],
    ['explain-light.txt', weakLight],
    ['explain-silent-partner.txt', silentMac],
  ])('reads as %s at 80 columns', (name, site) => {
    expectGolden(name, explainText(explained(site, deskLink), look));
  });

  it.each(faultRows)('$fault: keeps to any width, and says nothing undefined', (row) => {
    for (const width of [20, 40, 63, 64, 80, 120, 500]) {
      for (const site of [row.sick, row.healthy]) {
        const text = explainText(explained(site, row.target), { width, colour: false });
        const widest = Math.max(...text.split('\n').map(columnsOf));
        expect(widest).toBeLessThanOrEqual(Math.min(120, Math.max(40, width)));
        expect(text).not.toMatch(/undefined|NaN|Infinity|\[object/);
        expect(text).not.toMatch(/[^\n]\n\n\n/);
      }
    }
  });

  it('says in one line what is well of several links', () => {
    expect(explainText(explained(lagSite({}), 'vault'), look)).toBe(`\
nothing wrong: vault:eth4 - quay-sw:xg3 runs at 10 Gb/s full duplex; 10 Gb/s is
declared (hopgauge.yaml:1)
nothing wrong: vault:eth5 - quay-sw:xg4 runs at 10 Gb/s full duplex; 10 Gb/s is
declared (hopgauge.yaml:1)
`);
  });

  it('does not call a path well whose link is not', () => {
    const site = lagSite({ eth5: { speedMbps: 1000 } });
    const [path] = explained(site, 'plotting').parts;
    expect(path?.standing).toBe('fault');
    expect(path?.says).toContain('see vault:eth5 - quay-sw:xg4');
  });

  it('tells that nothing is declared', () => {
    const alone = buildSite(makeIntent({ nodes: { shed: {} } }), undefined, { strict: false });
    expect(explainText(explained(alone, 'shed'), look)).toBe(
      'no link of the intent belongs to the node shed: nothing to explain\n',
    );
  });

  it('colours only where it is asked to', () => {
    const plain = explainText(explained(oldCord, deskLink), look);
    const coloured = explainText(explained(oldCord, deskLink), { width: 80, colour: true });
    expect(plain).not.toContain('\u001b');
    expect(coloured.replaceAll(/\u001b\[\d+m/g, '')).toBe(plain);
    expect(coloured).toContain('\u001b[');
  });
});
