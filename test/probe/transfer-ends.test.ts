import { type ChildProcess, spawn } from 'node:child_process';
import { connect, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { transferProgram } from '../../src/probe/transfer-program.ts';
import type { TransferRole } from '../../src/probe/transfer-types.ts';

const token = '00112233445566778899aabbccddeeff';
const role: TransferRole = {
  ...{ marker: 'mark-7', role: 'listen', way: 'receive', own: '127.0.0.1', peer: '127.0.0.1' },
  ...{ port: 0, token, streams: 1, seconds: 3, bytesMax: 1e6, plain: false },
};

let child: ChildProcess | undefined;
afterEach(() => {
  child?.kill('SIGKILL');
});

interface Running {
  readonly said: (pattern: RegExp) => Promise<string>;
  readonly over: Promise<number | null>;
  readonly endInput: () => void;
}

/** The real program in the real language, on loopback. */
function start(tool: 'perl' | 'python3', more: Partial<TransferRole> = {}): Running {
  const flags = tool === 'perl' ? ['-e'] : ['-I', '-c'];
  const run = spawn(tool, [...flags, transferProgram(tool, { ...role, ...more })], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  child = run;
  let text = '';
  const looks = new Set<() => void>();
  run.stdout.on('data', (chunk: Buffer) => {
    text += chunk.toString();
    for (const look of [...looks]) look();
  });
  const over = new Promise<number | null>((resolve) => run.on('close', resolve));
  const said = (pattern: RegExp) =>
    new Promise<string>((resolve, reject) => {
      const look = () => {
        const found = pattern.exec(text);
        if (found !== null) resolve(found[1] ?? found[0]);
      };
      looks.add(look);
      look();
      const fail = () => reject(new Error(`ended and did not say ${pattern}: ${text}`));
      over.then(fail, fail);
    });
  return { said, over, endInput: () => run.stdin.end() };
}

/** What a caller hears until it has heard so many bytes, or the line is closed. */
function call(port: string, hello: string, from = '127.0.0.1', bytes = 1) {
  const socket: Socket = connect({ port: Number(port), host: '127.0.0.1', localAddress: from });
  socket.on('error', () => undefined);
  socket.write(hello);
  const heard = new Promise<string>((resolve) => {
    let text = '';
    socket.on('data', (chunk: Buffer) => {
      text += chunk.toString('latin1');
      if (text.length >= bytes) resolve(text);
    });
    socket.on('close', () => resolve(text));
  });
  return { socket, heard };
}

describe.each(['perl', 'python3'] as const)('one end by %s', (tool) => {
  it('lets in the other end with the token alone, and counts what comes', async () => {
    const { said, over } = start(tool);
    const port = await said(/^mark-7 port (\d+)$/m);
    expect(await call(port, `${'0'.repeat(32)}\n`).heard).toBe('');
    // All of 127.0.0.0/8 is this machine; only Linux binds to it without more.
    expect(await call(port, `${token}\n`, '127.0.0.2').heard).toBe('');
    const { socket, heard } = call(port, `${token}\n`);
    expect(await heard).toBe('+');
    // The port is closed again: nobody else can come.
    expect(await call(port, `${token}\n`).heard).toBe('');
    socket.end(`!${'x'.repeat(5000)}`);
    expect(await said(/^mark-7 got \d+ (\d+ \w+)$/m)).toBe('5000 whole');
    expect(await over).toBe(0);
  });

  it('gives up on strangers', async () => {
    const { said, over } = start(tool);
    const port = await said(/^mark-7 port (\d+)$/m);
    for (let at = 0; at < 17; at += 1) await call(port, `${'0'.repeat(33)}`).heard;
    expect(await said(/^mark-7 (failed \w+ \d+)$/m)).toBe('failed nobody 17');
    expect(await over).toBe(0);
  });

  it('sends no more than its cap', async () => {
    const { said, over } = start(tool, { way: 'send', bytesMax: 3000, plain: true });
    const port = await said(/^mark-7 port (\d+)$/m);
    const { socket, heard } = call(port, `${token}\n`, '127.0.0.1', 1e6);
    socket.on('end', () => socket.end());
    expect(await heard).toHaveLength(3000);
    expect(await said(/^mark-7 sent \d+ (\d+ \w+)$/m)).toBe('3000 cap');
    expect(await over).toBe(0);
  });

  it.each([
    ['while it waits', false],
    ['while it receives', true],
  ])('ends with its input %s', async (_, busy) => {
    const { said, over, endInput } = start(tool, { plain: true });
    const port = await said(/^mark-7 port (\d+)$/m);
    const { socket } = call(port, busy ? `${token}\nxxx` : '');
    if (busy) await said(/^mark-7 idle/m);
    endInput();
    expect(await over).toBe(3);
    socket.destroy();
  });

  it('says why it cannot call', async () => {
    const { said } = start(tool, { role: 'connect', way: 'send', port: 1 });
    expect(await said(/^mark-7 (failed .*)$/m)).toBe('failed connect refused');
  });

  it('says that the address is not its own', async () => {
    const { said } = start(tool, { own: '198.18.99.99', peer: '198.18.99.98' });
    expect(await said(/^mark-7 (failed .*)$/m)).toBe('failed bind no-address');
  });
});
