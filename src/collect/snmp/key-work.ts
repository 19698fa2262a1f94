import { createHash } from 'node:crypto';
import snmp from 'net-snmp';

/** Octets of the repeated password that a key is hashed from (RFC 3414, A.2). */
const repeatedBytes = 1024 * 1024;
/** Passwords remembered, at most; a site has a handful. */
const rememberedMax = 64;

/** The key extension of `aes256` gives a key back in as a password. */
type PasswordToKey = (protocol: number, password: string | Buffer, engineId: Buffer) => Buffer;
interface KeyMaker {
  passwordToKey: PasswordToKey;
  readonly algorithms: Readonly<Record<number, { readonly CRYPTO_ALGORITHM: string } | undefined>>;
}

const maker = snmp.Authentication as unknown as KeyMaker;
/** By digests of protocol and password, so that no secret stays here in the clear. */
const remembered = new Map<string, Buffer>();

/**
 * The localized key of a password (RFC 3414, 2.6). The megabyte that is hashed does not depend on
 * the engine: hashed once for each password, a thousand switches cost milliseconds, not seconds
 * in which nothing else runs.
 */
export const passwordToKey: PasswordToKey = (protocol, password, engineId) => {
  const algorithm = maker.algorithms[protocol]?.CRYPTO_ALGORITHM ?? 'sha256';
  const key = masterKey(algorithm, Buffer.isBuffer(password) ? password : Buffer.from(password));
  return createHash(algorithm).update(key).update(engineId).update(key).digest();
};

/** Has the library make its keys so. */
export function shareKeyWork(): void {
  maker.passwordToKey = passwordToKey;
}

function masterKey(algorithm: string, password: Buffer): Buffer {
  const name = createHash('sha256').update(`${algorithm} `).update(password).digest('hex');
  const known = remembered.get(name);
  if (known !== undefined) return known;
  if (remembered.size >= rememberedMax) remembered.clear();
  const made = createHash(algorithm).update(Buffer.alloc(repeatedBytes, password)).digest();
  remembered.set(name, made);
  return made;
}
