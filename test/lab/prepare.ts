import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { must, run } from './harness/command.ts';

/**
 * Programs that the lab needs, or that the tests compare with, and the Debian package that has
 * each.
 */
const needed: readonly (readonly [program: string, debianPackage: string])[] = [
  ['ip', 'iproute2'],
  ['ethtool', 'ethtool'],
  ['ifconfig', 'net-tools'],
  ['sshd', 'openssh-server'],
  ['ssh', 'openssh-client'],
  ['snmpd', 'snmpd'],
  ['snmpbulkwalk', 'snmp'],
  ['snmp-bridge-mib', 'snmp'],
  ['lldpd', 'lldpd'],
  ['ping', 'iputils-ping'],
  ['fish', 'fish'],
  ['zsh', 'zsh'],
  ['groff', 'groff-base'],
  ['mandoc', 'mandoc'],
  ['csh', 'csh'],
  ['busybox', 'busybox'],
  ['nft', 'nftables'],
  ['sudo', 'sudo'],
  ['script', 'bsdutils'],
  ['tmux', 'tmux'],
  ['logger', 'bsdutils'],
  ['patch', 'patch'],
  ['ssh-agent', 'openssh-client'],
  ['systemd-analyze', 'systemd'],
  ['unshare', 'util-linux'],
  ['sysctl', 'procps'],
  ['strace', 'strace'],
  // Without a realm of this machine, which nobody makes, neither service of the two finds its
  // database, and ends.
  ['krb5kdc', 'krb5-kdc'],
  ['kadmin.local', 'krb5-admin-server'],
  ['kinit', 'krb5-user'],
];

/** Packages that have no program of their own in the folders of programs. */
const libraries: readonly string[] = ['libsnmp-perl', 'postgresql'];

const programFolders = ['/usr/sbin', '/usr/bin', '/sbin', '/bin'];

/** Whether the lab can run here, and what was installed for it. */
export type Prepared =
  | { readonly ready: true; readonly installed: readonly string[] }
  | { readonly ready: false; readonly why: string };

/**
 * Makes this machine able to run the lab: installs the Debian packages that are missing and no
 * other. Services that a package starts are left alone; the lab uses none of them. Never throws:
 * a machine that cannot run the lab is told apart, with the reason.
 */
export async function prepareLab(): Promise<Prepared> {
  if (process.platform !== 'linux') return skipped(`needs Linux; this is ${process.platform}`);
  if (process.getuid?.() !== 0) return skipped('needs root for network namespaces');
  try {
    const installed = await installMissing();
    const probe = await run(['unshare', '--net', '--mount', '--uts', '--pid', '--fork', 'true']);
    if (probe.code !== 0) return skipped(`no namespaces here: ${probe.stderr.trim()}`);
    return { ready: true, installed };
  } catch (error) {
    return skipped(error instanceof Error ? error.message : String(error));
  }
}

function skipped(why: string): Prepared {
  return { ready: false, why };
}

async function installMissing(): Promise<readonly string[]> {
  const missing = needed
    .filter(([program]) => !programFolders.some((folder) => existsSync(join(folder, program))))
    .map(([, debianPackage]) => debianPackage);
  for (const library of libraries) if (!(await installed(library))) missing.push(library);
  const packages = [...new Set(missing)];
  if (packages.length === 0) return [];
  if (!existsSync('/usr/bin/apt-get')) {
    throw new Error(`lacks ${packages.join(', ')} and has no apt-get`);
  }
  const env = {
    PATH: process.env['PATH'] ?? '',
    DEBIAN_FRONTEND: 'noninteractive',
    UCF_FORCE_CONFFOLD: '1',
  };
  await must(['apt-get', 'update', '-q'], { env, timeoutMs: 300_000 });
  // A server of databases would be made and started for the whole machine; the lab makes its own.
  if (packages.some((each) => each.startsWith('postgresql'))) makeNoCluster();
  await must(['apt-get', 'install', '-q', '-y', '--no-install-recommends', ...packages], {
    env,
    timeoutMs: 600_000,
  });
  return packages;
}

const clusterSettings = '/etc/postgresql-common/createcluster.conf';

/** Says so where Debian's package looks before it makes its first cluster (pg_createcluster(1)). */
function makeNoCluster(): void {
  if (existsSync(clusterSettings)) return;
  mkdirSync(dirname(clusterSettings), { recursive: true });
  writeFileSync(clusterSettings, 'create_main_cluster = false\n');
}

async function installed(debianPackage: string): Promise<boolean> {
  const status = await run(['dpkg-query', '-W', '-f', '$' + '{db:Status-Status}', debianPackage]);
  return status.code === 0 && status.stdout === 'installed';
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const prepared = await prepareLab();
  const words = prepared.ready
    ? `lab: ready; installed ${prepared.installed.join(', ') || 'nothing'}`
    : `lab: skipped: ${prepared.why}`;
  process.stdout.write(`${words}\n`);
}
