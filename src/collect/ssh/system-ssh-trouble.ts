import type { Trouble, TroubleKind } from '../../facts/trouble.ts';
import { quoted, troubleOf } from './trouble.ts';

/** Status with which `ssh` itself ends when it fails (ssh(1), EXIT STATUS). */
const ownStatus = 255;

/** Whether it was `ssh` that failed, and not what it ran. */
export function isSystemSshFailure(code: number | null): boolean {
  return code === ownStatus;
}

/** What OpenSSH says in the C locale, the gravest first (its sources; common practice). */
const meanings: readonly (readonly [pattern: RegExp, kind: TroubleKind, remedy: string])[] = [
  [
    /REVOKED HOST KEY|is marked as revoked/i,
    'host-key-revoked',
    'do not log in: who holds this key may be anyone; give the host a new key',
  ],
  [
    /REMOTE HOST IDENTIFICATION HAS CHANGED|host key for .+ has changed/i,
    'host-key-changed',
    'nothing was sent to it; find out which machine answers at this address before you remove the old key',
  ],
  [
    /host key verification failed|no .{1,40} host key is known/i,
    'host-key-unknown',
    'record its key in known_hosts, or a @cert-authority line for it, after comparing it on the host',
  ],
  [
    /could not resolve hostname/i,
    'name-unknown',
    'correct at: of the node, or the HostName of the SSH configuration',
  ],
  [/connection refused/i, 'refused', 'see that an SSH server listens there'],
  [/no route to host|network is unreachable/i, 'no-route', 'check the address and the route to it'],
  [
    // In brackets is what the host takes (RFC 4252, 5.1). What failed with a ticket is not told.
    /permission denied \([^)]*\bgssapi-/i,
    'login-refused',
    'it takes Kerberos tickets: see by klist that yours is valid, or fetch one by kinit; see that at: is its name in the realm and user: an account that the ticket is for; if you log in otherwise, try it by hand with ssh -o BatchMode=yes',
  ],
  [
    /permission denied|too many authentication failures/i,
    'login-refused',
    'try it by hand with ssh -o BatchMode=yes: see that the certificate is valid, the key plugged in, the ticket fresh',
  ],
  [
    /no matching (?:host key|key exchange|cipher|mac)/i,
    'no-common-method',
    'update the SSH server of the host: what it offers is out of use',
  ],
  [
    /timed out|banner exchange|connection (?:closed|reset)/i,
    'no-answer',
    'see that it is on and that an SSH server answers there',
  ],
];

/** The trouble behind what `ssh` said on its standard error before anything came from the host. */
export function systemSshTrouble(complaint: string, at: string, how: 'ended' | 'time'): Trouble {
  const said = complaint.trim() === '' ? 'nothing' : quoted(complaint);
  const found = meanings.find(([pattern]) => pattern.test(complaint));
  const seen = `the system's ssh to ${at} ${how === 'time' ? 'did not end in time' : 'failed'} and said ${said}`;
  if (found !== undefined) return troubleOf(found[1], seen, found[2]);
  return troubleOf(
    'no-answer',
    seen,
    'try it by hand with ssh -o BatchMode=yes, and see what it waits for',
  );
}
