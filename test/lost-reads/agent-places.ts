import { createSocket } from 'node:dgram';
import { once } from 'node:events';
import type { DescribedSwitch } from '../../mocks/snmp-agent/described-switch.ts';
import { type AgentSettings, startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import type { SnmpTarget, SnmpTiming } from '../../src/collect/snmp/target.ts';

/** The user that asks. */
export const known = {
  name: 'auditor',
  auth: { protocol: 'sha256', secret: 'reeds-at-low-tide' },
  privacy: { protocol: 'aes128', secret: 'samphire-in-june' },
} as const;

/** How an agent is asked: as a user (SNMPv3), or by community. */
export function targetOf(by: 'user' | 'community', port: number, timing: SnmpTiming): SnmpTarget {
  const at = { address: '127.0.0.1', port, timing };
  const word = (secret: string) => ({ reveal: () => secret });
  if (by === 'community') return { ...at, version: '2c', community: word('saltmarsh') };
  return {
    ...at,
    version: '3',
    user: known.name,
    auth: { protocol: known.auth.protocol, secret: word(known.auth.secret) },
    privacy: { protocol: known.privacy.protocol, secret: word(known.privacy.secret) },
  };
}

/** Where something answers, and how it is ended. */
export interface AgentPlace {
  readonly port: number;
  readonly stop: () => Promise<void>;
}

type Send = (datagram: Buffer) => void;

/** A socket that does with each request what `reply` does. */
export async function answering(reply: (request: Buffer, send: Send) => void): Promise<AgentPlace> {
  const socket = createSocket('udp4');
  socket.bind(0, '127.0.0.1');
  await once(socket, 'listening');
  let open = true;
  socket.on('message', (request, from) => {
    reply(request, (datagram) => {
      if (open) socket.send(datagram, from.port, from.address);
    });
  });
  return {
    port: socket.address().port,
    stop: async () => {
      open = false;
      const closed = once(socket, 'close');
      socket.close();
      await closed;
    },
  };
}

/** A simulated agent with its settings. */
export const agent =
  (more: Partial<AgentSettings> = {}) =>
  (described: DescribedSwitch): Promise<AgentPlace> =>
    startAgent({ switch: described, users: [known], ...more });

/** A port where an agent was. */
export async function closedPort(described: DescribedSwitch): Promise<AgentPlace> {
  const gone = await agent()(described);
  await gone.stop();
  return { port: gone.port, stop: async () => undefined };
}

/** The sound agent, behind something that changes each reply of it. */
export const changing =
  (change: (reply: Buffer) => Buffer) =>
  (described: DescribedSwitch): Promise<AgentPlace> =>
    relayed([described], change);

/** An agent that is another engine at every second request. */
export const twoEngines = (described: DescribedSwitch): Promise<AgentPlace> =>
  relayed([described, { ...described, engineId: '80007ed90402005e00ff' }], (reply) => reply);

/** Asks agents in turn, a request each, and changes what they reply. */
async function relayed(
  switches: readonly DescribedSwitch[],
  change: (reply: Buffer) => Buffer,
): Promise<AgentPlace> {
  const agents = await Promise.all(switches.map(agent()));
  const inner = createSocket('udp4');
  let answer: Send = () => undefined;
  let asked = 0;
  inner.on('message', (reply) => answer(change(reply)));
  const door = await answering((request, send) => {
    answer = send;
    inner.send(request, agents[asked % agents.length]?.port ?? 0, '127.0.0.1');
    asked += 1;
  });
  return {
    port: door.port,
    stop: async () => {
      inner.close();
      await Promise.all([door.stop(), ...agents.map((one) => one.stop())]);
    },
  };
}

/** The reply of another request: the last octet of its number is changed. */
export function renumbered(reply: Buffer): Buffer {
  const changed = Buffer.from(reply);
  const last = lastOfNumber(reply);
  changed[last] = (changed[last] ?? 0) ^ 0x55;
  return changed;
}

/** The reply said to be SNMPv1, whose number is 0 (RFC 1157, 4). */
export function reversioned(reply: Buffer): Buffer {
  const changed = Buffer.from(reply);
  changed[behindHead(reply, 0) + 2] = 0;
  return changed;
}

/** Last octet of msgID (RFC 3412, 6) or of request-id (RFC 3416, 3), which is behind the community. */
function lastOfNumber(reply: Buffer): number {
  const version = behindHead(reply, 0);
  const next = version + 3;
  const isUser = reply[version + 2] === 3;
  const number = behindHead(reply, isUser ? next : next + 2 + (reply[next + 1] ?? 0));
  return number + 1 + (reply[number + 1] ?? 0);
}

/** The place behind the tag and length of an element (ITU-T X.690, 8.1.3). */
function behindHead(bytes: Buffer, at: number): number {
  const length = bytes[at + 1] ?? 0;
  return at + 2 + (length < 0x80 ? 0 : length & 0x7f);
}
