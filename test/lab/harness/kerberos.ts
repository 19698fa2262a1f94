import { appendFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { must, until } from './command.ts';
import { startDaemon } from './daemons.ts';
import {
  centreSettings,
  type RealmFile,
  realmName,
  realmSettings,
  ticketDomain,
  ticketName,
} from './kerberos-files.ts';
import { type Lab, restartSshd } from './lab.ts';
import { inNs, mustInNs, pathInside } from './namespaces.ts';
import { dataAddress, managementAddress } from './plan.ts';
import { auditorHome } from './users.ts';

/** A realm of Kerberos (RFC 4120) that runs in a lab; all of its files are in the lab's folder. */
export interface Realm {
  /** Environment of whoever logs in by a ticket. */
  readonly env: Readonly<Record<string, string>>;
  /** File with the key of the principal `auditor`. */
  readonly keytab: string;
  /** Fetches a ticket for `auditor` in place of the one there was; valid for `seconds`. */
  readonly fetch: (seconds: number) => Promise<void>;
  readonly destroy: () => Promise<void>;
  /** Waits until the ticket is no longer valid. */
  readonly untilRunOut: () => Promise<void>;
}

export interface RealmPlan {
  /** Where the key distribution centre runs. */
  readonly centre: string;
  /** The host that takes tickets from now on, and neither a key nor a password. */
  readonly host: string;
}

/** Makes a realm with the principals `auditor` and that of the host, and starts its centre. */
export async function startRealm(lab: Lab, { centre, host }: RealmPlan): Promise<Realm> {
  const folder = join(lab.directory, 'realm');
  const at = (name: string) => join(folder, name);
  mkdirSync(folder, { mode: 0o700 });
  writeFileSync(at('krb5.conf'), realmSettings(at, managementAddress(lab.node(centre))));
  writeFileSync(at('kdc.conf'), centreSettings(at));
  const env = { KRB5_CONFIG: at('krb5.conf') };
  await makePrincipals(at, { 'auditor.keytab': 'auditor', [hostKeytab]: hostPrincipal(host) });
  await startDaemon(lab, {
    ...{ node: centre, what: 'krb5kdc' },
    argv: ['/usr/sbin/krb5kdc', '-n', '-r', realmName],
    env: { ...env, KRB5_KDC_PROFILE: at('kdc.conf') },
    ready: ['sh', '-c', 'ss -Hltn sport = :88 | grep -q .'],
  });
  nameHost(lab, host);
  await restartSshd(lab, host, {
    settings: takesTicketsAlone,
    env: { ...env, KRB5_KTNAME: at(hostKeytab) },
  });
  setTicketOptions(lab, ['GSSAPIAuthentication yes']);
  recordHostKey(lab, host, host);
  return realmOf(lab, at);
}

const hostKeytab = 'host.keytab';

function hostPrincipal(host: string): string {
  return `host/${ticketName(host)}`;
}

/** sshd_config(5). */
const takesTicketsAlone: readonly string[] = [
  'GSSAPIAuthentication yes',
  // Used by clients only that ask for it.
  'GSSAPIKeyExchange yes',
  // The principal of any key in the keytab will do: the machine itself has a shorter name.
  'GSSAPIStrictAcceptorCheck no',
  'PubkeyAuthentication no',
  'AuthorizedKeysFile none',
];

/** Makes the database, and a file with a random key for each principal (kadmin.local(8)). */
async function makePrincipals(
  at: RealmFile,
  byKeytab: Readonly<Record<string, string>>,
): Promise<void> {
  const env = {
    ...{ PATH: process.env['PATH'] ?? '', LC_ALL: 'C' },
    ...{ KRB5_CONFIG: at('krb5.conf'), KRB5_KDC_PROFILE: at('kdc.conf') },
  };
  await must(['kdb5_util', 'create', '-s', '-r', realmName, '-P', 'lab-only-master'], { env });
  for (const [keytab, name] of Object.entries(byKeytab)) {
    for (const query of [`addprinc -randkey ${name}`, `ktadd -k ${at(keytab)} ${name}`])
      await must(['kadmin.local', '-r', realmName, '-q', query], { env });
    // It ends with status 0 whatever came of the query.
    await must(['test', '-s', at(keytab)]);
  }
}

/** Lets the auditor and the host itself know its name, in their own copies of /etc. */
function nameHost(lab: Lab, host: string): void {
  const line = `${dataAddress(lab.node(host))} ${ticketName(host)}\n`;
  for (const machine of [lab.auditor, lab.machine(host)])
    appendFileSync(pathInside(machine, '/etc/hosts'), line);
}

function realmOf(lab: Lab, at: RealmFile): Realm {
  const env = { KRB5_CONFIG: at('krb5.conf'), KRB5CCNAME: `FILE:${at('tickets')}` };
  const options = { env: { PATH: process.env['PATH'] ?? '', LC_ALL: 'C', ...env } };
  const keytab = at('auditor.keytab');
  return {
    env,
    keytab,
    fetch: async (seconds) => {
      const argv = ['kinit', '-l', `${seconds}s`, '-k', '-t', keytab, 'auditor'];
      await mustInNs(lab.auditor, argv, options);
    },
    destroy: async () => {
      await mustInNs(lab.auditor, ['kdestroy', '-q'], options);
    },
    untilRunOut: async () => {
      const valid = async () => (await inNs(lab.auditor, ['klist', '-s'], options)).code === 0;
      await until('end of the ticket', async () => !(await valid()));
      // In the second of its end klist(1) calls it over, while it can still be used.
      const endSecond = nowSecond();
      await until('the second after', async () => nowSecond() > endSecond);
    },
  };
}

function nowSecond(): number {
  return Math.floor(Date.now() / 1000);
}

/** Sets what the auditor's own ssh_config(5) says for hosts of the realm. */
export function setTicketOptions(lab: Lab, options: readonly string[]): void {
  const lines = [`Host *.${ticketDomain}`, ...options.map((option) => `  ${option}`)];
  writeFileSync(join(auditorHome(lab), '.ssh', 'config'), `${lines.join('\n')}\n`);
}

/** Records the host key of `keyOf` under the name of `host`, in place of any; absent: none. */
export function recordHostKey(lab: Lab, host: string, keyOf: string | undefined): void {
  const known = join(auditorHome(lab), '.ssh', 'known_hosts');
  const lines = readFileSync(known, 'utf8')
    .split('\n')
    .filter((line) => line !== '');
  const kept = lines.filter((line) => !line.startsWith(ticketName(host)));
  if (keyOf !== undefined) {
    const key = readFileSync(join(lab.directory, `${keyOf}-host-key-first.pub`), 'utf8');
    kept.push(`${ticketName(host)} ${key.split(' ').slice(0, 2).join(' ')}`);
  }
  writeFileSync(known, `${kept.join('\n')}\n`);
}
