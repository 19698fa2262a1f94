import { createSocket, type RemoteInfo, type Socket } from 'node:dgram';
import { once } from 'node:events';
import snmp from 'net-snmp';
import { answer } from './answer.ts';
import type { DescribedSwitch } from './described-switch.ts';
import { type CodecMessage, type EngineState, readMessage } from './message-codec.ts';
import { type AgentUser, admit, levelSuffices } from './security.ts';
import { servedTable } from './served-objects.ts';
import { floodCopies, slowReplyMs, type Vice, type WrongReply } from './vices.ts';
import { spoilReply, spoilResponse, wrongReplies } from './wrong-at.ts';

/** Octets of a reply that fits one datagram of an Ethernet at 1500. */
const replyBytesMaxDefault = 1472;
/** Octets of a reply beside its values, at most: header, security parameters, padding. */
const headBytes = { community: 60, user: 150 } as const;
const authorizationError = 16;
const version3 = 3;

export interface AgentSettings {
  readonly switch: DescribedSwitch;
  readonly vice?: Vice;
  /** Delay of each reply, in milliseconds. */
  readonly delayMs?: number;
  /** Communities that may read with v2c; absent: `saltmarsh`. */
  readonly communities?: readonly string[];
  /** Users that may read with v3. */
  readonly users?: readonly AgentUser[];
  /** Context that v3 requests must name; absent: none. */
  readonly context?: string;
  /** Loopback address; absent: 127.0.0.1. */
  readonly address?: '127.0.0.1' | '::1';
  readonly replyBytesMax?: number;
}

/** A simulated agent that serves. */
export interface RunningAgent {
  readonly address: string;
  readonly port: number;
  /** Datagrams received, repeats and SETs among them. */
  requests(): number;
  /** SET requests received; all are refused. */
  sets(): number;
  /** OIDs that were asked for, each once. */
  asked(): readonly string[];
  /** Octets of the longest reply. */
  longestReplyBytes(): number;
  stop(): Promise<void>;
}

/** Starts a simulated agent on a loopback port that the system chooses. */
export async function startAgent(settings: AgentSettings): Promise<RunningAgent> {
  const address = settings.address ?? '127.0.0.1';
  const socket = createSocket(address === '::1' ? 'udp6' : 'udp4');
  socket.bind(0, address);
  await once(socket, 'listening');
  const agent = new Agent(settings, socket);
  socket.on('message', (datagram, from) => agent.take(datagram, from));
  return {
    address,
    port: socket.address().port,
    requests: () => agent.requests,
    sets: () => agent.sets,
    asked: () => [...agent.asked],
    longestReplyBytes: () => agent.longestReplyBytes,
    stop: () => agent.stop(),
  };
}

class Agent {
  requests = 0;
  sets = 0;
  longestReplyBytes = 0;
  readonly asked = new Set<string>();
  readonly #settings: AgentSettings;
  readonly #socket: Socket;
  readonly #startedMs = performance.now();
  readonly #replies = new Set<NodeJS.Timeout>();
  #signedRequests = 0;
  readonly #wrongWith: (datagram: Buffer) => WrongReply | undefined;
  #last: Buffer | undefined;
  #open = true;

  constructor(settings: AgentSettings, socket: Socket) {
    this.#settings = settings;
    this.#socket = socket;
    this.#wrongWith = wrongReplies(settings.vice);
  }

  take(datagram: Buffer, from: RemoteInfo): void {
    this.requests += 1;
    const { vice } = this.#settings;
    if (vice === 'hangs' || (vice === 'drops-every-third' && this.requests % 3 === 0)) return;
    if (typeof vice === 'object' && 'silentAfter' in vice && this.requests > vice.silentAfter)
      return;
    const how = this.#wrongWith(datagram);
    if (how === 'silent' || how === 'gone') return;
    const sound = this.#replyTo(datagram, how);
    if (sound === undefined) return;
    const reply = spoilReply(spoilt(sound, vice), how);
    if (vice === 'out-of-order' && this.#last !== undefined) this.#send(this.#last, from);
    this.#last = reply;
    if (vice === 'floods') {
      for (let copy = 0; copy < floodCopies; copy += 1) this.#send(reply, from);
    }
    const delayMs = (this.#settings.delayMs ?? 0) + (vice === 'answers-slowly' ? slowReplyMs : 0);
    if (delayMs === 0) this.#send(reply, from);
    else this.#later(delayMs, () => this.#send(reply, from));
  }

  async stop(): Promise<void> {
    if (!this.#open) return;
    this.#open = false;
    for (const timer of this.#replies) clearTimeout(timer);
    const closed = once(this.#socket, 'close');
    this.#socket.close();
    await closed;
  }

  #later(delayMs: number, act: () => void): void {
    const timer = setTimeout(() => {
      this.#replies.delete(timer);
      act();
    }, delayMs);
    this.#replies.add(timer);
  }

  #send(reply: Buffer, to: RemoteInfo): void {
    if (!this.#open) return;
    this.longestReplyBytes = Math.max(this.longestReplyBytes, reply.length);
    this.#socket.send(reply, to.port, to.address);
  }

  #replyTo(datagram: Buffer, how: WrongReply | undefined): Buffer | undefined {
    const message = this.#read(datagram);
    if (message === undefined) return undefined;
    if (message.version !== version3) {
      const communities = this.#settings.communities ?? ['saltmarsh'];
      const known =
        message.version === snmp.Version2c && communities.includes(message.community ?? '');
      return known ? this.#answerTo(message, { how }) : undefined;
    }
    const users = this.#settings.users ?? [];
    const engine = this.#engine();
    const admission = admit(message, users, { engine, inTime: () => this.#inTime() });
    if (admission === 'silent') return undefined;
    if (typeof admission === 'object') return admission.report.toBuffer();
    if ((message.pdu.contextName ?? '') !== (this.#settings.context ?? '')) return undefined;
    return this.#answerTo(message, { how, refused: !levelSuffices(message, users) });
  }

  #read(datagram: Buffer): CodecMessage | undefined {
    try {
      return readMessage(datagram);
    } catch {
      return undefined;
    }
  }

  #answerTo(
    message: CodecMessage,
    { refused = false, how }: { refused?: boolean; how: WrongReply | undefined },
  ): Buffer | undefined {
    const { pdu } = message;
    const { vice, replyBytesMax = replyBytesMaxDefault } = this.#settings;
    if (pdu.type === snmp.PduType.SetRequest) this.sets += 1;
    for (const { oid } of pdu.varbinds) this.asked.add(oid);
    const response = pdu.getResponsePduForRequest();
    const head = message.version === version3 ? headBytes.user : headBytes.community;
    const settings = {
      table: servedTable(this.#settings.switch, vice),
      valueBytesMax: replyBytesMax - head,
      ...(vice === undefined ? {} : { vice }),
    };
    if (refused) response.errorStatus = authorizationError;
    else if (!answer(pdu, response, settings)) return undefined;
    spoilResponse(response, how);
    const reply = message.createResponseForRequest(response);
    if (vice === 'unsigned') {
      reply.setAuthentication(false);
      reply.setPrivacy(false);
    }
    return reply.toBuffer();
  }

  #engine(): EngineState {
    const { engineId, engineBoots = 1, upSeconds } = this.#settings.switch;
    const servedSeconds = Math.floor((performance.now() - this.#startedMs) / 1000);
    return {
      engineID: Buffer.from(engineId, 'hex'),
      engineBoots,
      engineTime: upSeconds + servedSeconds,
    };
  }

  #inTime(): boolean {
    this.#signedRequests += 1;
    const { vice } = this.#settings;
    return !(vice === 'clock-lost' || (vice === 'restarts-once' && this.#signedRequests === 4));
  }
}

/** A reply as an agent with a vice of its own sends it. */
function spoilt(reply: Buffer, vice: Vice | undefined): Buffer {
  if (vice === 'cuts-replies') return reply.subarray(0, reply.length >> 1);
  if (vice !== 'lies-about-length') return reply;
  const lied = Buffer.from(reply);
  // The short form of a length, whatever form stood there (ITU-T X.690, 8.1.3).
  lied[1] = 0x10;
  return lied;
}
