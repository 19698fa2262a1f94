import { createServer } from 'node:net';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { fakeRun } from './fake-io.ts';

/** A port of loopback at which nobody listens. */
async function closedPort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  return typeof address === 'object' && address !== null ? address.port : 0;
}

const intent = (at: string) => `intent: 1
site: Saltmarsh survey office
access:
  switches: { snmp: { version: 3, user: auditor, auth: sha256, privacy: aes128, secret: { auth: TIDE, privacy: EBB } } }
nodes:
  vault: { at: "${at}" }
  quay-sw: { at: 198.18.20.2, access: [switches] }
  gate: { access: [local] }
`;

const own = { home: '/nowhere', userName: 'auditor' };
const sshSettings = { configFiles: [], openSsh: false };

describe('access', () => {
  it('says step by step which door is shut, what was seen and what to do', async () => {
    const port = await closedPort();
    const fake = fakeRun({
      files: { 'hopgauge.yaml': intent(`127.0.0.1:${port}`) },
      columns: 120,
      terminal: true,
      env: { NO_COLOR: '1' },
      io: { own, sshSettings },
    });
    expect(await run(['access', '--quiet'], fake.io)).toBe(2);
    const said = fake.stdout();
    expect(said).toContain('gate: local this machine: no door to try\n');
    expect(said).toMatch(
      /vault: ssh 127\.0\.0\.1: not open\n {2}name {6}ok\n {2}reach {5}failed: .* refuses the connection.*\n/,
    );
    expect(said).toContain('  login     not tried\n');
    expect(said).toMatch(
      /quay-sw: snmp 198\.18\.20\.2: not open\n {2}name {6}ok\n {2}secret {4}failed: nobody has the secret TIDE\n {2}then {6}set TIDE in the environment/,
    );
    expect(said.endsWith('1 of 3 doors open\n')).toBe(true);
    expect(fake.asked).toEqual([]);
  });

  it('sends nothing with --show-commands', async () => {
    const fake = fakeRun({ files: { 'hopgauge.yaml': intent('127.0.0.1:1') } });
    expect(await run(['access', '--show-commands'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('quay-sw: SNMP version 3 as auditor, to 198.18.20.2\n');
    expect(fake.stdout()).toContain('  IF-MIB ifMtu (1.3.6.1.2.1.2.2.1.4)\n');
  });
});
