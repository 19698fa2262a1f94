import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';

/** Something on loopback to connect to. */
export interface RawDoor {
  readonly port: number;
  /** Connections taken so far. */
  readonly callers: () => number;
  readonly stop: () => Promise<void>;
}

/** Takes connections and does with each what `greet` does. */
export async function rawDoor(greet: (caller: Socket) => void): Promise<RawDoor> {
  const open = new Set<Socket>();
  let callers = 0;
  const server = createServer((caller) => {
    callers += 1;
    open.add(caller);
    caller.on('error', () => undefined);
    caller.on('close', () => open.delete(caller));
    greet(caller);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  return {
    port: (server.address() as AddressInfo).port,
    callers: () => callers,
    stop: async () => {
      const closed = once(server, 'close');
      server.close();
      for (const caller of open) caller.destroy();
      await closed;
    },
  };
}

/** A port where nobody listens: the connection is refused. */
export async function closedDoor(): Promise<RawDoor> {
  const door = await rawDoor(() => undefined);
  await door.stop();
  return { ...door, stop: async () => undefined };
}

/** Says `block` again and again, for as long as the caller takes it. */
export function pourTo(caller: Socket, block: string): void {
  const pour = () => {
    while (caller.writable && caller.write(block));
  };
  caller.on('drain', pour);
  pour();
}

/** Passes callers on to a port; where that ends a connection, the caller sees a reset. */
export function resettingDoor(port: number, callers?: (caller: Socket) => void): Promise<RawDoor> {
  return rawDoor((caller) => {
    callers?.(caller);
    const inner = connect(port, '127.0.0.1');
    inner.on('error', () => undefined);
    // What was sent has arrived on loopback before the end is told.
    inner.on('close', () => setImmediate(() => caller.resetAndDestroy()));
    inner.on('data', (chunk) => caller.write(chunk));
    caller.on('data', (chunk) => inner.write(chunk));
    caller.on('close', () => inner.destroy());
  });
}

/** Listens in a thread that then stands still: nobody takes what the kernel has queued. */
const deafThread = `
  const { parentPort, workerData } = require('node:worker_threads');
  const server = require('node:net').createServer();
  server.listen({ port: 0, host: '127.0.0.1', backlog: 1 }, () => {
    parentPort.postMessage(server.address().port);
    setImmediate(() => {
      Atomics.wait(new Int32Array(workerData), 0, 0);
      server.close();
    });
  });
`;
/** Connections that fill its queue, and some more (Linux takes one more than the backlog). */
const queueFill = 4;

/** A port that answers no SYN, since the queue of its listener is full. */
export async function deafDoor(): Promise<RawDoor> {
  const shared = new SharedArrayBuffer(4);
  const thread = new Worker(deafThread, { eval: true, workerData: shared });
  const [port] = (await once(thread, 'message')) as [number];
  const fillers = Array.from({ length: queueFill }, () => connect(port, '127.0.0.1'));
  for (const filler of fillers) filler.on('error', () => undefined);
  // Those that fit are connected at once on loopback.
  await wait(50);
  return {
    port,
    callers: () => 0,
    stop: async () => {
      for (const filler of fillers) filler.destroy();
      Atomics.store(new Int32Array(shared), 0, 1);
      Atomics.notify(new Int32Array(shared), 0);
      await thread.terminate();
    },
  };
}
