import { quoted } from './fault.ts';
import type { Spot } from './spot.ts';

const secretKeys: ReadonlySet<PropertyKey> = new Set([
  'passphrase',
  'password',
  'community',
  'secret',
  'jump',
  // A whole private key may be pasted where its file is meant.
  'key',
]);

/** The value at `path` below `value`; undefined when there is none. */
export function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  let found = value;
  for (const step of path) {
    if (typeof found !== 'object' || found === null) return undefined;
    found = Object.getOwnPropertyDescriptor(found, step)?.value;
  }
  return found;
}

/**
 * A value as a message shows it: text quoted, a number as written; undefined when there is nothing
 * to show, or when a secret may have been written there.
 */
export function seenText(
  path: readonly PropertyKey[],
  value: unknown,
  spot: Spot,
): string | undefined {
  if (value === undefined || value === null || value === '' || maySecret(path, value))
    return undefined;
  if (Array.isArray(value))
    return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  if (typeof value === 'object') return 'a map';
  return typeof value === 'string' ? quoted(value) : (spot.source ?? String(value));
}

function maySecret(path: readonly PropertyKey[], value: unknown): boolean {
  if (path[0] === 'access' && path.some((step) => secretKeys.has(step))) return true;
  // `user:password@host`, as some write it in an address.
  return typeof value === 'string' && /:[^@]*@/.test(value);
}
