import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeKeyPair } from '../../mocks/ssh-host/make-key-pair.ts';
import { type SshHost, type SshHostOptions, startSshHost } from '../../mocks/ssh-host/ssh-host.ts';
import { answerPowershell } from '../../mocks/windows-output/answer-powershell.ts';
import type { DescribedWindows } from '../../mocks/windows-output/described-windows.ts';
import { nodeReader } from '../../src/cli/node-reader.ts';
import { run } from '../../src/cli/run.ts';
import { plot3 } from '../collect/windows/described.ts';
import { type FakeRun, fakeRun } from './fake-io.ts';

const command = 'powershell -NoProfile -NonInteractive -Command -';
const key = makeKeyPair();
let home = '';
let host: SshHost | undefined;

beforeEach(async () => {
  home = await mkdtemp(join(tmpdir(), 'hopgauge-windows-'));
});
afterEach(async () => {
  await host?.stop();
  await rm(home, { recursive: true });
});

/** Starts the host, and a process that reaches it as `plot-3`. */
async function reached(
  described: DescribedWindows,
  { ssh = '{ user: auditor }', ...options }: SshHostOptions & { ssh?: string } = {},
): Promise<FakeRun> {
  const started = await startSshHost({
    login: { user: 'auditor', keys: [key.public] },
    ident: 'OpenSSH_for_Windows_9.5',
    windows: true,
    answer: (script) => ({ stdout: answerPowershell(described, script) ?? '' }),
    ...options,
  });
  host = started;
  const folder = join(home, '.ssh');
  await mkdir(folder, { mode: 0o700 });
  await writeFile(join(folder, 'id_ed25519'), key.private, { mode: 0o600 });
  await writeFile(join(folder, 'known_hosts'), `${started.hostKeyLines.join('\n')}\n`);
  const intent = `intent: 1
site: Saltmarsh survey office
access: { hosts: { ssh: ${ssh} } }
nodes:
  plot-3: { at: plot-3.office.example, access: [hosts] }
  quay-sw: { unread: switch, frame: 9216 }
segments: { storage: { vlan: 20, mtu: 9000 } }
links: [{ ends: ["plot-3:Ethernet", quay-sw:xg4], tagged: storage, speed: 10G }]
`;
  const fake = fakeRun({ files: { 'hopgauge.yaml': intent }, columns: 200 });
  const io = {
    ...fake.io,
    own: { home, userName: 'auditor' },
    sshSettings: { configFiles: [], openSsh: false },
    locate: async () => ({ address: started.address, port: started.port }),
  };
  const { read } = nodeReader(io);
  return { ...fake, io: { ...io, read } };
}

describe('a Windows host whose default shell is cmd', () => {
  it('lets in: the trial runs in PowerShell', async () => {
    const fake = await reached(plot3);
    expect(await run(['access'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('plot-3: ssh plot-3.office.example: open');
    expect(host?.commands()).toEqual([command]);
  });

  it('is surveyed, in one login and one command', async () => {
    const fake = await reached(plot3);
    expect(await run(['survey', '--out', 'tuesday.json', '--quiet'], fake.io)).toBe(0);
    const survey = fake.files.get('tuesday.json') ?? '';
    expect(survey).toContain('"systemKind": "windows"');
    expect(survey).toContain('"driverMtuBytes": 9000');
    expect(survey).toContain('"osVersion": "10.0.26100.1742"');
    expect([host?.commands(), host?.sessions()]).toEqual([[command], 1]);
  });

  it('is audited, and all is met', async () => {
    const fake = await reached(plot3);
    const status = await run(['audit'], fake.io);
    expect(fake.stdout()).toContain('0 broken, 0 undetermined, 1 worth knowing; 1 node read');
    expect(fake.stdout()).not.toContain('Broken');
    expect(status).toBe(0);
  });

  it('is found at fault where the driver holds less than IP', async () => {
    const ports = plot3.ports.map((port) =>
      port.name === 'Ethernet' ? { ...port, driverMtuBytes: 1500 } : port,
    );
    const fake = await reached({ ...plot3, ports });
    expect(await run(['audit'], fake.io)).toBe(1);
    expect(fake.stdout()).toMatch(/plot-3:Ethernet: .*driver.* 1500 .*9000/s);
  });

  it('is audited by a plain account too, which is denied duplex alone', async () => {
    const fake = await reached({ ...plot3, plainAccount: true });
    const status = await run(['audit'], fake.io);
    expect(fake.stdout()).not.toContain('Broken');
    expect(status).toBe(0);
  });
});

describe('which shell a host is asked for', () => {
  it('is PowerShell where the intent says so, whatever the server calls itself', async () => {
    const fake = await reached(plot3, {
      ident: 'AnotherServer_1.0',
      ssh: '{ user: auditor, system: windows }',
    });
    expect(await run(['access'], fake.io)).toBe(0);
    expect(host?.commands()).toEqual([command]);
  });

  it('is sh where the intent says unix, and the refusal is told in the words of cmd', async () => {
    const fake = await reached(plot3, { ssh: '{ user: auditor, system: unix }' });
    expect(await run(['access'], fake.io)).toBe(2);
    expect(host?.commands()).toEqual(['sh -s']);
    expect(fake.stdout()).toContain("'sh' is not recognized");
  });

  it('is sh for a server of any other name', async () => {
    const fake = await reached(plot3, {
      ident: 'OpenSSH_9.2',
      windows: false,
      answer: () => ({ stdout: 'no' }),
    });
    expect(await run(['access'], fake.io)).toBe(2);
    expect(host?.commands()).toEqual(['sh -s']);
  });

  it('is shown, with everything that the scripts can use', async () => {
    const fake = await reached(plot3, { ssh: '{ system: windows }' });
    expect(await run(['audit', '--show-commands'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('Get-NetAdapterStatistics');
    expect(fake.stdout()).not.toContain('ethtool');
    expect(host?.connections()).toBe(0);
  });
});
