import { isIP } from 'node:net';

/** What the operator's ssh_config says of one host (ssh_config(5)); paths are absolute. */
export interface SshSettings {
  readonly hostName: string;
  readonly port: number;
  readonly user: string;
  /** In order; empty where none is configured and the default names are to be tried. */
  readonly identityFiles: readonly string[];
  readonly identitiesOnly: boolean;
  /** Socket of the agent to use; absent: SSH_AUTH_SOCK; `none`: no agent. */
  readonly identityAgent?: string;
  readonly userKnownHosts: readonly string[];
  readonly globalKnownHosts: readonly string[];
  readonly hostKeyAlias?: string;
  /** As written, hops apart by commas. */
  readonly proxyJump?: string;
  /** True where a ProxyCommand is configured, which is not followed. */
  readonly proxyCommand: boolean;
}

/** What an access says of a host already, and so outranks the configuration. */
export interface SshWish {
  readonly host: string;
  readonly user?: string | undefined;
  readonly port?: number | undefined;
}

/** Reads the settings that hold for one host. */
export type ReadSshSettings = (wish: SshWish) => Promise<SshSettings>;

/** The account that hopgauge runs under. */
export interface OwnAccount {
  /** Absolute path. */
  readonly home: string;
  readonly userName: string;
}

/** Names of the private keys that OpenSSH tries by itself and that can be used here. */
export const defaultKeyNames = ['id_ed25519', 'id_ecdsa', 'id_rsa'] as const;

/** Every name that OpenSSH tries by itself: a list of just these is no configuration. */
const openSshDefaultNames: ReadonlySet<string> = new Set([
  ...defaultKeyNames,
  'id_ecdsa_sk',
  'id_ed25519_sk',
  'id_xmss',
  'id_dsa',
]);

/** Directives by lower-case name, each with its values in order. */
export type Directives = ReadonlyMap<string, readonly string[]>;

/**
 * A host name, address or alias that cannot be taken for an option or for shell text.
 * An IPv6 address may have a zone.
 */
export function isSafeHost(host: string): boolean {
  return host.length <= 255 && (isIP(host) !== 0 || /^[A-Za-z0-9_][A-Za-z0-9_.-]*$/.test(host));
}

/** An account name that cannot be taken for an option or for shell text. */
export function isSafeUser(user: string): boolean {
  return user.length <= 64 && /^[A-Za-z0-9_][A-Za-z0-9_.@\\+-]*\$?$/.test(user);
}

/**
 * Turns directives into settings. What weakens the check of host keys is dropped: an empty device
 * in place of known_hosts gives way to the usual file, StrictHostKeyChecking is never looked at.
 */
export function settingsFrom(found: Directives, wish: SshWish, own: OwnAccount): SshSettings {
  const one = (name: string) => found.get(name)?.[0];
  const hostName = one('hostname')?.replaceAll('%h', wish.host) ?? wish.host;
  const user = wish.user ?? one('user') ?? own.userName;
  const port = wish.port ?? portOf(one('port')) ?? 22;
  const tokens = { d: own.home, h: hostName, n: wish.host, p: String(port), r: user };
  const path = (text: string) => expandPath(text, { ...tokens, u: own.userName }, own.home);
  const agent = one('identityagent');
  const alias = one('hostkeyalias');
  const jump = one('proxyjump');
  return {
    hostName,
    port,
    user,
    identityFiles: ownFiles((found.get('identityfile') ?? []).map(path), own.home),
    identitiesOnly: one('identitiesonly') === 'yes',
    ...(agent === undefined || agent === 'SSH_AUTH_SOCK' ? {} : { identityAgent: path(agent) }),
    userKnownHosts: keptFiles(found.get('userknownhostsfile')?.map(path), [
      `${own.home}/.ssh/known_hosts`,
      `${own.home}/.ssh/known_hosts2`,
    ]),
    globalKnownHosts: keptFiles(found.get('globalknownhostsfile')?.map(path), [
      '/etc/ssh/ssh_known_hosts',
      '/etc/ssh/ssh_known_hosts2',
    ]),
    ...(alias === undefined || alias === 'none' ? {} : { hostKeyAlias: alias }),
    ...(jump === undefined || jump === 'none' ? {} : { proxyJump: jump }),
    proxyCommand: one('proxycommand') !== undefined && one('proxycommand') !== 'none',
  };
}

/** A TCP port as text, 1..65535; undefined for anything else. */
export function portOf(text: string | undefined): number | undefined {
  if (text === undefined || !/^[1-9][0-9]{0,4}$/.test(text)) return undefined;
  const port = Number(text);
  return port <= 65535 ? port : undefined;
}

function ownFiles(files: readonly string[], home: string): readonly string[] {
  const isDefault = (file: string) =>
    file.startsWith(`${home}/.ssh/`) && openSshDefaultNames.has(file.slice(home.length + 6));
  if (files.every(isDefault) && files.length > 1) return [];
  return [...new Set(files)].filter((file) => file !== 'none');
}

function keptFiles(files: readonly string[] | undefined, usual: readonly string[]) {
  const kept = (files ?? []).filter((file) => file !== '/dev/null' && file !== 'none');
  return kept.length > 0 ? kept : usual;
}

/** Expands `~`, the percent tokens of ssh_config(5) and makes the path absolute. */
export function expandPath(
  text: string,
  tokens: Readonly<Record<string, string>>,
  home: string,
): string {
  if (text === 'none') return text;
  const filled = text.replace(/%(.)/g, (whole, token: string) =>
    token === '%' ? '%' : (tokens[token] ?? whole),
  );
  if (filled === '~' || filled.startsWith('~/')) return `${home}${filled.slice(1)}`;
  return filled.startsWith('/') ? filled : `${home}/.ssh/${filled}`;
}
