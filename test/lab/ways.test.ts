import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { audit, brokenIn, causesIn } from './harness/audit.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Lab, settle, startLab, stopLab } from './harness/lab.ts';
import { planFor } from './harness/plan.ts';
import { bounce, dfPing, linkDown, setMtu, untilReached } from './harness/topology.ts';

let lab: Lab;
beforeAll(async () => {
  const options = { secondWay: true, thirdSwitch: true, router: true, hostBridgeOn: ['vault'] };
  lab = await startLab(planFor(options));
});
beforeEach(() => settle(lab));
afterAll(() => stopLab(lab));

/** As the lab's intent, with a second path that a router carries on. */
function withRoutedPath(draft: IntentDraft): void {
  draft.paths['archiving'] = { from: ['plot'], to: ['attic'], over: ['storage', 'upstairs'] };
}

describe('several ways, a bridge on a host, a router', () => {
  it('says nothing while every way carries what is declared', async () => {
    const { status, report } = await audit(lab, intentFor(lab, withRoutedPath));
    expect(brokenIn(report)).toEqual([]);
    expect(causesIn(report)).toEqual([]);
    expect(status).toBe(0);
    expect((await dfPing(lab, ['plot', 'attic'], 9000)).passes).toBe(true);
  });

  it.each([
    [
      'a second cable',
      ['quay', 'xg9'],
      [
        ['quay', 'xg8'],
        ['quay', 'xg10'],
      ],
    ],
    [
      'a third switch',
      ['cove', 'xg2'],
      [
        ['quay', 'xg8'],
        ['quay', 'xg9'],
      ],
    ],
  ] as const)('finds the small hop on %s before it is needed', async (_name, port, others) => {
    await settle(lab, () => setMtu(lab, port, 1500));
    const name = port.join(':');
    const { status, report } = await audit(lab, intentFor(lab));
    expect(brokenIn(report)).toEqual([
      'path-clearance plotting',
      `port-clearance ${name}`,
      `switch-carries-segment ${name}`,
    ]);
    expect(causesIn(report)).toEqual([`mtu ${name}: broken`]);
    expect(status).toBe(1);
    // Large packets pass today, and no longer once the other ways are gone.
    expect((await dfPing(lab, ['plot', 'vault'], 9000)).passes).toBe(true);
    for (const other of others) await linkDown(lab, other);
    await bounce(lab, port);
    await untilReached(lab, 'plot', 'vault');
    expect((await dfPing(lab, ['plot', 'vault'], 1500)).passes).toBe(true);
    expect((await dfPing(lab, ['plot', 'vault'], 9000)).passes).toBe(false);
  });

  it('names a bridge that is smaller than its member', async () => {
    await setMtu(lab, ['vault', 'br0'], 1500);
    const { status, report } = await audit(lab, intentFor(lab));
    expect(brokenIn(report)).toEqual([
      'layers-carry vault:br0',
      'path-clearance plotting',
      'port-clearance vault:br0',
      'segment-agrees storage',
    ]);
    expect(causesIn(report)).toEqual(['mtu vault:br0: broken']);
    expect(status).toBe(1);
    expect(report.paths[0]?.facts['narrowestPort']).toBe('vault:br0');
    expect((await dfPing(lab, ['vault', 'plot'], 1501)).passes).toBe(false);
    expect((await dfPing(lab, ['vault', 'plot'], 1500)).passes).toBe(true);
  });

  it('names a router that is small, and its pings say so', async () => {
    await setMtu(lab, ['gate', 'eth1'], 1500);
    const { status, report } = await audit(lab, intentFor(lab, withRoutedPath));
    expect(brokenIn(report)).toEqual([
      'path-clearance archiving',
      'port-clearance gate:eth1',
      'segment-agrees upstairs',
    ]);
    expect(causesIn(report)).toEqual(['mtu gate:eth1: broken']);
    expect(status).toBe(1);
    const archiving = report.paths.find(({ name }) => name === 'archiving');
    expect(archiving?.facts['narrowestPort']).toBe('gate:eth1');
    expect(archiving?.hops.find(({ narrowest }) => narrowest)?.position).toBe('router');
    expect((await dfPing(lab, ['plot', 'attic'], 1500)).passes).toBe(true);
    expect((await dfPing(lab, ['plot', 'attic'], 1501)).words).toMatch(/Frag needed|too long/);
  });
});
