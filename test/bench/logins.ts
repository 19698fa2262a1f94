import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';
import pLimit from 'p-limit';
import { nodesAtOnceMax } from '../../src/collect/collect-survey.ts';
import { makeSshDeps } from '../../src/collect/ssh/make-ssh-deps.ts';
import { sshRunner } from '../../src/collect/ssh/ssh-runner.ts';
import { defaultReadLimits } from '../../src/collect/types.ts';
import { freePort, untilListening } from '../tools/loopback-port.ts';

const loginCount = 200;
const answer = 'hopgauge bench';
const script = `echo '${answer}'\n`;
const timeoutMs = 300_000;
/** On a busy machine a login may wait for its turn longer than an audit would let it. */
const limits = { ...defaultReadLimits, connectMs: timeoutMs, wholeMs: timeoutMs };

/** So many logins, one script each, beside the OpenSSH client. */
export type LoginsBench =
  | {
      readonly name: string;
      readonly seconds: number;
      readonly cpuSeconds: number;
      readonly referenceSeconds: number;
      readonly referenceCpuSeconds: number;
      /** Ours by the reference. */
      readonly timeRatio: number;
      readonly cpuRatio: number;
      readonly goal: number;
    }
  | { readonly name: string; readonly skipped: string };

const name = `${loginCount} logins to a real sshd, ${nodesAtOnceMax} at a time`;

/** Logs in with a key, runs one short script and leaves; the reference does the same by `xargs -P`. */
export async function benchLogins(): Promise<LoginsBench> {
  try {
    execFileSync('/usr/sbin/sshd', ['-V'], { stdio: 'ignore' });
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT')
      return { name, skipped: 'sshd is not installed (Debian package openssh-server)' };
  }
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-bench-'));
  const daemon = await startDaemon(folder);
  try {
    // Each once before, so that neither pays for what the other has warmed.
    await ours(folder, daemon.port, 1);
    theirs(folder, daemon.port, 1);
    const own = await ours(folder, daemon.port, loginCount);
    const reference = theirs(folder, daemon.port, loginCount);
    return {
      name,
      ...own,
      referenceSeconds: reference.seconds,
      referenceCpuSeconds: reference.cpuSeconds,
      timeRatio: own.seconds / reference.seconds,
      cpuRatio: own.cpuSeconds / reference.cpuSeconds,
      goal: 1,
    };
  } finally {
    await daemon.stop();
    rmSync(folder, { recursive: true });
  }
}

async function startDaemon(folder: string) {
  for (const key of ['host', 'user'])
    execFileSync('ssh-keygen', ['-q', '-t', 'ed25519', '-N', '', '-f', join(folder, key)]);
  const port = await freePort();
  mkdirSync('/run/sshd', { recursive: true });
  const config = [
    ...[`Port ${port}`, 'ListenAddress 127.0.0.1', `HostKey ${join(folder, 'host')}`],
    ...[`AuthorizedKeysFile ${join(folder, 'user.pub')}`, 'StrictModes no', 'UsePAM no'],
    ...['PermitRootLogin prohibit-password', `MaxStartups ${10 * nodesAtOnceMax}`],
    ...['LogLevel ERROR', `PidFile ${join(folder, 'pid')}`],
  ];
  writeFileSync(join(folder, 'config'), `${config.join('\n')}\n`);
  const [kind, text] = readFileSync(join(folder, 'host.pub'), 'utf8').split(' ');
  writeFileSync(join(folder, 'known'), `[127.0.0.1]:${port} ${kind} ${text}\n`);
  const child = spawn('/usr/sbin/sshd', ['-D', '-e', '-f', join(folder, 'config')], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const lines = createInterface({ input: child.stderr });
  await untilListening(port, () => child.exitCode !== null);
  return {
    port,
    stop: async () => {
      child.kill();
      if (child.exitCode === null) await once(child, 'exit');
      lines.close();
    },
  };
}

async function ours(folder: string, port: number, count: number) {
  const { username, homedir } = userInfo();
  const deps = makeSshDeps({
    own: { userName: username, home: homedir },
    env: {},
    findSecret: async () => undefined,
    knownHosts: [join(folder, 'known')],
  });
  const access = { via: 'ssh', name: 'ssh', user: username, key: join(folder, 'user') } as const;
  const limit = pLimit(nodesAtOnceMax);
  const before = process.cpuUsage();
  const startedMs = performance.now();
  try {
    await Promise.all(
      Array.from({ length: count }, () =>
        limit(async () => {
          const run = sshRunner({ at: '127.0.0.1', atPort: port, access }, deps);
          const outcome = await run(() => script, limits, new AbortController().signal);
          if (!outcome.ok) throw new Error(outcome.trouble.seen);
          if (Buffer.from(outcome.output).toString().trim() !== answer)
            throw new Error('the script did not answer');
        }),
      ),
    );
  } finally {
    deps.jumps.close();
  }
  const { user, system } = process.cpuUsage(before);
  return { seconds: (performance.now() - startedMs) / 1000, cpuSeconds: (user + system) / 1e6 };
}

/** The client alone: what sshd and the script take is the same for both. */
function theirs(folder: string, port: number, count: number) {
  writeFileSync(join(folder, 'script'), script);
  const options = {
    ...{ IdentitiesOnly: 'yes', IdentityFile: join(folder, 'user'), BatchMode: 'yes' },
    ...{ UserKnownHostsFile: join(folder, 'known'), GlobalKnownHostsFile: '/dev/null' },
  };
  const words = Object.entries(options).flatMap(([key, value]) => ['-o', `${key}=${value}`]);
  const ssh = ['ssh', '-F', 'none', '-T', ...words, '-p', String(port), '127.0.0.1', 'sh -s'];
  const one = `${ssh.map((word) => `'${word}'`).join(' ')} <'${join(folder, 'script')}' >/dev/null || exit 255`;
  writeFileSync(join(folder, 'one'), one);
  const all = `seq ${count} | xargs -P ${nodesAtOnceMax} -n 1 sh '${join(folder, 'one')}' && times`;
  const startedMs = performance.now();
  const told = execFileSync('sh', ['-c', all], { encoding: 'utf8', timeout: timeoutMs });
  const seconds = (performance.now() - startedMs) / 1000;
  // times (POSIX 2.15): user and system time of the shell, then of its children.
  const spent = [...told.matchAll(/(\d+)m([\d.]+)s/g)].map(
    ([, m, s]) => Number(m) * 60 + Number(s),
  );
  if (spent.length !== 4) throw new Error(`times printed ${told}`);
  return { seconds, cpuSeconds: spent.reduce((sum, each) => sum + each, 0) };
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  console.log(JSON.stringify(await benchLogins(), null, 2));
}
