import { createSocket } from 'node:dgram';
import { connect, isIPv6 } from 'node:net';
import { type Delivered, reasonOf } from './delivered.ts';
import { within } from './within.ts';

/** A receiver of syslog messages, by address. */
export interface SyslogReceiver {
  readonly over: 'udp' | 'tcp';
  /** A literal address. */
  readonly address: string;
  readonly port: number;
}

/** Longest delivery of all messages of one audit, in milliseconds. */
const deliverMsMax = 10_000;

/** Sends messages in order: over UDP as RFC 5426 says, over TCP counted as RFC 6587 says. */
export async function sendSyslog(
  messages: readonly string[],
  to: SyslogReceiver,
  signal: AbortSignal,
): Promise<Delivered> {
  if (messages.length === 0) return { ok: true };
  return to.over === 'udp' ? sendDatagrams(messages, to, signal) : sendStream(messages, to, signal);
}

/** RFC 6587 section 3.4.1: each message behind its length in octets and a blank. */
export function countedFrames(messages: readonly string[]): Buffer {
  return Buffer.concat(
    messages.flatMap((message) => {
      const octets = Buffer.from(message, 'utf8');
      return [Buffer.from(`${octets.length} `, 'ascii'), octets];
    }),
  );
}

function sendStream(
  messages: readonly string[],
  { address, port }: SyslogReceiver,
  signal: AbortSignal,
): Promise<Delivered> {
  return within({ msMax: deliverMsMax, signal }, (settle) => {
    const socket = connect({ host: address, port });
    socket.on('error', (error) => settle({ ok: false, reason: reasonOf(error) }));
    // Nothing is asked of the receiver; reading on lets its end of the connection be seen.
    socket.resume();
    socket.on('close', (failed) => {
      if (!failed) settle({ ok: true });
    });
    socket.on('connect', () => socket.end(countedFrames(messages)));
    return () => socket.destroy();
  });
}

/** Nobody confirms a datagram: only a refusal that comes back at once is seen. */
function sendDatagrams(
  messages: readonly string[],
  { address, port }: SyslogReceiver,
  signal: AbortSignal,
): Promise<Delivered> {
  return within({ msMax: deliverMsMax, signal }, (settle) => {
    const socket = createSocket(isIPv6(address) ? 'udp6' : 'udp4');
    const failed = (error: unknown) => settle({ ok: false, reason: reasonOf(error) });
    const sendFrom = (index: number) => {
      const message = messages[index];
      if (message === undefined) return settle({ ok: true });
      socket.send(Buffer.from(message, 'utf8'), (error) => {
        if (error === null) sendFrom(index + 1);
        else failed(error);
      });
    };
    socket.on('error', failed);
    socket.connect(port, address, () => sendFrom(0));
    return () => socket.close();
  });
}
