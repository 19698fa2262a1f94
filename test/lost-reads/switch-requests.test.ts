import { describe, expect, it } from 'vitest';
import type { WrongReply } from '../../mocks/snmp-agent/vices.ts';
import { count, unfounded } from './claims.ts';
import { type FaultKind, faultKinds, matrixText, noRuns } from './fault-kinds.ts';
import { officeSwitches, readSwitch, soundOffice } from './office-nodes.ts';
import { auditOffice } from './office-run.ts';

// The n-th request to a switch fails, for every n, in each way, over real sockets on loopback.

const wrong: Readonly<Record<FaultKind, WrongReply>> = {
  refused: 'refused',
  reset: 'gone',
  hang: 'silent',
  garbage: 'garbage',
  truncation: 'cut',
  'wrong type': 'wrong-type',
};
/** A late reply only means that less is read, which is no fault here. */
const quick = { replyTimeoutMs: 60, retries: 1, backoff: 1 };

const sound = await soundOffice();
const whole = await auditOffice(sound);

describe('one request to a switch fails', () => {
  for (const [node, described] of Object.entries(officeSwitches)) {
    it(`${node}: nothing is claimed that was not read`, { timeout: 180_000 }, async () => {
      const { requests } = await readSwitch(described);
      expect(requests).toBeGreaterThan(10);
      const counts = new Map(faultKinds.map((kind) => [kind, noRuns()]));
      for (const kind of faultKinds) {
        for (let nth = 0; nth < requests; nth += 1) {
          const vice = { wrongAt: nth, how: wrong[kind] };
          const { outcome } = await readSwitch(described, vice, quick);
          const disturbed = await auditOffice(new Map([...sound, [node, async () => outcome]]));
          expect(unfounded(whole, disturbed, kind), `${kind} at request ${nth}`).toEqual([]);
          expect(disturbed.exitStatus, `${kind} at request ${nth}`).not.toBe(0);
          count(counts.get(kind) ?? noRuns(), { whole, disturbed, node });
        }
      }
      console.log(matrixText(`${node}, ${requests} requests`, counts));
      for (const [kind, { undetermined, silent }] of counts) {
        // A refused request is asked again column by column, and loses nothing where that is answered.
        if (kind === 'refused') continue;
        expect(undetermined + silent, kind).toBeGreaterThan(0);
      }
    });
  }
});
