import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, brokenIn, causesIn } from './harness/audit.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Lab, startLab, stopLab } from './harness/lab.ts';
import { planFor } from './harness/plan.ts';
import { restoreTopology, setMtu } from './harness/topology.ts';

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor());
});
afterAll(() => stopLab(lab));

/** Nobody can ask the switches: they pass large frames on the owner's word. */
function unread(draft: IntentDraft): void {
  draft.nodes['quay'] = { unread: 'switch', frame: 9216 };
  draft.nodes['loft'] = { unread: 'switch', frame: 9216 };
}

function nightly(draft: IntentDraft): void {
  unread(draft);
  draft.paths['plotting'] = { ...draft.paths['plotting'], fit: 'nightly' };
  draft.policies = ['essential', 'jumbo', 'proven'];
}

describe('an audit that lets packets go over switches that nobody reads', () => {
  it('shows that they pass what is declared', async () => {
    await restoreTopology(lab);
    const { status, report } = await audit(lab, intentFor(lab, nightly));
    expect([status, brokenIn(report), causesIn(report)]).toEqual([0, [], []]);
    const proofs = report.paths[0]?.proofs ?? [];
    expect(proofs.map(({ from, to, provenMtuBytes }) => [from, to, provenMtuBytes])).toEqual([
      ['plot', 'vault', 9000],
      ['vault', 'plot', 9000],
    ]);
  });

  it('finds the small one, which no fact shows', async () => {
    await restoreTopology(lab);
    await setMtu(lab, ['quay', 'xg8'], 1500);
    const blind = await audit(lab, intentFor(lab, unread));
    expect([blind.status, brokenIn(blind.report)]).toEqual([0, []]);
    const { status, report } = await audit(lab, intentFor(lab, nightly));
    expect(status).toBe(1);
    expect(brokenIn(report)).toEqual([
      'proof-agrees-with-facts plotting: plot to vault',
      'proof-agrees-with-facts plotting: vault to plot',
      'proven-clearance plotting: plot to vault',
      'proven-clearance plotting: vault to plot',
    ]);
    expect(causesIn(report)).toEqual(['mtu plotting: broken']);
    // Sizes between are the fit's own business; the declared packet is lost, the standard one is not.
    for (const proof of report.paths[0]?.proofs ?? []) {
      expect(proof.provenMtuBytes).toBeGreaterThanOrEqual(1500);
      expect(proof.provenMtuBytes).toBeLessThanOrEqual(1504);
      expect(proof.provenLostBytes).toBeGreaterThan(1504);
    }
    expect(report.paths[0]?.proofs).toHaveLength(2);
  });
});
