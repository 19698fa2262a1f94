import { spawn } from 'node:child_process';
import { setTimeout as wait } from 'node:timers/promises';
import type { Connection, ServerChannel, Session } from 'ssh2';
import type { HostVice } from './host-vice.ts';
import type { HostRecord, HostReply, SshHostOptions } from './ssh-host.ts';

interface Around {
  readonly connection: Connection;
  readonly options: SshHostOptions;
  readonly record: HostRecord;
}

/** Scripts longer than this are not taken, in bytes. */
const scriptBytesMax = 1024 * 1024;

/** Serves the one session of a connection: runs commands, refuses everything else. */
export function answerSession(session: Session, around: Around): void {
  session.on('exec', (accept, reject, info) => {
    around.record.commands.push(info.command);
    if (around.options.vice?.is === 'refuse-exec') {
      reject();
      return;
    }
    const channel = accept();
    channel.on('error', ignore);
    runCommand(channel, info.command, around).catch(ignore);
  });
}

async function runCommand(channel: ServerChannel, command: string, around: Around) {
  const { options } = around;
  if (options.vice?.is === 'no-shell') {
    const { code, says } = options.vice;
    finish(channel, { stdout: '', stderr: says, code });
    return;
  }
  if (command !== commandTaken(options)) {
    finish(channel, notFound(command, options));
    return;
  }
  if (options.shell === true) {
    runInShell(channel);
    return;
  }
  const script = await readScript(channel);
  const reply = (await options.answer?.(script)) ?? { stdout: '' };
  if (reply.delayMs !== undefined) await wait(reply.delayMs, undefined, { ref: false });
  if (options.vice === undefined) {
    finish(channel, reply, options.chunkBytes);
    return;
  }
  misbehave(channel, reply, options.vice, around);
  return;
}

function commandTaken({ windows }: SshHostOptions): string {
  return windows === true ? 'powershell -NoProfile -NonInteractive -Command -' : 'sh -s';
}

/** As `sh` says it, or as cmd does, which is translated (here: English, from memory). */
function notFound(command: string, { windows }: SshHostOptions): HostReply {
  if (windows !== true) return { stdout: '', stderr: `${command}: not found\n`, code: 127 };
  const [name = ''] = command.split(' ');
  const words = `'${name}' is not recognized as an internal or external command,\r\noperable program or batch file.\r\n`;
  return { stdout: '', stderr: words, code: 1 };
}

function readScript(channel: ServerChannel): Promise<string> {
  // Not by async iteration, which would end the channel together with its input.
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    let bytes = 0;
    channel.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes > scriptBytesMax) reject(new Error('script too long'));
      else chunks.push(chunk);
    });
    channel.on('end', () => resolve(Buffer.concat(chunks).toString('utf8')));
    channel.on('close', () => reject(new Error('gone')));
  });
}

function misbehave(channel: ServerChannel, reply: HostReply, vice: HostVice, around: Around): void {
  switch (vice.is) {
    case 'hang':
      return;
    case 'flood':
      flood(vice.on === 'stdout' ? channel : channel.stderr, vice.says ?? 'flood ');
      return;
    case 'close-mid-reply':
      channel.write(Buffer.from(reply.stdout).subarray(0, vice.afterBytes), () => {
        // After the bytes have left, or none of them might.
        setImmediate(() => around.connection.end());
      });
      return;
    case 'noisy-start':
      finish(channel, { ...reply, stdout: `${vice.says}${reply.stdout}` });
      return;
    case 'garbage':
      finish(channel, { stdout: garbage() });
      return;
    case 'killed':
      channel.write(reply.stdout, () => {
        channel.exit(vice.signal, false, 'killed');
        channel.close();
      });
      return;
    default:
      finish(channel, reply);
  }
}

/** All byte values, the unprintable ones and broken UTF-8 among them, in a fixed order. */
function garbage(): Buffer {
  return Buffer.from(Array.from({ length: 4096 }, (_, index) => (index * 167 + 13) % 256));
}

function flood(stream: NodeJS.WritableStream, says: string): void {
  const block = Buffer.alloc(32 * 1024, says);
  const pour = () => {
    // Until the other side takes no more, and again when it does; a closed stream ends it.
    while (stream.writable && stream.write(block));
  };
  stream.on('drain', pour);
  pour();
}

function finish(channel: ServerChannel, reply: HostReply, chunkBytes?: number): void {
  if (reply.stderr !== undefined) channel.stderr.write(reply.stderr);
  const output = Buffer.from(reply.stdout);
  const step = chunkBytes ?? Math.max(1, output.length);
  for (let at = 0; at < output.length; at += step) channel.write(output.subarray(at, at + step));
  channel.exit(reply.code ?? 0);
  channel.end();
}

function runInShell(channel: ServerChannel): void {
  const shell = spawn('sh', ['-s'], { stdio: ['pipe', 'pipe', 'pipe'] });
  shell.stdin.on('error', ignore);
  channel.pipe(shell.stdin);
  shell.stdout.pipe(channel, { end: false });
  shell.stderr.pipe(channel.stderr, { end: false });
  channel.on('close', () => shell.kill('SIGKILL'));
  shell.on('close', (code, signal) => {
    if (signal === null) channel.exit(code ?? 0);
    else channel.exit(signal.slice(3));
    channel.end();
  });
}

function ignore(): void {}
