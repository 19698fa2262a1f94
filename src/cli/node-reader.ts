import { lookup } from 'node:dns/promises';
import { isIP } from 'node:net';
import pLimit, { type LimitFunction } from 'p-limit';
import type { CollectDeps } from '../collect/collect-survey.ts';
import { hostsAtOnce, ownLimits } from '../collect/hosts-at-once.ts';
import { localRunner } from '../collect/local/local-runner.ts';
import type { PlannedNode } from '../collect/plan.ts';
import { readHost } from '../collect/read-host.ts';
import { inUserTurn } from '../collect/snmp/user-turn.ts';
import type { CredentialLedger } from '../collect/ssh/credential-ledger.ts';
import { makeSshDeps } from '../collect/ssh/make-ssh-deps.ts';
import type { SshDeps } from '../collect/ssh/ssh-deps.ts';
import { sshRunner } from '../collect/ssh/ssh-runner.ts';
import type { SshTarget } from '../collect/ssh/ssh-target.ts';
import {
  defaultReadLimits,
  type ReadOutcome,
  type ReadRequest,
  type RunScript,
} from '../collect/types.ts';
import { withinTime } from '../collect/within-time.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { DeclaredNode, SnmpAccess, SshAccess } from '../intent/types.ts';
import type { Io } from './io.ts';
import { type AgentPlace, snmpTarget } from './snmp-target.ts';

/** What reads the nodes of one run over the network. */
export interface NodeReader {
  readonly read: CollectDeps['read'];
  readonly resolve: CollectDeps['resolve'];
  /** Ends what is still open; to be called at the end of the run. */
  readonly close: () => void;
}

/** One for the process: several sites are read at once. Agents share a socket, and need none. */
let hostTurn: LimitFunction | undefined;

/** A reader of this machine, of hosts over SSH and of agents over SNMP. */
export function nodeReader(io: Io): NodeReader {
  const ssh = sshDepsOf(io);
  hostTurn ??= pLimit(hostsAtOnce(ownLimits()));
  const turn = hostTurn;
  const hostInTurn = (run: RunScript, request: ReadRequest) =>
    turn(() =>
      io.signal.aborted ? stopped : readHost(run, request, defaultReadLimits, io.signal),
    );
  return {
    resolve: (name) => resolveName(name, io),
    close: () => ssh.jumps.close(),
    read: (node, access, request) => {
      switch (access.via) {
        case 'local':
          return hostInTurn(localRunner(), request);
        case 'ssh':
          return hostInTurn(sshRunner(sshTargetOf(node, access, node.hostKey), ssh), request);
        case 'snmp':
          return readAgent({ node, access, request, ledger: ssh.ledger }, io);
      }
    },
  };
}

/** Of a node whose turn came after the end of the run. */
const stopped: ReadOutcome = {
  ok: false,
  trouble: {
    kind: 'time-over',
    seen: 'the run was stopped before this node was asked',
    remedy: 'run it again, with more time if it had too little',
  },
};

/** What the SSH connections of one run share; call `jumps.close()` at its end. */
export function sshDepsOf(io: Io): SshDeps {
  return makeSshDeps({
    own: io.own,
    env: io.env,
    findSecret: io.findSecret,
    askSecret: io.askSecret,
    locate: io.locate,
    ...(io.sshSettings === undefined ? {} : { settings: io.sshSettings }),
  });
}

/** The host that a planned node and its access stand for. */
export function sshTargetOf(
  node: Pick<PlannedNode, 'name' | 'at' | 'atPort'>,
  access: SshAccess,
  hostKey: string | undefined,
): SshTarget {
  return {
    at: node.at ?? node.name,
    access,
    ...(node.atPort === undefined ? {} : { atPort: node.atPort }),
    ...(hostKey === undefined ? {} : { hostKey }),
  };
}

/** How a script is run at a node; undefined: it declares no access that could. */
export function runnerOf(node: DeclaredNode, ssh: SshDeps): RunScript | undefined {
  for (const access of node.access) {
    if (access.via === 'local') return localRunner();
    if (access.via === 'ssh') {
      return sshRunner(sshTargetOf(node, access, node.identity.hostKey), ssh);
    }
  }
  return undefined;
}

interface AgentReading {
  readonly node: PlannedNode;
  readonly access: SnmpAccess;
  readonly request: ReadRequest;
  readonly ledger: CredentialLedger;
}

async function readAgent(
  { node, access, request, ledger }: AgentReading,
  io: Io,
): Promise<ReadOutcome> {
  const place = await agentPlace(node, access, io);
  if ('kind' in place) return { ok: false, trouble: place };
  const made = await snmpTarget(access, place, io.findSecret);
  if (!made.ok) return made;
  // Loaded here, since a site without switches should not pay for it.
  const { readSnmp } = await import('../collect/snmp/read-snmp.ts');
  const outcome = await inUserTurn(ledger, {
    access,
    signal: io.signal,
    ask: () => readSnmp(made.target, request, defaultReadLimits, io.signal),
    troubleOf: (read) => (read.ok ? undefined : read.trouble),
  });
  return 'kind' in outcome ? { ok: false, trouble: outcome } : outcome;
}

/** Where the agent of a node is; trouble when its name stands for no address. */
export async function agentPlace(
  node: Pick<PlannedNode, 'name' | 'at' | 'atPort'>,
  access: SnmpAccess,
  io: Io,
): Promise<AgentPlace | Trouble> {
  const at = node.at ?? node.name;
  const port = access.port ?? node.atPort;
  const wanted = port === undefined ? {} : { port };
  const found = await locatedAgent(at, io);
  if (found !== undefined) return { ...wanted, ...found };
  return {
    kind: 'name-unknown',
    seen: `no address is known for ${cleanText(at, 120)}`,
    remedy: 'correct the name in the intent, or write the address',
  };
}

async function locatedAgent(at: string, io: Io): Promise<AgentPlace | undefined> {
  if (io.locate === undefined) {
    const address = await resolveName(at, io);
    return address === undefined ? undefined : { address };
  }
  // Who stands in for the network may not know the name either.
  return io.locate(at, 'snmp').catch(() => undefined);
}

/** Longest wait for the system's resolver, in milliseconds. */
const resolveMsMax = 5000;

/**
 * A literal address as it is, a name by the system's resolver; undefined: it stands for none, or
 * the resolver gave no answer in time.
 */
export async function resolveName(name: string, io: Io): Promise<string | undefined> {
  if (isIP(name) !== 0) return name;
  const found = io.resolve?.(name) ?? lookup(name).then(({ address }) => address);
  const enough = withinTime(resolveMsMax, io.signal);
  return new Promise((resolve) => {
    const giveUp = () => resolve(undefined);
    if (enough.signal.aborted) giveUp();
    enough.signal.addEventListener('abort', giveUp, { once: true });
    found.then(resolve, giveUp).finally(enough.clear);
  });
}
