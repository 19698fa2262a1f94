import { connect } from 'node:net';
import type { AcceptConnection, RejectConnection, ServerChannel, TcpipRequestInfo } from 'ssh2';

/** Connects a logged-in user on to a loopback address, and to nothing else. */
export function passOn(
  accept: AcceptConnection<ServerChannel>,
  reject: RejectConnection,
  info: TcpipRequestInfo,
): void {
  if (!/^127\.\d+\.\d+\.\d+$/.test(info.destIP)) {
    reject();
    return;
  }
  const socket = connect(info.destPort, info.destIP);
  let open = false;
  socket.once('connect', () => {
    open = true;
    const channel = accept();
    channel.on('error', ignore);
    channel.on('close', () => socket.destroy());
    socket.on('close', () => channel.end());
    socket.pipe(channel).pipe(socket);
  });
  socket.on('error', () => {
    if (!open) reject();
  });
}

function ignore(): void {}
