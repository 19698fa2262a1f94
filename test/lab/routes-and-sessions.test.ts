import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, brokenIn, causesIn } from './harness/audit.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Lab, settle, startLab, stopLab } from './harness/lab.ts';
import { mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';
import { openSession } from './harness/session.ts';
import { dfPing, setMtu } from './harness/topology.ts';

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor());
});
afterAll(() => stopLab(lab));

describe('what a host tells of its way to the other', () => {
  afterAll(() => settle(lab));

  const there = 'plotting: plot to vault';
  const route = (words: string) =>
    mustInNs(lab.machine('plot'), ['ip', 'route', ...words.split(' ')]);

  it('a live session tells that the far end is small, which nobody reads', async () => {
    await settle(lab, () => setMtu(lab, ['vault', 'eth0'], 1500));
    const unread = (draft: IntentDraft) => {
      draft.nodes['vault'] = { unread: 'host', at: draft.nodes['vault']?.['at'] };
    };
    const quietly = await audit(lab, intentFor(lab, unread));
    expect(brokenIn(quietly.report)).toEqual([]);
    const close = await openSession(lab, ['plot', 'vault']);
    const { status, report } = await audit(lab, intentFor(lab, unread));
    await close();
    // The session is all that is known of that end, and it is enough to name it.
    expect(brokenIn(report)).toEqual([
      'path-clearance plotting',
      'port-clearance vault:eth0',
      `sessions-full-size ${there}`,
    ]);
    expect(causesIn(report)).toEqual(['mtu vault:eth0: broken']);
    expect(status).toBe(1);
    const [finding] = report.findings.filter(({ rule }) => rule === 'sessions-full-size');
    expect(finding?.what).toContain('use packets of 1500 bytes, declared 9000');
  });

  it('a session of full size says nothing', async () => {
    await settle(lab);
    const close = await openSession(lab, ['plot', 'vault']);
    const { status, report } = await audit(lab, intentFor(lab));
    await close();
    expect([status, brokenIn(report), causesIn(report)]).toEqual([0, [], []]);
  });

  it('a route carries an MTU of its own', async () => {
    await settle(lab);
    await route('add 198.18.20.12/32 dev eth0 mtu 1400');
    const { status, report } = await audit(lab, intentFor(lab));
    const large = await dfPing(lab, ['plot', 'vault'], 1401);
    await route('del 198.18.20.12/32 dev eth0');
    expect(brokenIn(report)).toEqual([`route-full-size ${there}`]);
    expect(status).toBe(1);
    expect(large.words).toMatch(/too long, mtu=1400/);
  });

  it('a route leads over the network of management', async () => {
    await settle(lab);
    await route('add 198.18.20.12/32 via 198.18.1.12 dev mgmt0');
    const { status, report } = await audit(lab, intentFor(lab));
    const large = await dfPing(lab, ['plot', 'vault'], 9000);
    await route('del 198.18.20.12/32 via 198.18.1.12 dev mgmt0');
    expect(brokenIn(report)).toContain(`leaves-as-declared ${there}`);
    expect(status).toBe(1);
    expect(large.words).toMatch(/too long, mtu=1500/);
  });
});
