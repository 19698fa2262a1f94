import { parseAddress } from '../intent/address.ts';
import { loadAccess } from '../intent/load-access.ts';
import type { Access, SnmpAccess, SshAccess } from '../intent/types.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import type { Io } from './io.ts';
import { inputFault } from './load-inputs.ts';
import type { DraftOptions } from './options.ts';
import { RunFault } from './run-fault.ts';

/** One address that is to be read, and how. */
export interface Door {
  /** As it is written in the intent; absent: this machine. */
  readonly at?: string;
  readonly access: readonly Access[];
}

/** Accesses by name: built in, of a file, and of options. */
export type AccessByName = ReadonlyMap<string, readonly Access[]>;

/** All accesses that the operator gave. */
export async function givenAccess(options: DraftOptions, io: Io): Promise<AccessByName> {
  const file = options.access ?? options.onto;
  const ssh: readonly Access[] = [{ via: 'ssh', name: 'ssh' }];
  const byName = new Map<string, readonly Access[]>([
    ['ssh', ssh],
    ['local', [{ via: 'local', name: 'local' }]],
  ]);
  if (file !== undefined) {
    const loaded = await loadAccess(file, io.readTextFile, io.workingFolder);
    if (!loaded.ok) throw inputFault(loaded.faults);
    for (const [name, accesses] of loaded.value) byName.set(name, accesses);
  }
  if (options.sshUser !== undefined) byName.set('hosts', [sshOf(options.sshUser)]);
  if (options.snmpUser !== undefined) byName.set('switches', [snmpOf(options.snmpUser, options)]);
  return byName;
}

function sshOf(user: string): SshAccess {
  if (!/^[A-Za-z0-9_][A-Za-z0-9_.@\\-]{0,63}$/.test(user))
    throw usage(`--ssh-user: '${user}' is no user name`);
  return { via: 'ssh', name: 'hosts', user };
}

/** What no agent has: nothing, more than 32 characters (RFC 3414 usmUserName), and controls. */
const snmpUser = /^[^\p{Cc}]{1,32}$/u;

/** The secrets of the user are looked up under these names, and written so into the draft. */
const secretNames = { auth: 'HOPGAUGE_AUTH', privacy: 'HOPGAUGE_PRIVACY' } as const;

function snmpOf(user: string, { snmpAuth, snmpPrivacy }: DraftOptions): SnmpAccess {
  if (!snmpUser.test(user)) throw usage(`--snmp-user: '${user}' is no user name`);
  return {
    via: 'snmp',
    name: 'switches',
    version: '3',
    user,
    auth: snmpAuth,
    privacy: snmpPrivacy,
    secret: secretNames,
  };
}

/** `vault.office.example`, `switches=198.18.0.2` or `local`. */
export function doorOf(text: string, byName: AccessByName): Door {
  if (text === 'local') return { access: byName.get('local') ?? [] };
  const equals = text.indexOf('=');
  const named = equals === -1 ? plainName(byName) : text.slice(0, equals);
  const at = text.slice(equals + 1);
  const access = byName.get(named);
  if (access === undefined) {
    throw usage(
      `'${text}': no access is called '${named}'; there are ${[...byName.keys()].join(', ')}${adviceFor(named)}`,
    );
  }
  if (parseAddress(at) === undefined) {
    throw usage(`'${at}' is no address; write host, host:port or [IPv6]:port`);
  }
  return { at, access };
}

/** The two names that options stand for are told with the option. */
function adviceFor(named: string): string {
  if (named === 'switches') return '; give --snmp-user NAME, or --access FILE with that access';
  if (named === 'hosts') return '; give --ssh-user NAME, or --access FILE with that access';
  return '; give --access FILE with that access';
}

/** Without a name a host is meant, as the operator's own ssh would log in. */
function plainName(byName: AccessByName): string {
  return byName.has('hosts') && byName.get('hosts')?.[0]?.via === 'ssh' ? 'hosts' : 'ssh';
}

function usage(words: string): RunFault {
  return new RunFault(exitStatuses.usage, [clean(words)]);
}

/**
 * What may be offered to a node that was only discovered: keys to a host whose host key is known
 * already, and SNMPv3 that is signed and encrypted. Never a password, never a community.
 */
export function safeAccess(byName: AccessByName): {
  readonly ssh: readonly Access[];
  readonly snmp: readonly Access[];
} {
  const all = [...byName.values()].flat();
  const ssh = all.flatMap((access) => {
    if (access.via !== 'ssh') return [];
    const { password: _, ...rest } = access;
    return [rest];
  });
  const snmp = all.filter(
    (access) =>
      access.via === 'snmp' &&
      access.version === '3' &&
      access.auth !== undefined &&
      access.privacy !== undefined,
  );
  return {
    ssh: [ssh.find(({ name }) => name !== 'ssh') ?? ssh[0]].flatMap((each) => each ?? []),
    snmp: snmp.slice(0, 1),
  };
}
