import { describe, expect, it } from 'vitest';
import { readSnmp } from '../../src/collect/snmp/read-snmp.ts';
import { defaultReadLimits } from '../../src/collect/types.ts';
import { agentDoors } from './agent-doors.ts';
import { targetOf } from './agent-places.ts';
import { doorRuns, request } from './door-runs.ts';
import { matrixText } from './fault-kinds.ts';
import { officeSwitches } from './office-nodes.ts';

// An agent as a whole fails, in each way, asked as a user and by community where that differs.

const { signal } = new AbortController();
const ways = agentDoors.flatMap((door) =>
  (['user', 'community'] as const)
    .filter((by) => door.isWell === true || door.trouble[by] !== undefined)
    .map((by) => ({ ...door, by, trouble: door.trouble[by] })),
);
const sick = ways.filter(({ trouble }) => trouble !== undefined).length;

describe('an agent fails at its door', () => {
  const switches = Object.entries(officeSwitches);
  it.each(switches)(
    '%s: nothing is claimed of it',
    { timeout: 60_000 },
    async (node, described) => {
      const runs = await doorRuns();
      for (const { name, by, trouble, timing, open } of ways) {
        const place = await open(described);
        const target = targetOf(by, place.port, timing);
        const outcome = await readSnmp(target, request, defaultReadLimits, signal);
        await place.stop();
        const what = `${name}, asked by ${by}`;
        if (trouble === undefined) expect(outcome, what).toMatchObject({ ok: true });
        else await runs.hold({ outcomes: new Map([[node, outcome]]), trouble, what });
      }
      console.log(matrixText(node, new Map([['its door', runs.counted()]])));
      expect(runs.counted()).toMatchObject({ read: 0, unread: sick });
    },
  );
});
