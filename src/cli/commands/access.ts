import pLimit from 'p-limit';
import { type PlannedNode, planSurvey } from '../../collect/plan.ts';
import { weakProtection } from '../../collect/snmp/weak-protection.ts';
import { tryDoor } from '../../collect/ssh/door.ts';
import type { HostKeyOffer } from '../../collect/ssh/door-steps.ts';
import type { SshDeps } from '../../collect/ssh/ssh-deps.ts';
import { defaultReadLimits } from '../../collect/types.ts';
import type { Access, Intent } from '../../intent/types.ts';
import { type AccessTrial, accessText, isOpen } from '../../report/access-text.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { enrol } from '../enrol.ts';
import { forcedScript } from '../forced-script.ts';
import type { Io } from '../io.ts';
import { requireIntent } from '../load-inputs.ts';
import { sshDepsOf, sshTargetOf } from '../node-reader.ts';
import type { AccessOptions } from '../options.ts';
import { progressOn } from '../progress.ts';
import { showCommands } from '../show-commands.ts';
import { trySnmpDoor } from '../snmp-door.ts';
import { interrupted } from '../take-survey.ts';
import { toolVersion } from '../tool-version.ts';
import { textLook } from '../write-result.ts';

/** Doors tried at one time. */
const doorsAtOnceMax = 16;

/** A trial, and the host key that nobody has vouched for yet. */
export interface Tried {
  readonly trial: AccessTrial;
  readonly offer?: HostKeyOffer;
}

/** Tries every door of an intent once and says step by step what is open; reads nothing. */
export async function access(
  file: string | undefined,
  options: AccessOptions,
  io: Io,
): Promise<number> {
  if (options.printScript === true) {
    io.stdout.write(forcedScript(toolVersion()));
    return exitStatuses.met;
  }
  const intent = await requireIntent(file ?? options.intent, io);
  const plan = planSurvey(intent);
  if (options.showCommands === true) return showCommands(plan, io);
  const tried = await tryDoors(plan.nodes, intent, { io, quiet: options.quiet === true });
  const trials = tried.map(({ trial }) => trial);
  const open = trials.length > 0 && trials.every(isOpen);
  if (options.quiet !== true || !open) {
    const look = { ...textLook(undefined, io), verbose: options.verbose === true };
    io.stdout.write(accessText(trials, look));
  }
  const offers = tried.flatMap(({ offer, trial }) =>
    offer === undefined ? [] : [{ ...offer, node: trial.node }],
  );
  if (options.enrol === true) await enrol(offers, io);
  return open ? exitStatuses.met : exitStatuses.undetermined;
}

async function tryDoors(
  nodes: readonly PlannedNode[],
  intent: Intent,
  { io, quiet }: { readonly io: Io; readonly quiet: boolean },
): Promise<readonly Tried[]> {
  const progress = progressOn(io.stderr, { quiet, env: io.env });
  const ssh = sshDepsOf(io);
  const hostKeys = new Map(intent.nodes.map((node) => [node.name, node.identity.hostKey]));
  const doors = nodes.flatMap((node) => node.access.map((each) => ({ node, access: each })));
  const limit = pLimit(doorsAtOnceMax);
  let done = 0;
  try {
    const tried = await Promise.all(
      doors.map((door) =>
        limit(async () => {
          const one = await tryOne({ ...door, hostKey: hostKeys.get(door.node.name) }, ssh, io);
          done += 1;
          progress.show(`trying doors: ${done} of ${doors.length} done`);
          return one;
        }),
      ),
    );
    if (io.signal.aborted) throw interrupted();
    return tried;
  } finally {
    progress.clear();
    ssh.jumps.close();
  }
}

interface Door {
  readonly node: PlannedNode;
  readonly access: Access;
  readonly hostKey: string | undefined;
}

async function tryOne({ node, access, hostKey }: Door, ssh: SshDeps, io: Io): Promise<Tried> {
  const trial = { node: node.name, by: access.via, at: node.at ?? 'this machine' };
  switch (access.via) {
    case 'local':
      return { trial: { ...trial, steps: [] } };
    case 'snmp': {
      const steps = await trySnmpDoor(node, access, { io, ledger: ssh.ledger });
      const weak = weakProtection(access);
      return { trial: { ...trial, steps, ...(weak === undefined ? {} : { weak }) } };
    }
    case 'ssh': {
      const report = await tryDoor(sshTargetOf(node, access, hostKey), ssh, {
        limits: defaultReadLimits,
        signal: io.signal,
      });
      return {
        trial: { ...trial, steps: report.steps },
        ...(report.offer === undefined ? {} : { offer: report.offer }),
      };
    }
  }
}
