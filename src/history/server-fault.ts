import { StoreFault } from './store-fault.ts';

interface ServerError {
  readonly code?: unknown;
  readonly message?: unknown;
  readonly severity?: unknown;
}

/** SQLSTATE codes (PostgreSQL 15, Appendix A) and codes of sockets and of TLS, with what to do. */
const remedies: Readonly<Record<string, string>> = {
  '28P01':
    'the server refused the password; look at PGPASSWORD, ~/.pgpass or the secret HOPGAUGE_STORE',
  '28000': 'the server lets this user not in from here; look at the user and at pg_hba.conf',
  '3D000': 'the server has no such database; let its owner make it',
  '3F000': 'the user has no schema to work in; see the roles in README',
  '42501': 'the user has no right to do this; see the roles in README',
  '42P01': 'tables are missing; run hopgauge audit --changes as the user that owns the store',
  '25006': 'the server only lets read; is it a standby? name the one that is written to',
  '53100': 'the disk of the server is full; the store is as it was before this run',
  '53300': 'the server has no connection left; end some, or raise max_connections',
  '57P03': 'the server is starting or stopping; run this again in a minute',
  ECONNREFUSED: 'no server answers there; look whether it runs, and at host and port',
  ENOENT: 'there is no socket of a server; look whether it runs, and at the folder',
  ENOTFOUND: 'the name of the server is not known; look at the host',
  EAI_AGAIN: 'the name of the server is not known; look at the host and at the resolver',
  EHOSTUNREACH: 'the server cannot be reached; look at the network',
  ENETUNREACH: 'the server cannot be reached; look at the network',
  ETIMEDOUT: 'the server gave no answer in time; look at the network and the firewall',
  DEPTH_ZERO_SELF_SIGNED_CERT:
    'the certificate of the server is not trusted; name its authority with sslrootcert=FILE',
  SELF_SIGNED_CERT_IN_CHAIN:
    'the certificate of the server is not trusted; name its authority with sslrootcert=FILE',
  UNABLE_TO_VERIFY_LEAF_SIGNATURE:
    'the certificate of the server is not trusted; name its authority with sslrootcert=FILE',
  UNABLE_TO_GET_ISSUER_CERT_LOCALLY:
    'the certificate of the server is not trusted; name its authority with sslrootcert=FILE',
  ERR_TLS_CERT_ALTNAME_INVALID:
    'the certificate of the server is for another name; name the host as its certificate does',
  CERT_HAS_EXPIRED: 'the certificate of the server has ended; let its owner renew it',
};

/** Faults that carry no code, by their words. */
const worded: readonly (readonly [RegExp, string, string])[] = [
  [
    /does not support SSL/,
    'NO_TLS',
    'the server offers no TLS; turn it on there, or add sslmode=disable where nobody else is on the wire',
  ],
  [
    /client password must be|no password supplied/,
    'NO_PASSWORD',
    'the server asks for a password and none is at hand; PGPASSWORD, ~/.pgpass or the secret HOPGAUGE_STORE give it',
  ],
  [/timeout expired|read timeout|ETIMEDOUT/i, 'ETIMEDOUT', remedies['ETIMEDOUT'] ?? ''],
  [/Connection terminated|not queryable|connection error|ECONNRESET|socket/i, 'LOST', ''],
];

/** Codes that say that a session is over and that another may be begun. */
const lostCodes = /^(08...|57P0[123]|25P03|ECONNRESET|EPIPE|ECONNREFUSED|LOST|ETIMEDOUT)$/;

/** Whether a fault ended the session, so that a new one may be tried. */
export function isLost(error: unknown): boolean {
  const code = serverCode(error);
  return code !== undefined && lostCodes.test(code);
}

/** Codes of a server or a way to it that may be there again by itself, and of sessions that are full. */
const awayCodes = /^(EHOSTUNREACH|EHOSTDOWN|ENETUNREACH|ENETDOWN|EAI_AGAIN|ENOENT|53300)$/;

/** Whether to wait for the server makes sense; a host or password that is wrong does not mend itself. */
export function isAway(error: unknown): boolean {
  return isLost(error) || awayCodes.test(serverCode(error) ?? '');
}

/** The code of a fault of a server or of the way to it; undefined: it is none. */
export function serverCode(error: unknown): string | undefined {
  if (!(error instanceof Error)) return undefined;
  const { code } = error as ServerError;
  if (error instanceof AggregateError && code === undefined) return serverCode(error.errors[0]);
  if (typeof code === 'string' && (code in remedies || /^[0-9A-Z]{5}$/.test(code))) return code;
  const words = worded.find(([pattern]) => pattern.test(error.message));
  if (words !== undefined) return words[1];
  return typeof code === 'string' && /^E[A-Z]+$/.test(code) ? code : undefined;
}

/** A fault of a server in words for the operator; rethrows what is none. Never what the server was told. */
export function serverFault(place: string, error: unknown): StoreFault {
  if (error instanceof StoreFault) return error;
  const code = serverCode(error);
  if (code === undefined) throw error;
  if (code === '55P03')
    return new StoreFault(
      'locked',
      `${place}: another run is writing it; wait for its end, and run this again`,
    );
  return new StoreFault('unusable', `${place}: ${remedyOf(code)} (${codeWords(code, error)})`);
}

/** Where a right is missing, the server names the table or schema, and nothing that it was told. */
function codeWords(code: string, error: unknown): string {
  return code === '42501' && error instanceof Error ? `${code}: ${error.message}` : code;
}

function remedyOf(code: string): string {
  const known =
    remedies[code] ?? worded.find(([, name, words]) => name === code && words !== '')?.[2];
  if (known !== undefined) return known;
  if (lostCodes.test(code))
    return 'the connection to the server was lost; the store has this run whole or not at all, run it again';
  return 'the server could not do it; look at its log';
}
