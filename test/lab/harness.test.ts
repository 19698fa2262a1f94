import { spawn } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sweepStaleRuns } from './harness/cleanup.ts';
import { projectRoot } from './harness/cli.ts';
import { until } from './harness/command.ts';
import { type Lab, restartSshd, startLab, stopLab, stopSshd } from './harness/lab.ts';
import { inNs, mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';
import { snmpSecrets, snmpUsers } from './harness/snmpd.ts';
import { dfPing, linkDown, restoreTopology, setMtu, untilReached } from './harness/topology.ts';
import { auditorHome, keyFile, loginShells, setShell } from './harness/users.ts';

describe('the lab itself, by programs other than hopgauge', () => {
  let lab: Lab;
  beforeAll(async () => {
    const options = { secondWay: true, thirdSwitch: true, router: true, hostBridgeOn: ['vault'] };
    lab = await startLab(planFor(options));
  });
  afterAll(async () => {
    await stopLab(lab);
    expect(existsSync(lab.directory)).toBe(false);
    expect([...lab.machines.values()].filter(({ pid }) => existsSync(`/proc/${pid}`))).toEqual([]);
  });

  const ssh = (command: string, input = '') =>
    inNs(
      lab.auditor,
      [
        ...['ssh', '-F', 'none', '-o', 'BatchMode=yes', '-i', keyFile(lab)],
        ...['-o', `UserKnownHostsFile=${auditorHome(lab)}/.ssh/known_hosts`],
        ...['auditor@198.18.20.11', command],
      ],
      { input },
    );

  it('carries 9000 bytes and not one more between hosts at 9000, over switches at 9216', async () => {
    for (const [from, to] of [
      ['plot', 'vault'],
      ['vault', 'plot'],
      ['plot', 'attic'],
    ] as const) {
      expect((await dfPing(lab, [from, to], 9000)).passes, `${from} to ${to}`).toBe(true);
      expect((await dfPing(lab, [from, to], 9001)).words).toMatch(
        /message too long, mtu[=:] ?9000/i,
      );
    }
  });

  it('drops what a switch port of 1500 does not pass, both ways and without a word', async () => {
    await setMtu(lab, ['loft', 'xg1'], 1500);
    for (const pair of [
      ['plot', 'vault'],
      ['vault', 'plot'],
    ] as const) {
      expect((await dfPing(lab, pair, 1500)).passes).toBe(true);
      const large = await dfPing(lab, pair, 1505);
      expect(large.passes).toBe(false);
      expect(large.words).not.toMatch(/too long|frag/i);
    }
    await restoreTopology(lab);
  });

  it('finds another way once a cable between the switches is cut', async () => {
    await linkDown(lab, ['quay', 'xg8']);
    await untilReached(lab, 'plot', 'vault');
    await restoreTopology(lab);
  });

  it.each(loginShells)('lets the account log in with %s', async (shell) => {
    setShell(lab, 'plot', shell);
    const ran = await ssh('sh -s', 'id -un; uname -n; ls /sys/class/net\n');
    setShell(lab, 'plot', '/bin/bash');
    expect(ran).toEqual({ stdout: 'auditor\nplot\neth0\nlo\nmgmt0\n', stderr: '', code: 0 });
  });

  it('stops and starts one daemon', async () => {
    await stopSshd(lab, 'plot');
    expect((await ssh('true')).stderr).toMatch(/Connection refused/);
    await restartSshd(lab, 'plot');
    expect((await ssh('true')).code).toBe(0);
  });

  it.each(snmpUsers)(
    'answers $user over authPriv ($says)',
    async ({ user, says: [auth, priv] }) => {
      const secrets = ['-A', snmpSecrets.SALTMARSH_AUTH, '-X', snmpSecrets.SALTMARSH_PRIV];
      const level = ['-v3', '-l', 'authPriv', '-u', user, '-a', auth, '-x', priv];
      const get = ['snmpget', '-Oqv', ...level, ...secrets, 'quay-address', '1.3.6.1.2.1.1.5.0'];
      for (const address of ['198.18.1.31', 'udp6:[2001:2:0:1::31]']) {
        const argv = get.map((word) => (word === 'quay-address' ? address : word));
        expect(await mustInNs(lab.auditor, argv)).toBe('"quay"\n');
      }
    },
  );

  it('serves BRIDGE-MIB and LLDP-MIB from real sub-agents', async () => {
    const walk = ['snmpbulkwalk', '-Oqv', '-v2c', '-c', snmpSecrets.SALTMARSH_COMMUNITY];
    const read = async (oid: string) =>
      (await mustInNs(lab.auditor, [...walk, '198.18.1.32', oid])).trim().split('\n');
    // dot1dStpPortState: 5 forwarding, 2 blocking. Of two cables to the root the lower port wins
    // (IEEE 802.1D-2004 17.6); on the cable to cove, loft is designated as the lower bridge.
    expect((await read('1.3.6.1.2.1.17.2.15.1.3')).sort()).toEqual(['2', '5', '5', '5', '5']);
    // lldpLocPortDesc
    expect((await read('1.0.8802.1.1.2.1.3.7.1.4')).length).toBe(5);
  });
});

describe('the end of the lab', () => {
  it.each(['SIGINT', 'SIGKILL'] as const)('leaves no process after %s', async (signal) => {
    const script = join(projectRoot, 'test/lab/harness/hold.ts');
    const child = spawn(process.execPath, ['--import', 'tsx', script], { cwd: projectRoot });
    let said = '';
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString('utf8');
    });
    await until('lab that is held', async () => said.includes('\n'));
    const pids = said.trim().split(' ');
    expect(pids.length).toBe(6);
    expect(pids.filter((pid) => existsSync(`/proc/${pid}`))).toEqual(pids);
    child.kill(signal);
    await until('end of all machines', async () =>
      pids.every((pid) => !existsSync(`/proc/${pid}`)),
    );
    // Another run of the lab may have swept it already.
    sweepStaleRuns();
    const own = `hopgauge-lab-${child.pid}-`;
    expect(readdirSync(tmpdir()).filter((name) => name.startsWith(own))).toEqual([]);
  });
});
