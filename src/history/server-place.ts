import { StoreFault } from './store-fault.ts';

/** How much of the encryption of a connection is asked for; words of libpq. */
export const sslModes = ['disable', 'require', 'verify-ca', 'verify-full'] as const;
/** One of `sslModes`. */
export type SslMode = (typeof sslModes)[number];

/** A database on a server, as an address names it. Never a password. */
export interface ServerPlace {
  /** Host name, address, or the folder of a socket. */
  readonly host: string;
  readonly port: number;
  readonly user: string;
  readonly database: string;
  readonly sslMode: SslMode;
  /** File of certificates to trust, PEM; absent: those of the system. */
  readonly sslRootCert?: string;
}

type Env = Readonly<Record<string, string | undefined>>;

/** Whether what `--store` names is a server and not a file. */
export function isServer(place: string): boolean {
  return /^postgres(ql)?:/i.test(place);
}

/** Whether it is meant for an address; a file of such a name is named with `./` before it. */
export function isAddress(place: string): boolean {
  return /^([a-z][a-z0-9+.-]*:|postgres(ql)?)\/\//i.test(place);
}

/** What is said of an address that cannot be read; never the text itself, which may hold a password. */
export const unreadable =
  'the address of the store cannot be read; write postgres://USER@HOST:5432/DATABASE';

/**
 * The place that an address `postgres://USER@HOST:PORT/DATABASE?sslmode=…` names; what it leaves out
 * comes from `PGHOST` and its like. Throws `StoreFault`, also for an address with a password: it would
 * stand in the list of processes.
 */
export function serverPlace(address: string, env: Env, userName: string): ServerPlace {
  const url = parsed(address);
  const said = url.searchParams;
  const strange = [...said.keys()].find((key) => !['sslmode', 'sslrootcert', 'host'].includes(key));
  if (strange !== undefined)
    throw unusable(
      `the address of the store has '${strange}'; it takes sslmode, sslrootcert, host`,
    );
  const host = said.get('host') ?? filled(bare(url.hostname)) ?? env['PGHOST'] ?? 'localhost';
  const user = filled(decodeURIComponent(url.username)) ?? env['PGUSER'] ?? userName;
  const named = filled(decodeURIComponent(url.pathname.replace(/^\//, '')));
  const rootCert = said.get('sslrootcert') ?? env['PGSSLROOTCERT'];
  return {
    host,
    port: portOf(filled(url.port) ?? env['PGPORT'] ?? '5432'),
    user,
    database: named ?? env['PGDATABASE'] ?? user,
    sslMode: sslModeOf(said.get('sslmode') ?? env['PGSSLMODE'], host),
    ...(rootCert === undefined ? {} : { sslRootCert: rootCert }),
  };
}

/** A place in words that may be shown: `postgres://auditor@db.office.example:5432/hopgauge`. */
export function placeWords({ user, host, port, database }: ServerPlace): string {
  const at = host.includes('/') || host.includes(':') ? `[${host}]` : host;
  return `postgres://${user}@${at}:${port}/${database}`;
}

function parsed(address: string): URL {
  let url: URL;
  try {
    url = new URL(address);
    decodeURIComponent(url.username + url.hostname + url.pathname);
  } catch {
    throw unusable(unreadable);
  }
  if (url.password !== '')
    throw unusable(
      'the address of the store holds a password, which anybody may read in the list of processes; ' +
        'take it out, and change it: PGPASSWORD, ~/.pgpass or the secret HOPGAUGE_STORE have it instead',
    );
  // Parts that are misread would be shown: 'postgres:USER:PASSWORD@HOST' names a database to a parser.
  if (!plainForm.test(address)) throw unusable(unreadable);
  return url;
}

/** After the two slashes, an `@` parts the user from the host, and stands nowhere else. */
const plainForm = /^postgres(ql)?:\/\/([^@/?#]*@)?[^@#]*$/i;

function unusable(message: string): StoreFault {
  return new StoreFault('unusable', message);
}

function bare(hostname: string): string {
  return decodeURIComponent(hostname.replace(/^\[(.*)\]$/, '$1'));
}

function filled(text: string): string | undefined {
  return text === '' ? undefined : text;
}

function portOf(text: string): number {
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  if (port < 1 || port > 65_535)
    throw unusable(`the port of the store is '${text.slice(0, 20)}'; write 1 to 65535`);
  return port;
}

const ownHosts = /^(localhost|127\.\d+\.\d+\.\d+|::1|\/.*)$/;

/** Over a network the server proves who it is, unless the owner says otherwise. */
function sslModeOf(word: string | null | undefined, host: string): SslMode {
  if (word === null || word === undefined || word === '')
    return ownHosts.test(host) ? 'disable' : 'verify-full';
  const mode = sslModes.find((each) => each === word);
  if (mode !== undefined) return mode;
  throw unusable(`sslmode is '${word.slice(0, 20)}'; write ${sslModes.join(', ')}`);
}
