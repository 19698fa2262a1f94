import { createSocket, type Socket } from 'node:dgram';
import { EventEmitter } from 'node:events';
import { SocketAddress } from 'node:net';
import { isWholeMessage } from './is-whole-message.ts';

/** Receive buffer that one shared socket asks for, in bytes; the kernel may give less. */
const receiveBufferBytes = 4 * 1024 * 1024;

type Family = 'udp4' | 'udp6';
type Sent = (error: Error | null, bytes?: number) => void;

/** What one session tells and is told beside its datagrams. */
export interface LineEvents {
  /** A datagram of the session's own agent, before it is read. */
  received(bytes: number): void;
  /** A datagram was no SNMP message; the request in flight goes on. */
  unreadable(): void;
  /** The socket or the library failed; the request in flight is lost. */
  lost(error: unknown): void;
  /** Asked before each datagram; false: do not send. */
  maySend(): boolean;
}

/** One session's share of a socket: what the library takes for a socket of its own. */
class Line extends EventEmitter {
  readonly #hub: Hub;
  readonly #key: string;
  readonly #events: LineEvents;
  #open = true;

  constructor(hub: Hub, key: string, events: LineEvents) {
    super();
    this.#hub = hub;
    this.#key = key;
    this.#events = events;
    hub.join(key, this);
  }

  send(data: Buffer, offset: number, length: number, port: number, to: string, sent: Sent): void {
    if (!this.#open || !this.#events.maySend()) {
      sent(Object.assign(new Error('not sent'), { code: 'ENOMORE' }));
      return;
    }
    this.#hub.socket.send(data, offset, length, port, to, sent);
  }

  deliver(data: Buffer, from: unknown): void {
    this.#events.received(data.length);
    if (!isWholeMessage(data)) {
      this.#events.unreadable();
      return;
    }
    // A hostile datagram can make the library throw here, outside any request of ours.
    try {
      this.emit('message', data, from);
    } catch (error) {
      this.#events.lost(error);
    }
  }

  fail(error: Error): void {
    this.#events.lost(error);
  }

  close(): void {
    if (!this.#open) return;
    this.#open = false;
    this.#hub.leave(this.#key, this);
    this.emit('close');
  }

  ref(): void {}
  unref(): void {}
  bind(): void {}
}

/** One socket of a family, shared by all sessions that are open, and gone after the last. */
class Hub {
  readonly socket: Socket;
  readonly #lines = new Map<string, Set<Line>>();
  readonly #gone: () => void;

  constructor(family: Family, gone: () => void) {
    this.#gone = gone;
    this.socket = createSocket({ type: family, ipv6Only: family === 'udp6' });
    this.socket.on('message', (data, from) => {
      // Only the agent that was asked may answer: a reply from elsewhere finds no line.
      for (const line of this.#lines.get(lineKey(from.address, from.port)) ?? []) {
        line.deliver(data, from);
      }
    });
    this.socket.on('error', (error) => {
      for (const line of [...this.#lines.values()].flatMap((set) => [...set])) line.fail(error);
    });
    this.socket.once('listening', () => {
      try {
        this.socket.setRecvBufferSize(receiveBufferBytes);
      } catch {
        // A smaller buffer only means more repeats.
      }
    });
  }

  join(key: string, line: Line): void {
    const lines = this.#lines.get(key) ?? new Set();
    lines.add(line);
    this.#lines.set(key, lines);
  }

  leave(key: string, line: Line): void {
    const lines = this.#lines.get(key);
    lines?.delete(line);
    if (lines?.size === 0) this.#lines.delete(key);
    if (this.#lines.size > 0) return;
    this.#gone();
    this.socket.close();
  }
}

const hubs = new Map<Family, Hub>();

/** Address and port as one text, equal for all spellings of an IPv6 address. */
function lineKey(address: string, port: number): string {
  const family = address.includes(':') ? 'ipv6' : 'ipv4';
  return `${new SocketAddress({ address: address.replace(/%.*$/, ''), family }).address} ${port}`;
}

/**
 * A stand-in for `node:dgram` with which the sessions of one process share a socket per family:
 * one file descriptor for a thousand agents, and replies taken only from the agent asked.
 */
export function sharedDgram(to: { address: string; port: number }, events: LineEvents) {
  return {
    createSocket(family: Family): Line {
      const hub = hubs.get(family) ?? new Hub(family, () => hubs.delete(family));
      hubs.set(family, hub);
      return new Line(hub, lineKey(to.address, to.port), events);
    },
  };
}
