import type { Trouble } from '../../facts/trouble.ts';
import type { HostKeyOffer } from './door-steps.ts';
import {
  type HostKeyVerdict,
  judgeHostKey,
  knownKeyTypes,
  otherHostsWithKey,
} from './judge-host-key.ts';
import {
  fingerprintOf,
  type KnownHost,
  keyTypeOf,
  knownHostLine,
  knownHostName,
} from './known-hosts.ts';
import type { Endpoint } from './ssh-target.ts';

/** Whether a host key is trusted, and the trouble where it is not. */
export type HostKeyCheck =
  | { readonly ok: true; readonly fingerprint: string }
  | { readonly ok: false; readonly trouble: Trouble; readonly offer?: HostKeyOffer };

/** Checks the key that a host showed against the intent, else against known_hosts. */
export function checkHostKey(
  key: Buffer,
  endpoint: Endpoint,
  entries: readonly KnownHost[],
): HostKeyCheck {
  const verdict = judgeHostKey(entries, endpoint.keyName, key);
  const fingerprint = fingerprintOf(key);
  if (verdict.is === 'revoked')
    return { ok: false, trouble: revoked(key, endpoint, verdict.entry) };
  if (endpoint.hostKey !== undefined) {
    if (endpoint.hostKey === fingerprint) return { ok: true, fingerprint };
    return { ok: false, trouble: notAsDeclared(key, endpoint, endpoint.hostKey, entries) };
  }
  if (verdict.is === 'known') return { ok: true, fingerprint };
  if (verdict.is === 'changed') {
    return { ok: false, trouble: changed(key, endpoint, verdict.entry, entries) };
  }
  return {
    ok: false,
    trouble: unknown(key, endpoint, verdict, entries),
    offer: offerOf(key, endpoint),
  };
}

function offerOf(key: Buffer, { keyName, userKnownHosts }: Endpoint): HostKeyOffer {
  return {
    keyType: keyTypeOf(key) ?? 'unknown',
    fingerprint: fingerprintOf(key),
    line: knownHostLine(knownHostName(keyName.host, keyName.port), key),
    file: userKnownHosts[0] ?? '',
  };
}

function unknown(
  key: Buffer,
  endpoint: Endpoint,
  { otherTypes, authority }: Extract<HostKeyVerdict, { is: 'unknown' }>,
  entries: readonly KnownHost[],
): Trouble {
  const certified =
    authority === undefined
      ? ''
      : `; ${placeOf(authority)} trusts certificates for it, which hopgauge does not read itself`;
  const types =
    otherTypes.length > 0 ? `; recorded for it are only keys of type ${otherTypes.join(', ')}` : '';
  return {
    kind: 'host-key-unknown',
    seen: `the host key of ${endpoint.where} is not known: it shows ${shown(key)}${types}${certified}${elsewhere(key, endpoint, entries)}`,
    remedy:
      authority !== undefined
        ? 'write ssh: { through: system } in the access, which lets the ssh of the system check certificates'
        : 'run: hopgauge access --enrol, and compare the fingerprint with the one shown on the host itself',
    fingerprint: fingerprintOf(key),
  };
}

function changed(
  key: Buffer,
  endpoint: Endpoint,
  entry: KnownHost,
  entries: readonly KnownHost[],
): Trouble {
  const expected = fingerprintOf(entry.key);
  return {
    kind: 'host-key-changed',
    seen: `ANOTHER HOST KEY AT ${endpoint.where}: it shows ${shown(key)}, but ${placeOf(entry)} records ${expected}${elsewhere(key, endpoint, entries)}`,
    remedy: `nothing was sent to it; find out whether another machine answers at this address or the host was set up anew, and only then remove ${placeOf(entry)} and run: hopgauge access --enrol`,
    fingerprint: fingerprintOf(key),
    expected,
  };
}

function notAsDeclared(
  key: Buffer,
  endpoint: Endpoint,
  expected: string,
  entries: readonly KnownHost[],
): Trouble {
  return {
    kind: 'host-key-changed',
    seen: `ANOTHER HOST KEY AT ${endpoint.where}: it shows ${shown(key)}, but the intent declares ${expected}${elsewhere(key, endpoint, entries)}`,
    remedy:
      'nothing was sent to it; find out which machine answers at this address before correcting identity: of the node',
    fingerprint: fingerprintOf(key),
    expected,
  };
}

function revoked(key: Buffer, endpoint: Endpoint, entry: KnownHost): Trouble {
  return {
    kind: 'host-key-revoked',
    seen: `${endpoint.where} shows ${shown(key)}, which ${placeOf(entry)} marks as revoked`,
    remedy: 'do not log in: who holds this key may be anyone; give the host a new key',
    fingerprint: fingerprintOf(key),
  };
}

function shown(key: Buffer): string {
  return `${keyTypeOf(key) ?? 'a key'} ${fingerprintOf(key)}`;
}

function placeOf(entry: KnownHost): string {
  return `${entry.file} line ${entry.line}`;
}

/** Hosts named as owners of a key elsewhere, at most. */
const elsewhereMax = 3;

function elsewhere(key: Buffer, endpoint: Endpoint, entries: readonly KnownHost[]): string {
  const others = otherHostsWithKey(entries, endpoint.keyName, key);
  if (others.length === 0) return '';
  const named = others.slice(0, elsewhereMax).map((entry) => `${entry.hosts} (${placeOf(entry)})`);
  return `; this key is recorded for ${named.join(', ')}`;
}

/** Host key algorithms of the library, by the key type that known_hosts records. */
const algorithmsByType = {
  'ssh-ed25519': ['ssh-ed25519'],
  'ecdsa-sha2-nistp256': ['ecdsa-sha2-nistp256'],
  'ecdsa-sha2-nistp384': ['ecdsa-sha2-nistp384'],
  'ecdsa-sha2-nistp521': ['ecdsa-sha2-nistp521'],
  // RFC 8332: the same RSA key, signed with SHA-2.
  'ssh-rsa': ['rsa-sha2-512', 'rsa-sha2-256'],
} as const;

type HostKeyAlgorithm =
  | (typeof algorithmsByType)[keyof typeof algorithmsByType][number]
  | 'ssh-rsa';

/**
 * Algorithms to ask a host for: the types recorded for it first, or a host that has several keys
 * would show one that is not recorded and look like a stranger.
 */
export function hostKeyAlgorithms(
  endpoint: Endpoint,
  entries: readonly KnownHost[],
): HostKeyAlgorithm[] {
  const known = knownKeyTypes(entries, endpoint.keyName);
  const types = Object.keys(algorithmsByType) as (keyof typeof algorithmsByType)[];
  const ordered = [
    ...types.filter((type) => known.includes(type)),
    ...types.filter((type) => !known.includes(type)),
  ];
  // Signatures with SHA-1 last, for old devices that have nothing else.
  return [...ordered.flatMap((type) => algorithmsByType[type]), 'ssh-rsa'];
}
