import type { AddressInfo } from 'node:net';
import { createServer, type Server, type Socket } from 'node:net';
import type { Connection } from 'ssh2';
import ssh2 from 'ssh2';
import { hostKeyOf } from './host-key.ts';
import { answerAuthentication, type HostLogin } from './host-login.ts';
import { answerSession } from './host-session.ts';
import type { HostVice } from './host-vice.ts';
import { makeKeyPair } from './make-key-pair.ts';
import { passOn } from './pass-on.ts';

/** What a host answers to a script. */
export interface HostReply {
  readonly stdout: string | Uint8Array;
  readonly stderr?: string;
  /** Exit status; 0 by default. */
  readonly code?: number;
  readonly delayMs?: number;
}

export interface SshHostOptions {
  readonly login?: HostLogin;
  /** What the host prints for a script; by default nothing. */
  readonly answer?: (script: string) => HostReply | Promise<HostReply>;
  /** Runs the script in a real `sh -s` of this machine instead. For tests only. */
  readonly shell?: boolean;
  /** Software version in its identification string (RFC 4253 section 4.2). */
  readonly ident?: string;
  /** Has cmd as its default shell, and PowerShell that takes scripts, but no `sh`. */
  readonly windows?: boolean;
  /** Private key in OpenSSH form; by default a fresh Ed25519 key. */
  readonly hostKeys?: readonly string[];
  /** Lets logged-in users connect on to loopback addresses, as a jump host does. */
  readonly forwards?: boolean;
  /** Cuts all output into pieces of this many bytes. */
  readonly chunkBytes?: number;
  readonly vice?: HostVice;
}

/** A running host on loopback. */
export interface SshHost {
  readonly address: string;
  readonly port: number;
  /** Lines for known_hosts, one for each host key. */
  readonly hostKeyLines: readonly string[];
  /** Of the first host key, as `SHA256:...`. */
  readonly fingerprint: string;
  /** TCP connections taken so far. */
  readonly connections: () => number;
  /** Logins that succeeded so far. */
  readonly sessions: () => number;
  /** Commands asked for so far, in order. */
  readonly commands: () => readonly string[];
  /** Login attempts with a credential so far, as `method user`. */
  readonly attempts: () => readonly string[];
  /** Most connections that were open, and not yet logged in, at one time. */
  readonly handshakesAtOnce: () => number;
  /** Most connections that were logged in at one time. */
  readonly sessionsAtOnce: () => number;
  readonly stop: () => Promise<void>;
}

/** What a host remembers of those who called. */
export interface HostRecord {
  connections: number;
  sessions: number;
  handshaking: number;
  handshakesAtOnce: number;
  loggedIn: number;
  sessionsAtOnce: number;
  refusals: number;
  readonly commands: string[];
  readonly attempts: string[];
}

/** Starts a simulated host with an SSH server on a free port of 127.0.0.1. */
export async function startSshHost(options: SshHostOptions = {}): Promise<SshHost> {
  const record: HostRecord = {
    connections: 0,
    sessions: 0,
    handshaking: 0,
    handshakesAtOnce: 0,
    loggedIn: 0,
    sessionsAtOnce: 0,
    refusals: 0,
    commands: [],
    attempts: [],
  };
  const hostKeys = options.hostKeys ?? [makeKeyPair().private];
  const ssh = new ssh2.Server(
    { hostKeys: [...hostKeys], ...(options.ident === undefined ? {} : { ident: options.ident }) },
    (connection) => serve(connection, options, record),
  );
  const open = new Set<Socket>();
  const server = createServer({ noDelay: true }, (socket) => {
    open.add(socket);
    socket.on('error', ignore);
    socket.on('close', () => open.delete(socket));
    record.connections += 1;
    welcome(ssh, socket, options.vice, record.connections);
  });
  const port = await listen(server);
  const keys = hostKeys.map((key) => hostKeyOf(key));
  return {
    address: '127.0.0.1',
    port,
    hostKeyLines: keys.map((key) => `[127.0.0.1]:${port} ${key.type} ${key.base64}`),
    fingerprint: keys[0]?.fingerprint ?? '',
    connections: () => record.connections,
    sessions: () => record.sessions,
    commands: () => [...record.commands],
    attempts: () => [...record.attempts],
    handshakesAtOnce: () => record.handshakesAtOnce,
    sessionsAtOnce: () => record.sessionsAtOnce,
    stop: () => stop(server, open),
  };
}

/** Greets a caller, in the way of the host's vice where it has one before the handshake. */
function welcome(ssh: ssh2.Server, socket: Socket, vice: HostVice | undefined, call: number): void {
  switch (vice?.is) {
    case 'silent':
      return;
    case 'not-ssh':
      socket.end(vice.says);
      return;
    case 'busy':
      if (call > vice.times) break;
      socket.end(vice.says ?? '');
      return;
    case 'slow-greeting':
      setTimeout(() => ssh.injectSocket(socket), vice.delayMs).unref();
      return;
    default:
  }
  ssh.injectSocket(socket);
}

function serve(connection: Connection, options: SshHostOptions, record: HostRecord): void {
  record.handshaking += 1;
  record.handshakesAtOnce = Math.max(record.handshakesAtOnce, record.handshaking);
  let shaking = true;
  const shaken = () => {
    if (shaking) record.handshaking -= 1;
    shaking = false;
  };
  connection.on('error', ignore);
  connection.on('close', shaken);
  connection.on('authentication', (context) => {
    answerAuthentication(context, { login: options.login ?? {}, record, connection });
  });
  connection.on('ready', () => {
    shaken();
    record.sessions += 1;
    record.loggedIn += 1;
    record.sessionsAtOnce = Math.max(record.sessionsAtOnce, record.loggedIn);
    connection.on('close', () => {
      record.loggedIn -= 1;
    });
    connection.on('session', (accept) => answerSession(accept(), { connection, options, record }));
    if (options.forwards === true) connection.on('tcpip', passOn);
  });
}

function listen(server: Server): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => resolve((server.address() as AddressInfo).port));
  });
}

function stop(server: Server, open: ReadonlySet<Socket>): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve());
    for (const socket of open) socket.destroy();
  });
}

function ignore(): void {}
