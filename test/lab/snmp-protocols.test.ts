import { spawn } from 'node:child_process';
import { createCipheriv } from 'node:crypto';
import { createSocket } from 'node:dgram';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSnmp } from '../../src/collect/snmp/read-snmp.ts';
import type { UserTarget } from '../../src/collect/snmp/target.ts';
import { defaultReadLimits } from '../../src/collect/types.ts';
import {
  type AuthProtocol,
  authProtocols,
  type PrivacyProtocol,
  privacyProtocols,
} from '../../src/intent/types.ts';

// A real snmpd on loopback with a user for every pair of protocols. AES with 192 bits and the key
// extension that most switches call AES-192 are in neither the library nor the intent.

const authNames: Readonly<Record<AuthProtocol, string>> = {
  ...{ md5: 'MD5', sha: 'SHA', sha224: 'SHA-224' },
  ...{ sha256: 'SHA-256', sha384: 'SHA-384', sha512: 'SHA-512' },
};
const privacyNames: Readonly<Record<PrivacyProtocol, string>> = {
  ...{ des: 'DES', aes128: 'AES' },
  ...{ aes256: 'AES-256-C', 'aes256-blumenthal': 'AES-256' },
};
const words = { auth: 'lab-only-authentication', privacy: 'lab-only-privacy-words' };
const pairs = authProtocols.flatMap((auth) => [
  { auth, privacy: undefined },
  ...privacyProtocols.map((privacy) => ({ auth, privacy })),
]);
const userOf = (auth: string, privacy = 'none') => `u-${auth}-${privacy}`;

/** The lines that README tells the owner to write, with the secrets put in. */
const ofReadme = readFileSync('README.md', 'utf8')
  .split('\n')
  .map((line) => line.trim())
  .filter((line) => /^(?:createUser auditor|view hopgauge|rouser auditor) /.test(line))
  .map((line) => line.replace('"..."', `"${words.auth}"`).replace('"..."', `"${words.privacy}"`));

let folder: string;
let port: number;
let stop = async (): Promise<void> => {};
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'hopgauge-snmpd-'));
  port = await freePort();
  const users = pairs.flatMap(({ auth, privacy }) => [
    `createUser ${userOf(auth, privacy)} ${authNames[auth]} "${words.auth}"${privacy === undefined ? '' : ` ${privacyNames[privacy]} "${words.privacy}"`}`,
    `rouser ${userOf(auth, privacy)} ${privacy === undefined ? 'authNoPriv' : 'authPriv'}`,
  ]);
  const config = join(folder, 'agent.conf');
  writeFileSync(
    config,
    `${[`agentAddress udp:127.0.0.1:${port}`, 'sysName quay-sw', ...users, ...ofReadme].join('\n')}\n`,
    {
      mode: 0o600,
    },
  );
  const env = {
    PATH: '/usr/sbin:/usr/bin',
    SNMPCONFPATH: folder,
    SNMP_PERSISTENT_DIR: folder,
    MIBS: '',
  };
  const snmpd = spawn('/usr/sbin/snmpd', ['-f', '-Lo', '-C', '-c', config], {
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const ended = once(snmpd, 'exit');
  stop = async () => {
    snmpd.kill();
    // It writes what it keeps when it ends.
    await ended;
  };
  let said = '';
  for (const stream of [snmpd.stdout, snmpd.stderr]) stream.on('data', (chunk) => (said += chunk));
  for (let left = 100; left > 0 && !said.includes('NET-SNMP version'); left -= 1) {
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  // A line that it does not understand would leave a user out.
  expect(said).not.toMatch(/Error:/);
});
afterAll(async () => {
  await stop();
  rmSync(folder, { recursive: true, force: true });
});

async function freePort(): Promise<number> {
  const socket = createSocket('udp4').bind(0, '127.0.0.1');
  await once(socket, 'listening');
  const { port: free } = socket.address();
  socket.close();
  return free;
}

async function ask(
  auth: AuthProtocol,
  privacy: PrivacyProtocol | undefined,
  secret = words,
  user = userOf(auth, privacy),
) {
  const target: UserTarget = {
    ...{ address: '127.0.0.1', port, version: '3', user },
    auth: { protocol: auth, secret: { reveal: () => secret.auth } },
    ...(privacy === undefined
      ? {}
      : { privacy: { protocol: privacy, secret: { reveal: () => secret.privacy } } }),
    timing: { replyTimeoutMs: 1500, retries: 1 },
  };
  const request = { peers: [], topics: new Set<never>() };
  return readSnmp(target, request, defaultReadLimits, new AbortController().signal);
}

function desWorks(): boolean {
  try {
    createCipheriv('des-cbc', Buffer.alloc(8), Buffer.alloc(8));
    return true;
  } catch {
    return false;
  }
}

describe('SNMPv3 against a real agent', () => {
  it.each(pairs)('$auth and $privacy', async ({ auth, privacy }) => {
    const outcome = await ask(auth, privacy);
    if (privacy === 'des' && !desWorks()) {
      // OpenSSL 3 keeps DES in its legacy provider, which Node does not load by itself.
      expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'key-unusable' } });
      return;
    }
    expect(outcome.ok ? outcome.reading.facts.systemName : outcome.trouble).toBe('quay-sw');
  });

  it('the view that README tells the owner to allow is enough', async () => {
    expect(ofReadme).toHaveLength(15);
    const outcome = await ask('sha256', 'aes128', words, 'auditor');
    const reading = outcome.ok ? outcome.reading : undefined;
    expect(reading?.facts.systemName).toBe('quay-sw');
    expect(reading?.ports.length).toBeGreaterThan(0);
    expect(reading?.facts.engineId).toMatch(/^[0-9a-f]+$/);
  });

  it.each(authProtocols)('%s with a wrong secret is told as such, and shows none', async (auth) => {
    const outcome = await ask(auth, 'aes128', { ...words, auth: 'not-the-right-secret' });
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'auth-wrong' } });
    expect(JSON.stringify(outcome)).not.toMatch(/not-the-right|lab-only/);
  });
});
