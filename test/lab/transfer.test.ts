import { spawn } from 'node:child_process';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { commandLine, hopgauge } from './harness/cli.ts';
import { until } from './harness/command.ts';
import { type Lab, stopLab } from './harness/lab.ts';
import { childOf, inNs, inside, mustInNs } from './harness/namespaces.ts';
import {
  interpreters,
  measured,
  type TransferLab,
  transfer,
  transferLab,
  withHidden,
} from './harness/transfer-lab.ts';
import { auditorHome } from './harness/users.ts';

let on: TransferLab;
let lab: Lab;
beforeAll(async () => {
  on = await transferLab();
  lab = on.lab;
  before = { plot: await leftOn('plot'), vault: await leftOn('vault') };
});
afterAll(() => stopLab(lab));

/** Processes, listening sockets and files of the account that are on a host. */
async function leftOn(node: string): Promise<string> {
  const script = [
    'for p in /proc/[0-9]*; do tr "\\0" " " <"$p/cmdline" 2>/dev/null | grep -v "leftOn" && echo; done | grep . | sort',
    'ss -Hltn | sort',
    '{ find /home /run /var/tmp /dev/shm -user auditor -type f; find /tmp -maxdepth 1 -user auditor; } 2>/dev/null | sort',
  ];
  const ran = await inNs(lab.machine(node), ['sh', '-c', script.join('\n'), 'leftOn']);
  return ran.stdout
    .split('\n')
    .filter((line) => !/^(?:grep|sort|tr|sh -c for p)\b/.test(line))
    .join('\n');
}
let before: Readonly<Record<'plot' | 'vault', string>>;

async function expectNothingLeft(): Promise<void> {
  for (const node of ['plot', 'vault'] as const) {
    // Its own limit is longer than what is waited here: it must have noticed.
    let left = '';
    const isClean = async () => {
      left = await leftOn(node);
      return left === before[node];
    };
    await until(`nothing left on ${node}`, isClean, { limitMs: 8000 }).catch(() => undefined);
    expect(left, node).toBe(before[node]);
  }
}

/** Enough to see that data passes. */
const small = ['--at-most', '20MB'];

describe('over a cable without a limit', () => {
  it('sends no more than the cap, over several connections and both ways', async () => {
    const done = await transfer(on, ['--at-most', '50MB', '--streams', '3', '--both-ways']);
    for (const at of [0, 1]) {
      expect(measured(done, at)).toMatchObject({ bytes: 50e6, endedBy: 'cap', streams: 3 });
    }
    expect(done.told.directions.map(({ from }) => from)).toEqual(['plot', 'vault']);
    expect(done.told.proofs).toHaveLength(2);
  });

  it('falls back to nc, and says what nc does not tell', async () => {
    const done = await withHidden(on, interpreters, () => transfer(on, []));
    const { ends, absent, bytes, whole } = measured(done);
    expect(ends.map(({ tool }) => tool)).toEqual(['nc', 'nc']);
    expect(bytes).toBeGreaterThan(1e6);
    expect(whole).toBe(true);
    expect(absent).toMatchObject({
      idle: 'nc answers nothing by which a round trip could be taken',
      'from.cpu': 'nc does not tell it',
    });
    await expectNothingLeft();
  });

  it('lets an end without an interpreter meet one with it', async () => {
    const done = await withHidden(on, interpreters, () => transfer(on, small), ['vault']);
    expect(measured(done).ends.map(({ tool }) => tool)).toEqual(['perl', 'nc']);
  });
});

describe('whose port is open', () => {
  const drop = async (node: string) => {
    const rules = [
      'table inet closed {',
      'chain in {',
      'type filter hook input priority 0',
      'iifname eth0 tcp flags & (syn | ack) == syn drop',
      '}',
      '}',
    ].join('\n');
    await mustInNs(lab.machine(node), ['nft', '-f', '-'], { input: `${rules}\n` });
  };
  const open = (node: string) =>
    inNs(lab.machine(node), ['nft', 'delete', 'table', 'inet', 'closed']);
  afterEach(async () => {
    await open('plot');
    await open('vault');
  });

  it('lets the other end listen where a firewall drops, and says so', async () => {
    await drop('vault');
    const { listener, missed } = measured(await transfer(on, small));
    expect(listener).toBe('plot');
    expect(missed).toEqual([
      'with vault listening and plot calling it did not begin: vault gave no answer: a firewall on one of them drops it, or the address is not on the way',
    ]);
  });

  it('says what would help where both drop', async () => {
    await drop('vault');
    await drop('plot');
    const { told, code } = await transfer(on, small);
    expect(code).toBe(2);
    expect(told.directions[0]?.notDone?.seen).toMatch(/vault gave no answer.*plot gave no answer/);
    expect(told.directions[0]?.notDone?.remedy).toMatch(/firewall/);
    await expectNothingLeft();
  });

  it('lets no host listen that says it is macOS, and starts no python3 there', async () => {
    const stub = '#!/bin/sh\necho Darwin\n';
    const plot = lab.machine('plot');
    const script =
      'cat >/run/uname && chmod 755 /run/uname && mount --bind /run/uname /usr/bin/uname';
    await mustInNs(plot, ['sh', '-ec', script], { input: stub });
    try {
      const done = await transfer(on, ['--both-ways', ...small]);
      expect([0, 1].map((at) => measured(done, at).listener)).toEqual(['vault', 'vault']);
      const bare = await withHidden(on, ['/usr/bin/perl'], () => transfer(on, small), ['plot']);
      expect(measured(bare).ends.map(({ tool }) => tool)).toEqual(['nc', 'perl']);
    } finally {
      await mustInNs(plot, ['sh', '-c', 'umount /usr/bin/uname; rm /run/uname']);
    }
  });

  it('lets nobody in who does not come from the other end with the token', async () => {
    const ran = begin(['--for', '5']);
    await until('a port is open', async () => /listens on \S+ port \d+/.test(ran.said()));
    // The load runs by then: the port is closed again, for good.
    await until('the load runs', async () => (await loads('vault')).length > 0);
    const port = /port (\d+)/.exec(ran.said())?.[1] ?? '';
    const listening = await inNs(lab.machine('vault'), ['ss', '-Hltn', `sport = :${port}`]);
    expect(listening.stdout).toBe('');
    process.kill(ran.pid(), 'SIGINT');
    await ran.over;
  });
});

/** Connections of a load that runs. */
async function loads(node: string): Promise<string> {
  const filter = '( sport != :22 and dport != :22 )';
  const words = ['ss', '-Htn', 'state', 'established', filter];
  return (await inNs(lab.machine(node), words)).stdout.trim();
}

function begin(args: readonly string[]) {
  const words = [...commandLine(), 'transfer', 'plot', 'vault', '--intent', on.intent, ...args];
  const [file = '', ...rest] = inside(lab.auditor, words);
  const env = { PATH: process.env['PATH'], HOME: auditorHome(lab), NO_COLOR: '1' };
  const child = spawn(file, rest, { env, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const out of [child.stdout, child.stderr]) {
    out.on('data', (chunk: Buffer) => {
      said += chunk.toString('utf8');
    });
  }
  const over = new Promise<number | null>((resolve) => {
    child.on('close', resolve);
  });
  return { over, said: () => said, pid: () => childOf(child.pid) };
}

describe('nothing stays behind', () => {
  const hide = { perl: [], python3: ['/usr/bin/perl'], nc: interpreters } as const;
  const interrupt = (pid: number) => void process.kill(pid, 'SIGINT');
  const kill = (pid: number) => void process.kill(pid, 'SIGKILL');
  const lose = () => killSession('vault');
  const rows = [
    ['perl', 'Ctrl-C', interrupt, 130],
    ['perl', 'kill -9 of hopgauge', kill, null],
    ['perl', 'a lost connection', lose, 2],
    ['python3', 'kill -9 of hopgauge', kill, null],
    ['nc', 'Ctrl-C', interrupt, 130],
    ['nc', 'a lost connection', lose, 2],
  ] as const;
  for (const [tool, name, end, status] of rows) {
    it(`after ${name}, by ${tool}`, async () => {
      await withHidden(on, hide[tool], async () => {
        const ran = begin(['--for', '20', '--at-most', '1000GB']);
        await until('the load runs', async () => (await loads('vault')) !== '');
        expect(await leftOn('vault')).not.toBe(before.vault);
        await end(ran.pid());
        const code = await ran.over;
        await expectNothingLeft();
        expect(code, ran.said()).toBe(status);
        if (status === 130) expect(ran.said()).toContain('interrupted');
      });
    });
  }
});

/** Ends the server's process of the one session on a host, by its number there. */
async function killSession(node: string): Promise<void> {
  const script = `for p in /proc/[0-9]*; do
    tr '\\0' ' ' <"$p/cmdline" 2>/dev/null | grep -q '^sshd: auditor' && kill -9 "\${p#/proc/}"
  done; :`;
  await mustInNs(lab.machine(node), ['sh', '-c', script]);
}

it('runs on no path that does not allow it, and says where to write what', async () => {
  const ran = await hopgauge(lab, ['transfer', 'plot', 'vault', '--intent', on.refused]);
  expect(ran.code).toBe(78);
  expect(ran.stderr).toMatch(
    /refused\.yaml:\d+:\d+: path plotting does not allow that it is loaded; write load: allowed in it/,
  );
  expect(ran.stdout).toBe('');
});
