import { isForHost, type KnownHost, keyTypeOf, knownHostName } from './known-hosts.ts';

/** What known_hosts says of the key that a host showed. */
export type HostKeyVerdict =
  | { readonly is: 'known' }
  /**
   * `otherTypes`: key types that are recorded for the host, none of them the one seen; `authority`:
   * a line that trusts certificates for it.
   */
  | {
      readonly is: 'unknown';
      readonly otherTypes: readonly string[];
      readonly authority?: KnownHost;
    }
  | { readonly is: 'changed'; readonly entry: KnownHost }
  | { readonly is: 'revoked'; readonly entry: KnownHost };

/** A host as known_hosts names it; port 22 is written without brackets. */
export interface HostName {
  /** HostKeyAlias or the host's name. */
  readonly host: string;
  readonly port: number;
}

/** Judges the key that a host showed against all known_hosts entries. */
export function judgeHostKey(
  entries: readonly KnownHost[],
  name: HostName,
  key: Buffer,
): HostKeyVerdict {
  const own = entriesFor(entries, name);
  const authority = own.find((entry) => entry.marker === 'cert-authority');
  const same = own.filter((entry) => entry.marker !== 'cert-authority' && entry.key.equals(key));
  const revoked = same.find((entry) => entry.marker === 'revoked');
  if (revoked !== undefined) return { is: 'revoked', entry: revoked };
  if (same.some((entry) => entry.marker === 'none')) return { is: 'known' };
  const valid = own.filter((entry) => entry.marker === 'none');
  const changed = valid.find((entry) => entry.keyType === keyTypeOf(key));
  if (changed !== undefined) return { is: 'changed', entry: changed };
  const otherTypes = [...new Set(valid.map((entry) => entry.keyType))];
  return { is: 'unknown', otherTypes, ...(authority === undefined ? {} : { authority }) };
}

/** Key types recorded for a host, in the order of the files: to be asked of it first. */
export function knownKeyTypes(entries: readonly KnownHost[], name: HostName): readonly string[] {
  const valid = entriesFor(entries, name).filter((entry) => entry.marker === 'none');
  return [...new Set(valid.map((entry) => entry.keyType))];
}

/** Other hosts that a key is recorded for, as far as their names are not hashed. */
export function otherHostsWithKey(
  entries: readonly KnownHost[],
  name: HostName,
  key: Buffer,
): readonly KnownHost[] {
  return entries.filter(
    (entry) =>
      entry.marker === 'none' &&
      !entry.hosts.startsWith('|') &&
      entry.key.equals(key) &&
      !isForHost(entry, knownHostName(name.host, name.port)),
  );
}

/**
 * A host on a port of its own that is not recorded with it is looked up by its name alone, as
 * OpenSSH does. Revoked keys count under either name.
 */
function entriesFor(entries: readonly KnownHost[], name: HostName): readonly KnownHost[] {
  const exact = entries.filter((entry) => isForHost(entry, knownHostName(name.host, name.port)));
  if (name.port === 22) return exact;
  const plain = entries.filter((entry) => isForHost(entry, name.host.toLowerCase()));
  if (!exact.some((entry) => entry.marker === 'none')) return [...exact, ...plain];
  return [...exact, ...plain.filter((entry) => entry.marker === 'revoked')];
}
