import type { RunScript } from '../types.ts';
import { execScript } from './exec-script.ts';
import { openSession } from './open-session.ts';
import { startClock } from './run-clock.ts';
import { scriptOutcome } from './script-outcome.ts';
import type { SshDeps } from './ssh-deps.ts';
import type { SshTarget } from './ssh-target.ts';
import { systemSshRunner } from './system-ssh.ts';

/**
 * Runs scripts on one host over SSH: one connection and one command for each. Gives whatever the
 * host printed, noise of its start files included; finding the marks in it is the reader's part.
 */
export function sshRunner(target: SshTarget, deps: SshDeps): RunScript {
  if (target.access.through === 'system') return systemSshRunner(target, deps);
  return async (script, limits, signal) => {
    const clock = startClock(limits, signal);
    try {
      const opened = await openSession({ target, deps, clock, waiting: [] });
      if (!opened.ok) return { ok: false, trouble: opened.trouble };
      const { session } = opened;
      const end = await execScript({ session, script, limits, clock });
      session.destroy();
      const { hostKey, shell } = session;
      return scriptOutcome(end, { where: target.at, hostKey, shell, limits });
    } finally {
      clock.stop();
    }
  };
}
