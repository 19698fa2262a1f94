import { describe, expect, it } from 'vitest';
import { saltmarshHosts } from '../../mocks/saltmarsh/hosts.ts';
import { count, unfounded } from './claims.ts';
import { faultKinds, matrixText, noRuns } from './fault-kinds.ts';
import { commandsOf, hostFailingAt } from './host-faults.ts';
import { hostReader, soundOffice } from './office-nodes.ts';
import { auditOffice } from './office-run.ts';

// The n-th command of a host fails, for every n, in each way: all of the audit is run, and what it
// says is held to the run with which nothing was wrong.

const sound = await soundOffice();
const whole = await auditOffice(sound);

describe('one command of a host fails', () => {
  it('with nothing wrong, the office is as the demo has it', () => {
    expect(whole.exitStatus).toBe(1);
    expect(whole.verdicts.get('path-clearance path drawing')).toBe('broken');
    expect(whole.verdicts.get('path-clearance path plotting')).toBe('met');
    expect([...whole.verdicts.values()].filter((verdict) => verdict === 'undetermined')).toEqual(
      [],
    );
  });

  for (const [node, host] of Object.entries(saltmarshHosts)) {
    it(`${node}: nothing is claimed that was not read`, { timeout: 120_000 }, async () => {
      const commands = commandsOf(host);
      expect(commands).toBeGreaterThan(15);
      const counts = new Map(faultKinds.map((kind) => [kind, noRuns()]));
      for (const kind of faultKinds) {
        for (let nth = 0; nth < commands; nth += 1) {
          const nodes = new Map([...sound, [node, hostReader(hostFailingAt(host, nth, kind))]]);
          const disturbed = await auditOffice(nodes);
          expect(unfounded(whole, disturbed, kind), `${kind} at command ${nth}`).toEqual([]);
          expect(disturbed.exitStatus, `${kind} at command ${nth}`).not.toBe(0);
          count(counts.get(kind) ?? noRuns(), { whole, disturbed, node });
        }
      }
      console.log(matrixText(`${node}, ${commands} commands`, counts));
      // Else the faults did nothing.
      for (const [kind, { undetermined, silent }] of counts) {
        expect(undetermined + silent, kind).toBeGreaterThan(0);
      }
      expect(counts.get('reset')?.unread).toBe(commands);
    });
  }
});
