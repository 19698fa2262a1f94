import { createSocket } from 'node:dgram';
import { once } from 'node:events';
import { type AddressInfo, createServer } from 'node:net';
import { onTestFinished } from 'vitest';

/** What came over one connection at a time, whole once the sender has closed it. */
export interface StreamReceiver {
  readonly port: number;
  readonly whole: Promise<Buffer>;
}

/** A receiver on loopback, or on a socket in the file system. */
export async function streamReceiver(path?: string): Promise<StreamReceiver> {
  const server = createServer({ allowHalfOpen: false });
  const whole = new Promise<Buffer>((resolve) => {
    server.on('connection', (socket) => {
      const chunks: Buffer[] = [];
      socket.on('data', (chunk: Buffer) => chunks.push(chunk));
      socket.on('end', () => resolve(Buffer.concat(chunks)));
      socket.on('error', () => {});
    });
  });
  if (path === undefined) server.listen(0, '127.0.0.1');
  else server.listen(path);
  await once(server, 'listening');
  onTestFinished(() => {
    server.close();
  });
  const address = server.address();
  return { port: typeof address === 'object' ? ((address as AddressInfo)?.port ?? 0) : 0, whole };
}

/** A receiver of datagrams on loopback, and the first `count` of them. */
export async function datagramReceiver(
  count: number,
): Promise<{ readonly port: number; readonly messages: Promise<readonly string[]> }> {
  const socket = createSocket('udp4');
  const messages = new Promise<readonly string[]>((resolve) => {
    const came: string[] = [];
    socket.on('message', (message) => {
      came.push(message.toString('utf8'));
      if (came.length === count) resolve(came);
    });
  });
  socket.bind(0, '127.0.0.1');
  await once(socket, 'listening');
  onTestFinished(() => {
    socket.close();
  });
  return { port: socket.address().port, messages };
}

/** A port of loopback where nothing listens. */
export async function deafPort(): Promise<number> {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}
