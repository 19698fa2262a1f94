import { type ChildProcess, spawn } from 'node:child_process';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { hopgauge, writeRunFile } from './harness/cli.ts';
import { until } from './harness/command.ts';
import { disguise, setLine } from './harness/disguise.ts';
import { intentFor } from './harness/intent.ts';
import { type Lab, restartSshd, startLab, stopLab, stopSshd } from './harness/lab.ts';
import { inNs, inside, ipBatch, mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';
import { openTerminal, type Terminal } from './harness/terminal.ts';

let lab: Lab;
let intent: string;
let tapHolder: ChildProcess;
let terminal: Terminal | undefined;

const holdTap = `import fcntl, struct, time
tap = open('/dev/net/tun', 'rb+', buffering=0)
fcntl.ioctl(tap, 0x400454ca, struct.pack('16sH22x', b'tap0', 0x1002))
time.sleep(600)`;

beforeAll(async () => {
  lab = await startLab(planFor());
  intent = writeRunFile(lab, 'saltmarsh.yaml', intentFor(lab));
  await disguise(lab, ['plot', 'eth0'], { speedMbps: 10_000, duplex: 'Full' });
  const [file = '', ...rest] = inside(lab.machine('vault'), ['python3', '-c', holdTap]);
  tapHolder = spawn(file, rest, { stdio: 'ignore' });
  await until('a tap on vault', async () => {
    return (await inNs(lab.machine('vault'), ['ip', 'link', 'set', 'tap0', 'up'])).code === 0;
  });
});
afterEach(async () => {
  await terminal?.close();
  terminal = undefined;
});
afterAll(async () => {
  tapHolder?.kill();
  await stopLab(lab);
});

/** A terminal that is closed after the case. */
async function open(name: string, args: readonly string[]): Promise<Terminal> {
  const opened = await openTerminal(lab, name, args);
  terminal = opened;
  return opened;
}

/** Processes of the auditor's account on a host: the shell that watches and what it runs. */
async function leftOn(host: string): Promise<string> {
  const script =
    'for p in /proc/[0-9]*; do u=$(stat -c %u "$p" 2>/dev/null) || continue; [ "$u" = 61001 ] && tr "\\0" " " <"$p/cmdline" 2>/dev/null; done; :';
  return (await inNs(lab.machine(host), ['sh', '-c', script])).stdout.trim();
}

const nothingLeft = (host: string) =>
  until(`nothing of the auditor on ${host}`, async () => (await leftOn(host)) === '', {
    limitMs: 6000,
  });

describe('hopgauge live on a terminal', () => {
  it('tells a cord pulled and put in, a speed changed, and ends with Ctrl-C', async () => {
    const args = ['live', 'plot:eth0', 'vault:tap0', '--intent', intent];
    const shown = await open('cord', args);
    await shown.until('the board', /^plot:eth0 +up +10 Gb\/s full/m);
    // Each node is asked over a connection of its own, and none waits for another.
    await shown.until('the other end', /^quay:xg1 +up/m);
    await shown.until('the tap', /^vault:tap0 +up/m);
    expect(await leftOn('plot')).toContain('sh -s');

    await ipBatch(lab.machine('quay'), ['link set xg1 down']);
    await shown.until('the link down', /^\d\d:\d\d:\d\d plot:eth0 link down$/m);
    await shown.until('the agent says so', /^\d\d:\d\d:\d\d quay:xg1 link down/m);
    await setLine(lab, 'plot', { speedMbps: 1000, duplex: 'Full' });
    await ipBatch(lab.machine('quay'), ['link set xg1 up']);
    await shown.until(
      'the link up',
      /^\d\d:\d\d:\d\d plot:eth0 link up at 1 Gb\/s full; declared 10 Gb\/s; the far side offers up to 10 Gb\/s$/m,
    );

    await mustInNs(lab.machine('vault'), [
      'ethtool',
      '-s',
      'tap0',
      'speed',
      '1000',
      'duplex',
      'half',
    ]);
    await shown.until(
      'the speed',
      /^\d\d:\d\d:\d\d vault:tap0 now 1 Gb\/s half, not negotiated, was 10 Gb\/s full/m,
    );

    await shown.resize(60, 20);
    await shown.until('the narrow board', /^port +link +speed +errors\/s\s*$/m);
    await shown.press('C-c');
    const end = await shown.until('the end', /^ended with 0$/m);
    expect(end).toMatch(/^stopped after \d+ s:$/m);
    expect(end).toMatch(
      /^ {2}plot:eth0 2 changes of the link; now link up at 1 Gb\/s full; declared/m,
    );
    // The board is gone: what is left of it would stand between the lines.
    expect(end.match(/Ctrl-C ends it|or with Ctrl-C/g)).toEqual(['Ctrl-C ends it']);
    await Promise.all(['plot', 'vault'].map(nothingLeft));
  });

  it('says that a device is gone, goes on when it is back, and leaves nothing when killed', async () => {
    const shown = await open('gone', ['live', 'vault:eth0', '--one-end', '--intent', intent]);
    await shown.until('the board', /^vault:eth0 +up/m);
    await stopSshd(lab, 'vault');
    // The end of the listening server leaves the session; the session's own server ends it.
    const sessions = await mustInNs(lab.machine('vault'), [
      'sh',
      '-c',
      "ps -eo pid,args | sed -n 's/^ *\\([0-9]*\\) sshd: auditor.*/\\1/p'",
    ]);
    await mustInNs(lab.machine('vault'), ['kill', ...sessions.trim().split('\n')]);
    await shown.until('the loss', /^\d\d:\d\d:\d\d vault no answer: .*; it is tried again$/m);
    await nothingLeft('vault');
    await restartSshd(lab, 'vault');
    await shown.until('the return', /^\d\d:\d\d:\d\d vault answers again after \d+ s$/m);
    expect(await leftOn('vault')).toContain('sh -s');
    await mustInNs(lab.auditor, ['kill', '-KILL', String(await shown.pid())]);
    await shown.until('the end', /^ended with 137$/m);
    await nothingLeft('vault');
  });
});

describe('hopgauge live in a pipe', () => {
  it('prints lines, ends by its time, and leaves nothing', async () => {
    const args = ['live', 'loft:xg1', '--for', '5s', '--quiet', '--intent', intent];
    const { stdout, code } = await hopgauge(lab, args);
    expect(code).toBe(0);
    expect(stdout).toMatch(
      /^\d\d:\d\d:\d\d loft:xg1 link up at 10 Gb\/s full, MTU 9216; the far side's modes not told \(/m,
    );
    expect(stdout).toMatch(/^time over after \d+ s:$/m);
    expect(stdout).not.toContain('\u001b');
    await nothingLeft('vault');
  });

  it('makes one login and says why where it is refused', async () => {
    const bad = intentFor(lab, (draft) => {
      draft.access['hosts'] = { ssh: { user: 'nobody-here', key: '~/.ssh/id_ed25519' } };
    });
    const file = writeRunFile(lab, 'refused.yaml', bad);
    const args = ['live', 'plot:eth0', '--one-end', '--for', '30s', '--intent', file];
    const { stdout, code } = await hopgauge(lab, args);
    expect(code).toBe(2);
    expect(stdout.match(/plot no answer: .*; not tried again: /g)).toHaveLength(1);
    expect(stdout).toMatch(/^nothing is left to watch after [0-9] s:$/m);
  });
});
