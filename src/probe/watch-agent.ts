import { setTimeout as wait } from 'node:timers/promises';
import type { Varbind } from '../collect/snmp/agent-session.ts';
import { Asker } from '../collect/snmp/asker.ts';
import type { Failure } from '../collect/snmp/failure.ts';
import { targetFault } from '../collect/snmp/read-snmp.ts';
import type { SnmpTarget } from '../collect/snmp/target.ts';
import { troubleOf } from '../collect/snmp/trouble-of.ts';
import type { Gap } from '../facts/gap.ts';
import type { Trouble } from '../facts/trouble.ts';
import { type FoundPorts, findAgentPorts, type WantedPort } from './find-agent-ports.ts';
import {
  type AgentPort,
  agentLook,
  agentUpSeconds,
  oidsOf,
  type Values,
} from './live-agent-look.ts';
import { clockObject } from './live-objects.ts';
import { restartedBetween } from './live-rate.ts';
import {
  type LiveEnd,
  type LiveLook,
  type LiveLooks,
  liveMsMax,
  livePortsMax,
  lookEveryMs,
} from './live-types.ts';

/** Ports whose objects fit one datagram. */
const portsPerRequest = 3;
/** A look is worth no longer wait than three of these; then the agent counts as lost. */
const timing = { replyTimeoutMs: 1000, retries: 2, backoff: 1 } as const;
/** What one connection may cost: every request of the longest run, and what they bring. */
const requestsMax = Math.ceil(((liveMsMax / lookEveryMs) * livePortsMax) / portsPerRequest) + 1000;
const bytesMax = 4 * 1024 ** 3;

/** An agent whose numbers of the ports are known, ready to be asked for looks. */
export interface OpenAgent {
  readonly target: SnmpTarget;
  readonly asker: Asker;
  readonly ports: FoundPorts;
}

/** Finds the ports of an agent, within a time. It is to be watched after. */
export async function openAgent(
  place: SnmpTarget,
  wanted: readonly WantedPort[],
  { signal, findMsMax }: { readonly signal: AbortSignal; readonly findMsMax: number },
): Promise<OpenAgent | Trouble> {
  const fault = targetFault(place);
  if (fault !== undefined) return fault;
  const target = { ...place, timing };
  const bounds = { bytesMax, requestsMax };
  const time = new AbortController();
  const stop = () => time.abort();
  const late = setTimeout(stop, findMsMax);
  signal.addEventListener('abort', stop, { once: true });
  if (signal.aborted) stop();
  const finder = new Asker(target, { stop: time.signal, ...bounds });
  const found = await findAgentPorts(finder, target.version, wanted);
  finder.close();
  clearTimeout(late);
  signal.removeEventListener('abort', stop);
  if (!isFailure(found)) {
    return { target, asker: new Asker(target, { stop: signal, ...bounds }), ports: found };
  }
  return troubleOf(found, target, finder);
}

/** Asks an agent once a second for its ports until it is lost or the signal ends it. */
export async function watchAgent(
  { target, asker, ports }: OpenAgent,
  {
    onLooks,
    signal,
    now,
  }: {
    readonly onLooks: (looks: LiveLooks) => void;
    readonly signal: AbortSignal;
    readonly now: () => Date;
  },
): Promise<LiveEnd> {
  let before: LiveLooks | undefined;
  try {
    while (!signal.aborted) {
      const begun = performance.now();
      const values = await askValues(asker, ports);
      if (signal.aborted) break;
      if (isFailure(values)) {
        const trouble = lostTrouble(values, {
          target,
          asker,
          looked: before !== undefined,
        });
        return { is: 'lost', trouble };
      }
      const looks = looksOf(values, ports, now().getTime());
      onLooks(looks);
      // Its numbers may be others now.
      if (before !== undefined && restartedBetween(before, looks)) return { is: 'again' };
      before = looks;
      const leftMs = Math.max(0, lookEveryMs - (performance.now() - begun));
      await wait(leftMs, undefined, { signal }).catch(() => undefined);
    }
    return { is: 'over' };
  } finally {
    asker.close();
  }
}

/** One GET, or a few where there are many ports. Objects that an agent lacks have no value in it. */
async function askValues(asker: Asker, ports: FoundPorts): Promise<Values | Failure> {
  const asked = [...ports.values()].flatMap((port) => ('ifIndex' in port ? [port] : []));
  const values = new Map<string, Varbind>();
  for (const part of partsOf(asked)) {
    const oids = [clockObject.oid, ...part.flatMap(oidsOf)];
    const answer = await asker.get(oids);
    if (!answer.ok) return answer.failure;
    for (const [i, oid] of oids.entries()) {
      const varbind = answer.value[i];
      // By place and by OID: a reply of another order would be taken for other objects.
      if (varbind?.oid === oid) values.set(oid, varbind);
    }
  }
  return values;
}

function partsOf(ports: readonly AgentPort[]): readonly (readonly AgentPort[])[] {
  // An agent none of whose ports was found is asked for its clock alone: it still may be lost.
  if (ports.length === 0) return [[]];
  return ports.flatMap((_, i) =>
    i % portsPerRequest === 0 ? [ports.slice(i, i + portsPerRequest)] : [],
  );
}

function looksOf(values: Values, ports: FoundPorts, atMs: number): LiveLooks {
  const looks = [...ports].map(([name, port]): [string, LiveLook | Gap] =>
    'ifIndex' in port ? [name, agentLook(port, values)] : [name, port],
  );
  return { atMs, upSeconds: agentUpSeconds(values), ports: new Map(looks) };
}

/** An agent that answered before is not one that a wrong secret makes silent. */
function lostTrouble(
  failure: Failure,
  {
    target,
    asker,
    looked,
  }: { readonly target: SnmpTarget; readonly asker: Asker; readonly looked: boolean },
): Trouble {
  if (looked && (failure.kind === 'timeout' || failure.kind === 'unsendable')) {
    return {
      kind: 'silent',
      seen: `no answer from ${target.address} any more`,
      remedy: 'look whether the node is on, and whether the way to it was what was unplugged',
    };
  }
  return troubleOf(failure, target, asker);
}

function isFailure(answer: ReadonlyMap<string, unknown> | Failure): answer is Failure {
  return 'kind' in answer;
}
