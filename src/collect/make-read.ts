import type { Trouble } from '../facts/trouble.ts';
import type { SnmpAccess } from '../intent/types.ts';
import type { CollectDeps } from './collect-survey.ts';
import { localRunner } from './local/local-runner.ts';
import type { PlannedNode } from './plan.ts';
import { readSnmp } from './snmp/read-snmp.ts';
import type { SnmpTiming } from './snmp/target.ts';
import { snmpTarget } from './snmp-target.ts';
import type { SshDeps } from './ssh/ssh-deps.ts';
import { sshRunner } from './ssh/ssh-runner.ts';
import { sshTarget } from './ssh-target-of.ts';
import type { FindSecret, Locate, ReadLimits } from './types.ts';
import { readUnix } from './unix/read-unix.ts';

/** What reading over the network needs; one of it for a whole run. */
export interface NetworkDeps {
  readonly ssh: SshDeps;
  readonly findSecret: FindSecret;
  /** Turns a name into an address for SNMP; throws nothing, `undefined` for an unknown name. */
  readonly locate: (at: string) => Promise<Awaited<ReturnType<Locate>> | undefined>;
  readonly limits: ReadLimits;
  readonly signal: AbortSignal;
  readonly snmpTiming?: SnmpTiming;
}

/** The reader for each kind of access. */
export function makeRead(deps: NetworkDeps): CollectDeps['read'] {
  return async (node, access, request) => {
    switch (access.via) {
      case 'local':
        return readUnix(localRunner(), request, deps.limits, deps.signal);
      case 'ssh': {
        const run = sshRunner(sshTarget(node, access), deps.ssh);
        return readUnix(run, request, deps.limits, deps.signal);
      }
      case 'snmp': {
        const target = await targetOf(node, access, deps);
        if ('kind' in target) return { ok: false, trouble: target };
        return readSnmp(target, request, deps.limits, deps.signal);
      }
    }
  };
}

async function targetOf(node: PlannedNode, access: SnmpAccess, deps: NetworkDeps) {
  const at = node.at ?? '';
  const found = await deps.locate(at);
  if (found === undefined) return nameUnknown(at);
  const timing = deps.snmpTiming;
  const port = node.atPort ?? found.port;
  const place = {
    address: found.address,
    ...(port === undefined ? {} : { port }),
    ...(timing === undefined ? {} : { timing }),
  };
  return snmpTarget({ access, place, findSecret: deps.findSecret });
}

function nameUnknown(at: string): Trouble {
  return {
    kind: 'name-unknown',
    seen: `no address is known for ${at}`,
    remedy: 'correct the name in the intent, or make it known in DNS or /etc/hosts',
  };
}
