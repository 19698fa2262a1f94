import { createCipheriv } from 'node:crypto';
import { isIP } from 'node:net';
import type { Gap } from '../../facts/gap.ts';
import type { ReadTopic } from '../../facts/read-topics.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { NodeReading, ReadLimits, ReadOutcome, ReadRequest } from '../types.ts';
import { Asker } from './asker.ts';
import { newPace } from './pace.ts';
import { type PortsReading, readPorts } from './ports-reading.ts';
import { askScalars, systemReading } from './system-reading.ts';
import { type SnmpTarget, secretLengthMin } from './target.ts';
import { troubleOf } from './trouble-of.ts';

/** Requests that one node may cost, repeats not counted. */
export const requestsPerNodeMax = 20_000;

/**
 * Reads a node over SNMP: its system group, its ports and what they are built on, and what the
 * topics of the request add. Only GET,
 * GETNEXT and GETBULK are sent. What the network or the agent does ends in the outcome, never in
 * an exception; a reading that the time cut short is a reading with `truncated` gaps.
 */
export async function readSnmp(
  target: SnmpTarget,
  request: ReadRequest,
  limits: ReadLimits,
  signal: AbortSignal,
): Promise<ReadOutcome> {
  const fault = targetFault(target);
  if (fault !== undefined) return { ok: false, trouble: fault };
  const time = new AbortController();
  const stop = () => time.abort();
  const whole = setTimeout(stop, limits.wholeMs);
  signal.addEventListener('abort', stop, { once: true });
  if (signal.aborted) stop();
  const asker = new Asker(target, {
    stop: time.signal,
    bytesMax: limits.outputBytesMax,
    requestsMax: requestsPerNodeMax,
  });
  // A node that says nothing at all costs only this much.
  const first = setTimeout(() => asker.heard === 0 && stop(), limits.connectMs);
  try {
    const outcome = await read(target, asker, request.topics);
    return !outcome.ok && signal.aborted ? { ok: false, trouble: stopped } : outcome;
  } finally {
    clearTimeout(whole);
    clearTimeout(first);
    signal.removeEventListener('abort', stop);
    asker.close();
  }
}

async function read(
  target: SnmpTarget,
  asker: Asker,
  topics: ReadonlySet<ReadTopic>,
): Promise<ReadOutcome> {
  const scalars = await askScalars(asker);
  if ('kind' in scalars) return { ok: false, trouble: troubleOf(scalars, target, asker) };
  const system = systemReading(scalars);
  const ports = await readPorts(asker, {
    pace: newPace(target.version),
    topics,
    ...(system.rowsHint === undefined ? {} : { rowsHint: system.rowsHint }),
  });
  const reading: NodeReading = {
    facts: system.facts,
    sources: system.sources,
    gaps: { ...system.gaps, ...listGaps(ports) },
    portSources: ports.sources,
    portGaps: ports.gaps,
    ports: ports.ports,
    routes: [],
    sessions: [],
    mounts: [],
    ...(ports.neighbours.list === undefined ? {} : { neighbours: ports.neighbours.list }),
    ...(ports.forwarding.list === undefined ? {} : { forwarding: ports.forwarding.list }),
  };
  return { ok: true, reading };
}

/** Why lists are absent, or may lack some. */
function listGaps({ listGap, neighbours, forwarding }: PortsReading): Record<string, Gap> {
  const gaps = { ports: listGap, neighbours: neighbours.gap, forwarding: forwarding.gap };
  return Object.fromEntries(
    Object.entries(gaps).flatMap(([name, gap]) => (gap === undefined ? [] : [[name, gap]])),
  );
}

/** What makes a target unusable before anything is sent. */
export function targetFault(target: SnmpTarget): Trouble | undefined {
  if (isIP(target.address) === 0) {
    return {
      kind: 'name-unknown',
      seen: 'the agent was given by a name that is not an address',
      remedy: 'give an IPv4 or IPv6 address',
    };
  }
  if (target.version === '2c') {
    return target.community.reveal() === '' ? unusable('the community is empty') : undefined;
  }
  return protectionFault(target);
}

function protectionFault({ auth, privacy }: Extract<SnmpTarget, { version: '3' }>) {
  if (privacy !== undefined && auth === undefined) {
    return unusable('privacy is given without auth, which SNMPv3 does not have');
  }
  for (const [what, part] of Object.entries({ auth, privacy })) {
    if (part !== undefined && part.secret.reveal().length < secretLengthMin) {
      return unusable(`the secret of ${what} is shorter than ${secretLengthMin} characters`);
    }
  }
  if (privacy?.protocol === 'des' && !desWorks()) {
    return unusable('this Node.js has DES switched off; use aes128 or aes256 on the node');
  }
  return undefined;
}

function desWorks(): boolean {
  try {
    createCipheriv('des-cbc', Buffer.alloc(8), Buffer.alloc(8));
    return true;
  } catch {
    return false;
  }
}

const stopped: Trouble = {
  kind: 'time-over',
  seen: 'the reading was stopped before the agent had answered',
  remedy: 'run it again, with more time if it had too little',
};

function unusable(seen: string): Trouble {
  return { kind: 'key-unusable', seen, remedy: 'correct the access in the intent or its secret' };
}
