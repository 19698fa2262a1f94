import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { saltmarshHosts } from '../../mocks/saltmarsh/hosts.ts';
import { loftSwitch, quaySwitch } from '../../mocks/saltmarsh/switches.ts';
import { startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import { startSshHost } from '../../mocks/ssh-host/ssh-host.ts';
import { answerScript } from '../../mocks/unix-output/answer-script.ts';

/** Secrets that may be seen nowhere but in the secrets file; each is used, two of them in vain. */
export const canaries = {
  VAULT_PASSWORD: 'canary-password-of-the-vault',
  GATE_PASSWORD: 'canary-password-that-is-wrong',
  KEY_WORDS: 'canary-passphrase-of-the-key',
  QUAY_AUTH: 'canary-authentication-of-the-quay',
  QUAY_PRIV: 'canary-privacy-of-the-quay',
  LOFT_COMMUNITY: 'canary-community-of-the-loft',
  SHED_AUTH: 'canary-authentication-that-is-wrong',
} as const;

/** A running site on loopback whose accesses need every canary. */
export interface CanarySite {
  readonly home: string;
  /** `address:port` of every node that the intent declares. */
  readonly declared: ReadonlySet<string>;
  readonly env: Readonly<Record<string, string>>;
  stop(): Promise<void>;
}

/** Starts hosts and agents, and writes a home with intent, secrets, key and known hosts. */
export async function startCanarySite(): Promise<CanarySite> {
  const home = mkdtempSync(join(tmpdir(), 'hopgauge-canary-'));
  const folder = join(home, '.ssh');
  mkdirSync(folder, { mode: 0o700 });
  const key = join(folder, 'locked');
  execFileSync('ssh-keygen', [
    '-q',
    '-t',
    'ed25519',
    '-N',
    canaries.KEY_WORDS,
    '-C',
    'x',
    '-f',
    key,
  ]);
  const publicKey = execFileSync('cat', [`${key}.pub`], { encoding: 'utf8' }).trim();
  const host = (name: string, login: object) =>
    startSshHost({
      login: { user: 'auditor', ...login },
      answer: (script) => ({ stdout: answerScript(saltmarshHosts[name] as never, script) ?? '' }),
    });
  const vault = await host('vault', { password: canaries.VAULT_PASSWORD });
  const gate = await host('gate', { password: 'another-word' });
  const plot = await host('plot-2', { keys: [publicKey] });
  const user = (auth: string) =>
    ({
      name: 'auditor',
      auth: { protocol: 'sha256', secret: auth },
      privacy: { protocol: 'aes128', secret: canaries.QUAY_PRIV },
    }) as const;
  const quay = await startAgent({ switch: quaySwitch, users: [user(canaries.QUAY_AUTH)] });
  const loft = await startAgent({ switch: loftSwitch, communities: [canaries.LOFT_COMMUNITY] });
  const shed = await startAgent({ switch: loftSwitch, users: [user('another-authentication')] });
  const hosts = [vault, gate, plot];
  writeFileSync(
    join(folder, 'known_hosts'),
    `${hosts.flatMap(({ hostKeyLines }) => hostKeyLines).join('\n')}\n`,
  );
  const secrets = join(home, 'secrets');
  writeFileSync(
    secrets,
    `${Object.entries(canaries)
      .map(([name, word]) => `${name}=${word}`)
      .join('\n')}\n`,
  );
  chmodSync(secrets, 0o600);
  writeFileSync(join(home, 'hopgauge.yaml'), intentOf({ vault, gate, plot, quay, loft, shed }));
  const agents = [quay, loft, shed];
  return {
    home,
    declared: new Set([...hosts, ...agents].map(({ address, port }) => `${address}:${port}`)),
    env: { PATH: process.env['PATH'] ?? '', HOME: home, HOPGAUGE_SECRETS: secrets },
    stop: async () => {
      await Promise.all([...hosts, ...agents].map((one) => one.stop()));
      rmSync(home, { recursive: true, force: true });
    },
  };
}

type Ports = Readonly<
  Record<'vault' | 'gate' | 'plot' | 'quay' | 'loft' | 'shed', { readonly port: number }>
>;

function intentOf({ vault, gate, plot, quay, loft, shed }: Ports): string {
  const snmp = (port: number, auth: string) =>
    `{ snmp: { version: 3, user: auditor, auth: sha256, privacy: aes128, secret: { auth: ${auth}, privacy: QUAY_PRIV }, port: ${port} } }`;
  return `intent: 1
site: Saltmarsh survey office
access:
  a: { ssh: { user: auditor, port: ${vault.port}, password: VAULT_PASSWORD } }
  b: { ssh: { user: auditor, port: ${gate.port}, password: GATE_PASSWORD } }
  c: { ssh: { user: auditor, port: ${plot.port}, key: ~/.ssh/locked, passphrase: KEY_WORDS } }
  d: ${snmp(quay.port, 'QUAY_AUTH')}
  e: { snmp: { version: 2c, community: LOFT_COMMUNITY, port: ${loft.port} } }
  f: ${snmp(shed.port, 'SHED_AUTH')}
nodes:
  vault: { at: 127.0.0.1, access: [a] }
  gate: { at: 127.0.0.1, access: [b] }
  plot-2: { at: 127.0.0.1, access: [c] }
  quay-sw: { at: 127.0.0.1, access: [d] }
  loft-sw: { at: 127.0.0.1, access: [e] }
  shed-sw: { at: 127.0.0.1, access: [f] }
segments: { storage: { vlan: 20, mtu: 9000 } }
links:
  - { ends: [vault:eth4, quay-sw:xg3], untagged: storage, speed: 10G }
  - { ends: [quay-sw:xg8, loft-sw:xg1], untagged: storage, speed: 10G }
  - { ends: [loft-sw:xg5, plot-2:eno1], untagged: storage, speed: 10G }
paths: { drawing: { from: plot-2, to: vault, over: storage } }
policies: [essential, jumbo, cabling, signal]
`;
}
