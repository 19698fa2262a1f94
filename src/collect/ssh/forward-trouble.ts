import type { Trouble } from '../../facts/trouble.ts';
import { quoted, troubleOf } from './trouble.ts';

const farTroubles = [
  [/refused/i, 'refused', 'switch the SSH server on, or correct the port'],
  [/timed out/i, 'no-answer', 'check that the host is awake and reachable from the jump host'],
  [/no route|unreachable/i, 'no-route', 'check the way from the jump host to it'],
  [/not known|resolve|name/i, 'name-unknown', 'give a name or address that the jump host knows'],
] as const;

const libraryPrefix = /^\(SSH\) Channel open failure: /;

/** The jump host's own words on why it could not connect tell what is wrong with the target. */
export function forwardTrouble(at: string, where: string, words: string): Trouble {
  const seen = `from jump host ${at} there is no connection to ${where}: ${quoted(words.replace(libraryPrefix, ''))}`;
  const [, kind, remedy] = farTroubles.find(([pattern]) => pattern.test(words)) ?? [];
  if (kind !== undefined && remedy !== undefined) return troubleOf(kind, seen, remedy);
  return troubleOf(
    'jump-failed',
    seen,
    'let the jump host forward connections (AllowTcpForwarding)',
  );
}
