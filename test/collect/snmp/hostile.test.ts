import { createSocket, type RemoteInfo, type Socket } from 'node:dgram';
import { once } from 'node:events';
import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { readMessage } from '../../../mocks/snmp-agent/message-codec.ts';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import { isWholeMessage } from '../../../src/collect/snmp/is-whole-message.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import type { NodeReading } from '../../../src/collect/types.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import { surveySchema } from '../../../src/facts/survey-schema.ts';
import { fullSwitch, limits, plainSwitch, quickTiming, secret, target } from './quay-switch.ts';

const open: { stop(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0)) await one.stop();
});

/** A socket on loopback that answers each datagram with what `reply` makes of it. */
async function answering(reply: (request: Buffer, from: RemoteInfo, socket: Socket) => void) {
  const socket = createSocket('udp4');
  socket.bind(0, '127.0.0.1');
  await once(socket, 'listening');
  let datagrams = 0;
  socket.on('message', (request, from) => {
    datagrams += 1;
    reply(request, from, socket);
  });
  open.push({
    stop: async () => {
      const closed = once(socket, 'close');
      socket.close();
      await closed;
    },
  });
  return { address: '127.0.0.1', port: socket.address().port, datagrams: () => datagrams };
}

async function agentOf(ports: number): Promise<RunningAgent> {
  const agent = await startAgent({ switch: plainSwitch(ports) });
  open.push(agent);
  return agent;
}

/** For properties, which hold whether or not the reply comes in time. */
const quick = { ...quickTiming, replyTimeoutMs: 10, retries: 1 };
const signal = () => new AbortController().signal;
const v3 = (at: { address: string; port: number }) => ({
  address: at.address,
  port: at.port,
  version: '3' as const,
  user: 'auditor',
  auth: { protocol: 'sha256' as const, secret: secret('harbour-lights') },
  privacy: { protocol: 'aes128' as const, secret: secret('salt-and-tide') },
  timing: quick,
});

describe('readSnmp against hostile datagrams', () => {
  it('ends with a trouble on any bytes, for v2c and v3', async () => {
    let bytes = Buffer.alloc(0);
    const at = await answering((_, from, socket) => socket.send(bytes, from.port, from.address));
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 300 }), fc.boolean(), async (random, user) => {
        bytes = Buffer.from(random);
        const asked = user ? v3(at) : { ...target(at), timing: quick };
        const outcome = await readSnmp(asked, { peers: [], topics: everyTopic }, limits, signal());
        expect(outcome.ok ? 'read' : outcome.trouble.kind).toMatch(/^(garbled|silent)$/);
      }),
      { numRuns: 60 },
    );
  });

  it('ends on real replies with bytes changed, whatever they then say', async () => {
    const agent = await agentOf(3);
    let change: readonly (readonly [place: number, byte: number])[] = [];
    const relay = await relayOf(agent, {
      change: (reply) => {
        const changed = Buffer.from(reply);
        for (const [place, byte] of change) changed[place % changed.length] = byte;
        return changed;
      },
    });
    const changes = fc.array(fc.tuple(fc.nat({ max: 1400 }), fc.nat({ max: 255 })), {
      minLength: 1,
      maxLength: 4,
    });
    await fc.assert(
      fc.asyncProperty(changes, async (some) => {
        change = some;
        const asked = { ...target(relay), timing: quick };
        const outcome = await readSnmp(asked, { peers: [], topics: everyTopic }, limits, signal());
        expect(JSON.stringify(outcome)).not.toContain('saltmarsh');
        const facts = outcome.ok
          ? [outcome.reading.facts, ...outcome.reading.ports.map((one) => one.facts)]
          : [];
        const values: unknown[] = facts.flatMap((one) => Object.values(one));
        expect(values.filter((value) => value === undefined || value === null)).toEqual([]);
        expect(values.filter((value) => typeof value === 'number' && !(value >= 0))).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });

  it('gives what a survey may hold, whatever bytes of the tables of topics are changed', async () => {
    const agent = await startAgent({ switch: fullSwitch(2) });
    open.push(agent);
    let change: readonly (readonly [place: number, byte: number])[] = [];
    const relay = await relayOf(agent, {
      change: (reply) => {
        const changed = Buffer.from(reply);
        for (const [place, byte] of change) changed[place % changed.length] = byte;
        return changed;
      },
    });
    const changes = fc.array(fc.tuple(fc.integer({ min: 60, max: 1400 }), fc.nat({ max: 255 })), {
      maxLength: 3,
    });
    let read = 0;
    await fc.assert(
      fc.asyncProperty(changes, async (some) => {
        change = some;
        const asked = { ...target(relay), timing: quick };
        const outcome = await readSnmp(asked, { peers: [], topics: everyTopic }, limits, signal());
        if (!outcome.ok) return;
        read += 1;
        const node = { node: 'quay-sw', readings: [], ...outcome.reading, disagreements: [] };
        const at = '2026-11-25T02:00:00.000Z';
        const survey = { survey: 1, site: 'office', startedAt: at, endedAt: at, nodes: [node] };
        expect(surveySchema.safeParse(survey).error?.issues ?? []).toEqual([]);
      }),
      { numRuns: 80 },
    );
    expect(read).toBeGreaterThan(10);
  });

  it('gives no other fact wherever one of the replies is cut', async () => {
    const agent = await agentOf(2);
    const replies: Buffer[] = [];
    const counting = await relayOf(agent, {
      change: (reply) => {
        replies.push(reply);
        return reply;
      },
    });
    const sound = await readSnmp(
      target(counting),
      { peers: [], topics: everyTopic },
      limits,
      signal(),
    );
    if (!sound.ok) throw new Error(sound.trouble.seen);
    const whole = factsIn(sound.reading);
    const everyCut = replies.flatMap((reply) =>
      Array.from({ length: reply.length }, (_, bytes) => reply.subarray(0, bytes)),
    );
    expect(everyCut.length).toBeGreaterThan(500);
    expect(everyCut.filter(isWholeMessage)).toEqual([]);
    expect(replies.every(isWholeMessage)).toBe(true);
    // Each costs its wait for the reply, so that the whole reading is tried at some places only.
    const cuts = replies.flatMap(({ length }, nth) =>
      Array.from({ length: Math.ceil(length / 37) }, (_, part) => ({ nth, bytes: part * 37 })),
    );
    const ended = { read: 0, trouble: 0 };
    const cutOne = async ({ nth, bytes }: { nth: number; bytes: number }) => {
      let seen = -1;
      const relay = await relayOf(agent, {
        change: (reply) => {
          seen += 1;
          return seen === nth ? reply.subarray(0, bytes) : reply;
        },
      });
      const asked = { ...target(relay), timing: { replyTimeoutMs: 60, retries: 0 } };
      const outcome = await readSnmp(asked, { peers: [], topics: everyTopic }, limits, signal());
      ended[outcome.ok ? 'read' : 'trouble'] += 1;
      if (!outcome.ok) expect(outcome.trouble.kind).toMatch(/^(garbled|silent)$/);
      else expect([...factsIn(outcome.reading)].filter((fact) => !whole.has(fact))).toEqual([]);
      for (const one of open.splice(1)) await one.stop();
    };
    for (const cut of cuts) await cutOne(cut);
    expect(ended.read).toBeGreaterThan(20);
    expect(ended.trouble).toBeGreaterThan(3);
  }, 30_000);

  it('ends when a v3 message answers a v2c request by its number', async () => {
    const at = await answering((request, from, socket) => {
      socket.send(signedV3Reply(request), from.port, from.address);
    });
    const outcome = await readSnmp(target(at), { peers: [], topics: everyTopic }, limits, signal());
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'garbled' } });
  });

  it('ends when an agent reports for ever', async () => {
    // Boots and time of 0 ask for a resync each time, which the library would do without end.
    const at = await answering((request, from, socket) => {
      const engine = { engineID: Buffer.from('80007ed904', 'hex'), engineBoots: 0, engineTime: 0 };
      const report = readMessage(request).createReportResponseMessage(engine, '', '4');
      socket.send(report.toBuffer(), from.port, from.address);
    });
    const user = { ...v3(at), timing: { replyTimeoutMs: 2000, retries: 0 } };
    const { auth: _auth, privacy: _privacy, ...plain } = user;
    const outcome = await readSnmp(plain, { peers: [], topics: everyTopic }, limits, signal());
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'garbled' } });
    expect(at.datagrams()).toBe(12);
  });

  it('takes no reply from another port than the one it asked', async () => {
    const agent = await agentOf(3);
    const relay = await relayOf(agent, { fromElsewhere: true });
    const outcome = await readSnmp(
      { ...target(relay), timing: { ...quickTiming, retries: 1 } },
      { peers: [], topics: everyTopic },
      limits,
      signal(),
    );
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'silent' } });
    expect(agent.requests()).toBe(2);
    const sound = await relayOf(agent, {});
    const read = await readSnmp(target(sound), { peers: [], topics: everyTopic }, limits, signal());
    expect(read.ok && read.reading.ports).toHaveLength(3);
  });

  it('stops taking from an agent that floods', async () => {
    const at = await answering((_, from, socket) => {
      for (let i = 0; i < 20; i += 1) socket.send(Buffer.alloc(1400), from.port, from.address);
    });
    const within = { ...limits, outputBytesMax: 5000 };
    const slow = { replyTimeoutMs: 5000, retries: 0 };
    const outcome = await readSnmp(
      { ...target(at), timing: slow },
      { peers: [], topics: everyTopic },
      within,
      signal(),
    );
    expect(outcome).toMatchObject({
      ok: false,
      trouble: {
        kind: 'garbled',
        seen: `the agent at 127.0.0.1 port ${at.port} sent more than it may`,
      },
    });
  });

  it('reads many agents at once, each with its own replies', async () => {
    const agents = await Promise.all([1, 2, 3, 4, 5, 6, 7, 8].map((ports) => agentOf(ports)));
    const outcomes = await Promise.all(
      agents.map((agent) =>
        readSnmp(target(agent), { peers: [], topics: everyTopic }, limits, signal()),
      ),
    );
    const counts = outcomes.map((outcome) => (outcome.ok ? outcome.reading.ports.length : 0));
    expect(counts).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
  });
});

/** Every fact of a reading with what it is about, as text. */
function factsIn({ facts, ports }: NodeReading): Set<string> {
  const about = [{ name: '', facts }, ...ports];
  return new Set(
    about.flatMap((one) =>
      Object.entries(one.facts).map(([fact, value]) => JSON.stringify([one.name, fact, value])),
    ),
  );
}

/** A relay that changes replies on their way, and may send them from a socket of its own. */
async function relayOf(
  agent: RunningAgent,
  { change = (reply: Buffer) => reply, fromElsewhere = false },
) {
  const inner = createSocket('udp4');
  const askers: (readonly [RemoteInfo, Socket])[] = [];
  inner.on('message', (reply) => {
    const [asker, socket] = askers.at(-1) ?? [];
    if (asker === undefined) return;
    (fromElsewhere ? inner : socket)?.send(change(reply), asker.port, asker.address);
  });
  open.push({
    stop: async () => {
      inner.close();
    },
  });
  return answering((request, from, socket) => {
    askers.push([from, socket]);
    inner.send(request, agent.port, agent.address);
  });
}

/** A v3 response that claims to be signed, as anyone can make it who knows a request's number. */
function signedV3Reply(request: Buffer): Buffer {
  const { id } = readMessage(request).pdu as unknown as { id: number };
  const number = Buffer.alloc(4);
  number.writeInt32BE(id);
  const empty = tlv(0x04);
  const int = (byte: number) => tlv(0x02, Buffer.of(byte));
  const header = tlv(
    0x30,
    tlv(0x02, number),
    tlv(0x02, Buffer.of(0x7f, 0xff)),
    tlv(0x04, Buffer.of(1)),
    int(3),
  );
  const engine = tlv(0x04, Buffer.from('80007ed904', 'hex'));
  const security = tlv(
    0x04,
    tlv(0x30, engine, int(1), int(1), empty, tlv(0x04, Buffer.alloc(24)), empty),
  );
  const pdu = tlv(0xa2, tlv(0x02, number), int(0), int(0), tlv(0x30));
  return tlv(0x30, int(3), header, security, tlv(0x30, engine, empty, pdu));
}

/** BER: tag, length below 128, content (ITU-T X.690, 8.1). */
function tlv(tag: number, ...parts: readonly Buffer[]): Buffer {
  const content = Buffer.concat(parts);
  if (content.length > 127) throw new Error('too long for a short length');
  return Buffer.concat([Buffer.of(tag, content.length), content]);
}
