import { once } from 'node:events';
import { createServer, Socket } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';

const address = '127.0.0.1';
const everyMs = 20;
const triesMax = 500;

/** A TCP port of loopback where nobody listens. */
export async function freePort(): Promise<number> {
  const server = createServer().listen(0, address);
  await once(server, 'listening');
  const bound = server.address();
  server.close();
  await once(server, 'close');
  if (bound === null || typeof bound === 'string') throw new Error('no port is free');
  return bound.port;
}

/**
 * Waits until somebody listens at a TCP port of loopback, for 10 s at most.
 *
 * @throws where nobody does by then, or the server that is waited for has ended
 */
export async function untilListening(port: number, hasEnded: () => boolean): Promise<void> {
  for (let tries = 0; tries < triesMax; tries += 1) {
    if (hasEnded()) throw new Error(`what should listen at port ${port} has ended`);
    if (await isListening(port)) return;
    await wait(everyMs);
  }
  throw new Error(`nobody listens at port ${port}`);
}

function isListening(port: number): Promise<boolean> {
  return new Promise((done) => {
    const socket = new Socket();
    const say = (answered: boolean) => {
      socket.destroy();
      done(answered);
    };
    socket.on('connect', () => say(true));
    socket.on('error', () => say(false));
    socket.connect(port, address);
  });
}
