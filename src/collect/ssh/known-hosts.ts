import { createHash, createHmac } from 'node:crypto';

/** One line of a known_hosts file (sshd(8), "SSH_KNOWN_HOSTS FILE FORMAT"). */
export interface KnownHost {
  readonly file: string;
  readonly line: number;
  readonly marker: 'none' | 'revoked' | 'cert-authority';
  /** As written: patterns apart by commas, or one hashed name. */
  readonly hosts: string;
  readonly keyType: string;
  readonly key: Buffer;
}

/** Entries taken from one file, at most; what follows is not read. */
export const knownHostsEntriesMax = 50_000;

/**
 * Parses a known_hosts file. Lines that are no entry are skipped, as OpenSSH does. Those marked
 * `@cert-authority` vouch for no key of a host: host certificates are not read here.
 */
export function parseKnownHosts(file: string, text: string): readonly KnownHost[] {
  const entries: KnownHost[] = [];
  for (const [index, line] of text.split(/\r?\n/).entries()) {
    if (entries.length >= knownHostsEntriesMax) break;
    const entry = parseLine(line.trim());
    if (entry !== undefined) entries.push({ file, line: index + 1, ...entry });
  }
  return entries;
}

function parseLine(line: string): Omit<KnownHost, 'file' | 'line'> | undefined {
  if (line === '' || line.startsWith('#')) return undefined;
  const words = line.split(/[ \t]+/);
  const mark = line.startsWith('@') ? words.shift() : undefined;
  const marker = mark === undefined ? 'none' : markers.get(mark);
  if (marker === undefined) return undefined;
  const [hosts, keyType, base64] = words;
  if (hosts === undefined || keyType === undefined || base64 === undefined) return undefined;
  const key = Buffer.from(base64, 'base64');
  if (keyTypeOf(key) !== keyType) return undefined;
  return { marker, hosts, keyType, key };
}

const markers: ReadonlyMap<string, 'revoked' | 'cert-authority'> = new Map([
  ['@revoked', 'revoked'],
  ['@cert-authority', 'cert-authority'],
]);

/** The type that a public key in wire form (RFC 4253 section 6.6) names; undefined: not a key. */
export function keyTypeOf(key: Buffer): string | undefined {
  if (key.length < 4) return undefined;
  const length = key.readUInt32BE(0);
  if (length === 0 || length > 64 || key.length < 4 + length) return undefined;
  const name = key.toString('latin1', 4, 4 + length);
  return /^[!-~]+$/.test(name) ? name : undefined;
}

/** `SHA256:` and the unpadded base64 digest, as OpenSSH prints it. */
export function fingerprintOf(key: Buffer): string {
  return `SHA256:${createHash('sha256').update(key).digest('base64').replace(/=+$/, '')}`;
}

/** The name under which a host is recorded: `host`, or `[host]:port` for a port of its own. */
export function knownHostName(host: string, port: number): string {
  const name = host.toLowerCase();
  return port === 22 ? name : `[${name}]:${port}`;
}

/** A line to append for a host and its key. */
export function knownHostLine(name: string, key: Buffer): string {
  return `${name} ${keyTypeOf(key) ?? 'unknown'} ${key.toString('base64')}`;
}

/** True when an entry is for a host of this name. */
export function isForHost(entry: KnownHost, name: string): boolean {
  if (entry.hosts.startsWith('|1|')) return matchesHash(entry.hosts, name);
  let matched = false;
  for (const pattern of entry.hosts.split(',')) {
    const negated = pattern.startsWith('!');
    if (!matchesPattern(negated ? pattern.slice(1) : pattern, name)) continue;
    // A negated match rules the whole entry out, whatever else matches.
    if (negated) return false;
    matched = true;
  }
  return matched;
}

function matchesHash(hosts: string, name: string): boolean {
  const [, , salt, digest] = hosts.split('|');
  if (salt === undefined || digest === undefined) return false;
  // HMAC-SHA1 is what the file format prescribes; it only hides names from readers of the file.
  const wanted = createHmac('sha1', Buffer.from(salt, 'base64')).update(name).digest('base64');
  return wanted === digest;
}

/** `*` and `?` as in a shell, without backtracking beyond the last `*`. */
export function matchesPattern(pattern: string, name: string): boolean {
  const wanted = pattern.toLowerCase();
  let p = 0;
  let n = 0;
  let star = -1;
  let starName = 0;
  while (n < name.length) {
    if (wanted[p] === '*') {
      star = p;
      starName = n;
      p += 1;
    } else if (p < wanted.length && (wanted[p] === '?' || wanted[p] === name[n])) {
      p += 1;
      n += 1;
    } else if (star >= 0) {
      p = star + 1;
      starName += 1;
      n = starName;
    } else return false;
  }
  while (wanted[p] === '*') p += 1;
  return p === wanted.length;
}
