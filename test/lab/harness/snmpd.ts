import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Daemon, startDaemon } from './daemons.ts';
import type { Topology } from './topology.ts';

/** Community and passphrases of the lab; they open nothing outside it. */
export const snmpSecrets = {
  SALTMARSH_COMMUNITY: 'lab-only-community',
  SALTMARSH_AUTH: 'lab-only-authentication',
  SALTMARSH_PRIV: 'lab-only-privacy-words',
} as const;

/** Users of every agent, with the names that an intent gives their protocols. */
export const snmpUsers = [
  { user: 'auditor', auth: 'sha256', privacy: 'aes128', says: ['SHA-256', 'AES'] },
  { user: 'auditor512', auth: 'sha512', privacy: 'aes256', says: ['SHA-512', 'AES-256-C'] },
  { user: 'auditorbl', auth: 'sha512', privacy: 'aes256-blumenthal', says: ['SHA-512', 'AES-256'] },
] as const;

const agentx = '/run/agentx';

export interface SnmpdOptions {
  /** Lines of snmpd.conf that are added, such as `override` ones. */
  readonly lines?: readonly string[];
}

/** Starts the switch's own agent on port 161 of all its addresses, IPv4 and IPv6. */
export async function startSnmpd(
  topology: Topology,
  node: string,
  options: SnmpdOptions = {},
): Promise<Daemon> {
  const directory = join(topology.directory, `${node}-snmp`);
  mkdirSync(directory, { recursive: true });
  const { SALTMARSH_COMMUNITY, SALTMARSH_AUTH, SALTMARSH_PRIV } = snmpSecrets;
  const lines = [
    'agentAddress udp:161,udp6:161',
    `exactEngineID 0x80001f8804${Buffer.from(node).toString('hex')}`,
    `sysName ${node}`,
    `rocommunity ${SALTMARSH_COMMUNITY}`,
    `rocommunity6 ${SALTMARSH_COMMUNITY}`,
    ...snmpUsers.flatMap(({ user, says: [auth, privacy] }) => [
      `createUser ${user} ${auth} "${SALTMARSH_AUTH}" ${privacy} "${SALTMARSH_PRIV}"`,
      `rouser ${user} authpriv`,
    ]),
    'master agentx',
    `agentXSocket ${agentx}`,
    ...(options.lines ?? []),
  ];
  // Not snmpd.conf: the agent writes what it keeps to a file of that name.
  const config = join(directory, 'agent.conf');
  writeFileSync(config, `${lines.join('\n')}\n`, { mode: 0o600 });
  const daemon = await startDaemon(topology, {
    ...{ node, what: 'snmpd' },
    argv: ['/usr/sbin/snmpd', '-f', '-Lo', '-C', '-c', config, '-p', join(directory, 'pid')],
    env: snmpEnvironment(directory),
    ready: snmpGet('1.3.6.1.2.1.1.3.0'),
  });
  // A line that it does not understand is skipped, and a case would test nothing.
  const [fault] = /^.*: Error: .*$/m.exec(readFileSync(daemon.log, 'utf8')) ?? [];
  if (fault !== undefined) throw new Error(`lab: ${daemon.name}: ${fault}`);
  return daemon;
}

/** Keeps the SNMP programs from reading or writing anything outside `directory`. */
export function snmpEnvironment(directory: string): Readonly<Record<string, string>> {
  return { SNMPCONFPATH: directory, SNMP_PERSISTENT_DIR: directory, MIBS: '' };
}

/** Asks the machine's own agent for one object; status 0 only when it exists. */
function snmpGet(oid: string): readonly string[] {
  const get = 'snmpget -v2c -c "$1" -t 1 -r 0 -On 127.0.0.1 "$2"';
  const script = `MIBS= ${get} | grep -q '= [A-Z][A-Za-z0-9-]*: '`;
  return ['sh', '-c', script, 'sh', snmpSecrets.SALTMARSH_COMMUNITY, oid];
}

/**
 * The sub-agent with one flaw mended: it takes the stations that the kernel marks as the bridge's own
 * for learnt ones, and the learnt ones for its own, at no port (snmp 5.9.3, `readforwards`).
 */
function mendedBridgeMib(directory: string): string {
  const script = readFileSync('/usr/bin/snmp-bridge-mib', 'utf8');
  const mended = script.replace(
    /next if \(\$local\);\s*\$macs\{\$mac\}\{\$bridge\}=\$bridge;/,
    'next unless ($local);',
  );
  if (mended === script) throw new Error('lab: snmp-bridge-mib has another form: look at it anew');
  const file = join(directory, 'snmp-bridge-mib');
  writeFileSync(file, mended, { mode: 0o700 });
  return file;
}

/** Starts the sub-agent that serves BRIDGE-MIB of `br0`. */
export async function startBridgeMib(topology: Topology, node: string): Promise<Daemon> {
  const directory = join(topology.directory, `${node}-bridge-mib`);
  mkdirSync(directory, { recursive: true });
  writeFileSync(join(directory, 'dot1qbridge.conf'), `agentXSocket ${agentx}\n`);
  return await startDaemon(topology, {
    ...{ node, what: 'bridge-mib' },
    argv: [mendedBridgeMib(directory), 'br0'],
    env: snmpEnvironment(directory),
    // This sub-agent serves its tables well, and its scalars without the final zero.
    ready: snmpGet('1.3.6.1.2.1.17.1.4.1.1.1'),
  });
}

/** Starts the link-layer discovery daemon as a sub-agent that serves LLDP-MIB. */
export async function startLldpd(topology: Topology, node: string): Promise<Daemon> {
  return await startDaemon(topology, {
    ...{ node, what: 'lldpd' },
    argv: ['/usr/sbin/lldpd', '-d', '-x', '-X', agentx, '-I', 'xg*'],
    ready: snmpGet('1.0.8802.1.1.2.1.3.2.0'),
  });
}
