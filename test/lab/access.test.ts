import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { fitSchema } from '../../src/report/fit-schema.ts';
import { sentByAuditor } from './harness/audit.ts';
import { hopgauge, newHome, writeRunFile } from './harness/cli.ts';
import { until } from './harness/command.ts';
import { intentFor } from './harness/intent.ts';
import {
  type Lab,
  restartSnmpd,
  restartSshd,
  settle,
  startLab,
  stopLab,
  stopSnmpd,
  stopSshd,
} from './harness/lab.ts';
import { inNs, mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';
import { setMtu } from './harness/topology.ts';

let lab: Lab;
let intent: string;
beforeAll(async () => {
  lab = await startLab(planFor());
  intent = writeRunFile(lab, 'saltmarsh.yaml', intentFor(lab));
});
afterAll(() => stopLab(lab));

describe('hopgauge access', () => {
  const open = (line: string) => new RegExp(`^${line}: open \\(`, 'm');

  it('opens every door of a healthy site', async () => {
    const { stdout, code } = await hopgauge(lab, ['access', intent]);
    expect(code).toBe(0);
    for (const door of ['loft: snmp 198.18.1.32', 'quay: snmp 198.18.1.31']) {
      expect(stdout).toMatch(open(door));
    }
    for (const door of ['plot: ssh 198.18.20.11', 'vault: ssh 198.18.20.12']) {
      expect(stdout).toMatch(open(door));
    }
    expect(stdout).toMatch(/4 of 4 doors open/);
  });

  it('says at which step each door stays shut, and tries the steps behind it no more', async () => {
    await stopSshd(lab, 'vault');
    await stopSnmpd(lab, 'quay');
    const env = { SALTMARSH_AUTH: 'another-authentication-passphrase' };
    const { stdout, code } = await hopgauge(lab, ['access', intent], { env });
    await restartSshd(lab, 'vault');
    await restartSnmpd(lab, 'quay');
    expect(code).toBe(2);
    expect(stepsOf(stdout, 'vault: ssh 198.18.20.12')).toEqual({
      ...{ name: 'ok', reach: 'failed', 'host key': 'not tried', login: 'not tried' },
      shell: 'not tried',
    });
    expect(stepsOf(stdout, 'quay: snmp 198.18.1.31')).toMatchObject({
      name: 'ok',
      reach: 'failed',
    });
    expect(stepsOf(stdout, 'loft: snmp 198.18.1.32')).toMatchObject({
      ...{ name: 'ok', secret: 'ok', reach: 'ok', user: 'ok', auth: 'failed' },
      privacy: 'not tried',
    });
    expect(stdout).toMatch(open('plot: ssh 198.18.20.11'));
    expect(stdout).not.toMatch(/another-authentication|lab-only/);
  });

  it('makes one attempt at each host', async () => {
    const log = join(lab.directory, 'plot-sshd.log');
    const logins = () =>
      readFileSync(log, 'utf8')
        .split('\n')
        .filter((line) => /Accepted|Failed|Invalid|preauth/.test(line));
    const before = logins().length;
    await hopgauge(lab, ['access', intent]);
    const made = logins().slice(before);
    expect(made).toEqual([
      expect.stringMatching(/^Accepted publickey for auditor from 198.18.1.2 /),
    ]);
  });

  it('records host keys after a typed yes, and never without', async () => {
    const home = await newHome(lab, 'enrol');
    const known = join(home, '.ssh/known_hosts');
    await mustInNs(lab.auditor, ['rm', known]);
    const enrol = (typed: string) => hopgauge(lab, ['access', intent, '--enrol'], { home, typed });
    const keys = await Promise.all(
      ['plot', 'vault'].map(async (host) => {
        const file = join(lab.directory, `${host}-host-key-first.pub`);
        const text = await mustInNs(lab.auditor, ['ssh-keygen', '-l', '-f', file]);
        return text.split(' ')[1] ?? '';
      }),
    );

    const refused = await enrol('no');
    for (const key of keys) expect(refused.stdout).toContain(key);
    expect(refused.stdout).toMatch(/nothing recorded/);
    const without = await hopgauge(lab, ['access', intent, '--enrol'], { home, input: 'yes\n' });
    expect(without.stdout).toMatch(/nothing recorded/);
    await expect(mustInNs(lab.auditor, ['test', '-e', known])).rejects.toThrow();

    const agreed = await enrol('yes');
    expect(agreed.stdout).toMatch(/2 recorded/);
    const listed = await mustInNs(lab.auditor, ['ssh-keygen', '-l', '-f', known]);
    expect(
      listed
        .trim()
        .split('\n')
        .map((line) => line.split(' ').slice(1, 3).join(' ')),
    ).toEqual([`${keys[0]} 198.18.20.11`, `${keys[1]} 198.18.20.12`]);
    expect((await hopgauge(lab, ['access', intent], { home })).code).toBe(0);
  });

  /** Step and outcome of one door, from its indented lines. */
  function stepsOf(text: string, door: string): Readonly<Record<string, string>> {
    const lines = text.split('\n');
    const first = lines.findIndex((line) => line.startsWith(`${door}: not open`));
    expect(first, text).toBeGreaterThanOrEqual(0);
    const steps = new Map<string, string>();
    for (const line of lines.slice(first + 1)) {
      if (!line.startsWith(' ')) break;
      const [, step, outcome] = /^ {2}(\S[\w ]*?) {2,}(ok|failed|not tried)/.exec(line) ?? [];
      if (step !== undefined && outcome !== undefined) steps.set(step, outcome);
    }
    return Object.fromEntries(steps);
  }
});

describe('nothing is sent that was not asked for', () => {
  it.each([
    ['audit', ['audit']],
    ['survey', ['survey']],
    ['access', ['access']],
    ['fit', ['fit', 'plot', 'vault', '--intent']],
  ])('%s --show-commands sends no packet', async (_name, words) => {
    const before = await sentByAuditor(lab);
    const { stdout, code } = await hopgauge(lab, [...words, intent, '--show-commands']);
    expect(await sentByAuditor(lab)).toEqual(before);
    expect({ code, first: stdout.length > 40 }).toEqual({ code: 0, first: true });
    expect(stdout).not.toMatch(/lab-only/);
  });

  it('the same counters see an audit', async () => {
    const before = await sentByAuditor(lab);
    expect((await hopgauge(lab, ['audit', intent])).code).toBe(0);
    const after = await sentByAuditor(lab);
    expect(after['Tcp:ActiveOpens']).toBe((before['Tcp:ActiveOpens'] ?? 0) + 2);
    expect(after['Udp:OutDatagrams']).toBeGreaterThan(before['Udp:OutDatagrams'] ?? 0);
  });

  it('an audit of the intent sends nothing over the data path', async () => {
    const counter = '/sys/class/net/eth0/statistics/tx_packets';
    const sent = async () => Number(await mustInNs(lab.machine('plot'), ['cat', counter]));
    const before = await sent();
    await hopgauge(lab, ['audit', intent]);
    expect(await sent()).toBe(before);
  });
});

describe('hopgauge survey', () => {
  it('reads this machine for an unprivileged account', async () => {
    const ran = await hopgauge(lab, ['survey'], { uid: 65_534, home: '/nonexistent', cwd: '/' });
    expect(ran.code, ran.stderr).toBe(0);
    expect(ran.stdout).toMatch(/mgmt0/);
    expect(ran.stdout).toMatch(/198\.18\.1\.2/);
  });

  it('saves what an audit judges again to the same bytes', async () => {
    await settle(lab, () => setMtu(lab, ['quay', 'xg8'], 1500));
    const saved = join(lab.directory, 'tuesday.json');
    expect((await hopgauge(lab, ['survey', intent, '--out', saved])).code).toBe(0);
    await settle(lab);
    const judged = async () => {
      const args = ['audit', intent, '--survey', saved, '--format', 'json'];
      const before = await sentByAuditor(lab);
      const { stdout, code } = await hopgauge(lab, args);
      expect(await sentByAuditor(lab)).toEqual(before);
      expect(code).toBe(1);
      // All but the two lines that say when it was judged.
      return stdout.replace(/^ {2}"(startedAt|endedAt)": .*$/gm, '');
    };
    const first = await judged();
    expect(await judged()).toBe(first);
    const { findings } = parseJson(first.replace(/^\n/gm, '')) as {
      readonly findings: readonly { readonly cause: string; readonly severity: string }[];
    };
    const causes = findings
      .filter(({ severity }) => severity !== 'notice')
      .map(({ cause }) => cause);
    expect(new Set(causes)).toEqual(new Set(['mtu quay:xg8']));
  });
});

describe('hopgauge fit', () => {
  const lost = { bytes: 2000, by: 'silence', eitherWay: true };
  const own = { bytes: 2000, by: 'interface', mtuBytes: 1500, device: 'eth0', eitherWay: false };
  const rows = [
    ['nothing', undefined, 0, [9000, undefined], [9000, undefined]],
    ['a switch port', ['quay', 'xg8'], 1, [1500, lost], [1500, lost]],
    ['the sender', ['plot', 'eth0'], 1, [1500, own], [1500, lost]],
  ] as const;
  it.each(rows)('%s is small', async (_name, port, status, there, back) => {
    await settle(lab, async () => {
      if (port !== undefined) await setMtu(lab, port, 1500);
    });
    const args = ['fit', '--path', 'plotting', '--intent', intent, '--format', 'json'];
    const { stdout, stderr, code } = await hopgauge(lab, args);
    expect(code).toBe(status);
    const told = fitSchema.parse(parseJson(stdout));
    const [pair] = told.pairs;
    expect(pair?.directions.map(({ provenBytes, loss }) => [provenBytes, loss])).toEqual([
      there,
      back,
    ]);
    expect(told.proofs.map(({ provenMtuBytes }) => provenMtuBytes)).toEqual([there[0], back[0]]);
    expect(stderr).toMatch(/^from plot to 198\.18\.20\.12: at most 12 echo requests/);
  });

  it('leaves nothing behind when it is interrupted, or killed', async () => {
    await settle(lab, () => setMtu(lab, ['quay', 'xg8'], 1500));
    for (const signal of ['INT', 'KILL'] as const) {
      const begun = hopgauge(lab, ['fit', 'plot', 'vault', '--intent', intent]);
      const pings = async (how: RegExp) =>
        how.test((await inNs(lab.machine('plot'), ['ps', '-eo', 'args'])).stdout);
      await until('a ping on plot', () => pings(/^ping -n -M do/m));
      const ids = (await mustInNs(lab.auditor, ['pgrep', '-f', 'cli/main.* fit plot'])).trim();
      await mustInNs(lab.auditor, ['kill', `-${signal}`, ...ids.split('\n')]);
      expect((await begun).code).not.toBe(0);
      await until('no ping and no shell on plot', async () => !(await pings(/^(ping|sh -s)/m)));
    }
  });
});
