import { type ChildProcess, spawn } from 'node:child_process';
import { createSocket, type Socket as UdpSocket } from 'node:dgram';
import { closeSync, openSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { toolVersion } from '../../src/cli/tool-version.ts';

const main = resolve(import.meta.dirname, '../../src/cli/main.ts');
const tsx = import.meta.resolve('tsx');

let home = '';
let server: Server;
const open = new Set<Socket>();
let port = 0;
/** Takes the datagrams to the same port, and says nothing either. */
let agent: UdpSocket;
/** Called when somebody connects to the server, which then says nothing. */
let onVisit = (): void => {};

beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'hopgauge-main-'));
  server = createServer((socket) => {
    open.add(socket);
    socket.on('error', () => {});
    onVisit();
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const address = server.address();
  port = typeof address === 'object' && address !== null ? address.port : 0;
  agent = createSocket('udp4');
  await new Promise<void>((bound) => agent.bind(port, '127.0.0.1', bound));
});

afterAll(async () => {
  for (const socket of open) socket.destroy();
  await new Promise((closed) => server.close(closed));
  await new Promise<void>((closed) => agent.close(closed));
  await rm(home, { recursive: true });
});

interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

function start(
  argv: readonly string[],
  secrets: Readonly<Record<string, string>> = {},
  out: 'pipe' | number = 'pipe',
): { readonly child: ChildProcess; ended: Promise<Ended> } {
  const child = spawn(process.execPath, ['--import', tsx, main, ...argv], {
    cwd: home,
    env: { PATH: process.env['PATH'], HOME: home, ...secrets },
    stdio: ['ignore', out, 'pipe'],
  });
  let stdout = '';
  let stderr = '';
  child.stdout?.on('data', (chunk: Buffer) => {
    stdout += chunk.toString();
  });
  child.stderr?.on('data', (chunk: Buffer) => {
    stderr += chunk.toString();
  });
  const ended = new Promise<Ended>((done) => {
    child.on('close', (code) => done({ code, stdout, stderr }));
  });
  return { child, ended };
}

describe('the program', () => {
  it('gives its version', async () => {
    const ended = await start(['--version']).ended;
    expect(ended).toEqual({ code: 0, stdout: `${toolVersion()}\n`, stderr: '' });
  });

  it('ends with the status of the command, with problems on stderr', async () => {
    const ended = await start(['audit', 'none.yaml']).ended;
    expect(ended.code).toBe(78);
    expect(ended.stdout).toBe('');
    expect(ended.stderr).toContain('none.yaml:1:1: ');
  });

  it('ends cleanly with 130 when it is interrupted while a node keeps it waiting', async () => {
    const intent = [
      'intent: 1',
      `nodes: { vault: { at: "127.0.0.1:${port}" }, plot-1: { access: [local] } }`,
      'segments: { storage: { mtu: 9000 } }',
      'paths: { plotting: { from: plot-1, to: vault, over: storage } }',
    ];
    await writeFile(join(home, 'hopgauge.yaml'), `${intent.join('\n')}\n`);
    const { child, ended } = start(['audit']);
    onVisit = () => child.kill('SIGINT');
    expect(await ended).toEqual({
      code: 130,
      stdout: '',
      stderr: 'interrupted; nothing was judged or written\n',
    });
  });

  it('says nothing of its own on stderr, however many nodes are read at once', async () => {
    const dead = Array.from({ length: 14 }, (_, i) => `sw-${i}: { at: "127.0.0.1:${port}" }`);
    const intent = [
      'intent: 1',
      'access: { ssh-less: { snmp: { version: 2c, community: QUAY } } }',
      `nodes: { plot-1: { access: [local] }, ${dead.join(', ').replaceAll(' }', ', access: [ssh-less] }')} }`,
      'segments: { storage: { mtu: 9000 } }',
    ];
    await writeFile(join(home, 'many.yaml'), `${intent.join('\n')}\n`);
    const { child, ended } = start(['survey', 'many.yaml'], { QUAY: 'samphire' });
    // Nothing answers there; once the datagrams are out, every reader listens for the interrupt.
    agent.once('message', () => child.kill('SIGINT'));
    expect(await ended).toEqual({
      code: 130,
      stdout: '',
      stderr: 'interrupted; nothing was judged or written\n',
    });
  });

  // full(4): every write to /dev/full fails with ENOSPC.
  it.runIf(process.platform === 'linux')(
    'ends with 73 where what it found cannot be written to stdout (needs Linux)',
    async () => {
      const full = openSync('/dev/full', 'w');
      const { child, ended } = start(['rules', '--facts'], {}, full);
      const { code, stderr } = await ended.finally(() => closeSync(full));
      expect(child.stdout).toBeNull();
      expect(stderr).toBe(
        'hopgauge: stdout: not written to its end (ENOSPC); see that its disk has room, and run this again\n',
      );
      expect(code).toBe(73);
    },
  );

  // ulimit(1p): -f counts 512 bytes. write(2): what still fits is written, and the next write fails.
  it.runIf(process.platform === 'linux')(
    'ends with 73 where a disk takes only the beginning of what it found (needs Linux)',
    async () => {
      const short = 'ulimit -f 2; exec "$@" > facts.txt';
      const node = [process.execPath, '--import', tsx, main, 'rules', '--facts'];
      const child = spawn('sh', ['-c', short, 'sh', ...node], {
        cwd: home,
        env: { PATH: process.env['PATH'], HOME: home, TSX_DISABLE_CACHE: '1' },
        stdio: ['ignore', 'ignore', 'pipe'],
      });
      let stderr = '';
      child.stderr.on('data', (chunk) => {
        stderr += chunk;
      });
      const code = await new Promise((ended) => child.once('close', ended));
      expect(stderr).toContain('hopgauge: stdout: not written to its end (EFBIG)');
      expect(code).toBe(73);
    },
  );

  it.runIf(process.platform === 'linux')(
    'keeps no night that could not be told, and tells it the next time (needs Linux)',
    async () => {
      const intent = [
        'intent: 1',
        'site: the hut',
        'nodes: { plot-1: { access: [local] } }',
        'segments: { storage: { mtu: 9000 } }',
      ];
      await writeFile(join(home, 'hut.yaml'), `${intent.join('\n')}\n`);
      const argv = ['audit', 'hut.yaml', '--changes', '--store', join(home, 'hut.sqlite')];
      const full = openSync('/dev/full', 'w');
      const lost = await start(argv, {}, full).ended.finally(() => closeSync(full));
      expect(lost.stderr).toContain(
        'the hut: this audit is not kept in the history, so that the next one tells what this could not\n',
      );
      expect(lost.code).toBe(73);
      const again = await start(argv).ended;
      expect(again.stdout).toContain('the hut: first audit in this history');
    },
  );

  it('is not at fault when the reader of its output goes away', async () => {
    const { child, ended } = start(['rules', '--facts']);
    child.stdout?.once('data', () => child.stdout?.destroy());
    const { code, stderr } = await ended;
    expect(stderr).toBe('');
    expect(code).toBe(0);
  });
});
