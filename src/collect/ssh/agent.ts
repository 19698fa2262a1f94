import type { BaseAgent, ParsedKey } from 'ssh2';
import ssh2 from 'ssh2';

/** Longest wait for the list of the agent's keys. */
export const agentListMsMax = 3_000;
/** Keys taken from one agent, at most. */
export const agentKeysMax = 64;

/** A key that an agent holds: its public half, and the way to sign with it. */
export interface AgentKey {
  readonly publicKey: Buffer;
  readonly comment: string;
  /** An agent that knows this key alone, so that a server sees no other. */
  readonly agent: BaseAgent;
}

/** The keys that an SSH agent holds, or why there are none. */
export type AgentKeys =
  | { readonly ok: true; readonly keys: readonly AgentKey[] }
  | { readonly ok: false; readonly why: string };

/** Lists the keys of the agent behind a socket. Never throws, never waits longer than its limit. */
export function listAgentKeys(socket: string): Promise<AgentKeys> {
  return new Promise((resolve) => {
    const late = setTimeout(() => {
      resolve({ ok: false, why: `the SSH agent at ${socket} does not answer` });
    }, agentListMsMax);
    const agent = ssh2.createAgent(socket);
    agent.getIdentities((error, keys) => {
      clearTimeout(late);
      if (error) resolve({ ok: false, why: `the SSH agent at ${socket} cannot be asked` });
      else resolve({ ok: true, keys: usable(agent, keys ?? []) });
    });
  });
}

function usable(agent: BaseAgent, keys: readonly unknown[]): readonly AgentKey[] {
  const found: AgentKey[] = [];
  for (const key of keys.slice(0, agentKeysMax)) {
    // Certificates and keys held in hardware come as errors: the library cannot use them.
    const parsed: unknown = ssh2.utils.parseKey(key as ParsedKey);
    if (parsed instanceof Error || parsed === undefined) continue;
    const known = parsed as ParsedKey;
    const comment = known.comment ?? '';
    found.push({ publicKey: known.getPublicSSH(), comment, agent: oneKey(agent, known) });
  }
  return found;
}

function oneKey(agent: BaseAgent, key: ParsedKey): BaseAgent {
  // Signs as the agent does, and lists one key: the library would offer all that are listed.
  const alone = Object.create(agent) as BaseAgent;
  alone.getIdentities = (done) => done(undefined, [key]);
  return alone;
}
