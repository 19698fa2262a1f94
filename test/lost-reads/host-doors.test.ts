import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { saltmarshHosts } from '../../mocks/saltmarsh/hosts.ts';
import { sshRunner } from '../../src/collect/ssh/ssh-runner.ts';
import { makeWorld, type SshWorld, targetAt } from '../collect/ssh/ssh-world.ts';
import { doorRuns, request } from './door-runs.ts';
import { matrixText } from './fault-kinds.ts';
import { hostDoors } from './host-doors.ts';
import { hostReader } from './office-nodes.ts';
import { rawDoor } from './raw-doors.ts';

// A host as a whole fails at its door, in each way, over real sockets on loopback: what the audit says
// is held to the run with which nothing was wrong, and the other nodes are as there.

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

describe('a host fails at its door', () => {
  const hosts = Object.entries(saltmarshHosts);
  it.each(hosts)('%s: nothing is claimed of it', { timeout: 60_000 }, async (node, host) => {
    const runs = await doorRuns();
    for (const { name, trouble, breaks, open } of hostDoors) {
      const { run, stop } = await open(host, world);
      const outcome = await hostReader(run)(request);
      await stop();
      if (trouble === undefined) {
        expect(outcome, name).toMatchObject({ ok: true });
        continue;
      }
      await runs.hold({ outcomes: new Map([[node, outcome]]), trouble, breaks, what: name });
    }
    console.log(matrixText(node, new Map([['its door', runs.counted()]])));
    expect(runs.counted()).toMatchObject({ read: 0, unread: hostDoors.length - 1 });
  });
});

describe('a jump host is gone', () => {
  it('while all hosts wait behind it: nothing is claimed of any', async () => {
    const login = { keys: [world.publicKey(world.key('id_ed25519'))] };
    const jump = await world.host({ login, forwards: true });
    world.trust(jump);
    const names = Object.keys(saltmarshHosts);
    // Each has been passed on and waits for a greeting when the jump host goes.
    const silent = await rawDoor(() => {
      if (silent.callers() === names.length) setImmediate(() => void jump.stop());
    });
    const through = { jump: `auditor@127.0.0.1:${jump.port}` };
    const run = sshRunner(targetAt({ ...jump, port: silent.port }, through), world.deps());
    const outcomes = await Promise.all(
      names.map(async (name) => [name, await hostReader(run)(request)] as const),
    );
    await silent.stop();
    const runs = await doorRuns();
    await runs.hold({ outcomes: new Map(outcomes), trouble: 'jump-failed', what: 'jump host' });
    expect([jump.sessions(), silent.callers()]).toEqual([1, names.length]);
  });
});
