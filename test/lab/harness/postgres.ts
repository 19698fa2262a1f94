import { chmodSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { freePort } from '../../tools/loopback-port.ts';
import { runDirectory } from './cleanup.ts';
import { must, until } from './command.ts';

/** A PostgreSQL server of one test file, on loopback and a port of its own. */
export interface PgServer {
  readonly port: number;
  readonly directory: string;
  /** Of its superuser, `postgres`. */
  readonly password: string;
  /** Authority that vouches for the server as `localhost`, PEM. */
  readonly authority: string;
  /** Runs SQL as the superuser, unless another user is named; rows as lines, columns apart by `|`. */
  readonly sql: (text: string, as?: PgLogin) => Promise<string>;
  readonly start: () => Promise<void>;
  /** `immediate` is what a crash leaves behind. */
  readonly stop: (mode: 'fast' | 'immediate') => Promise<void>;
  /** Number of its first process. */
  readonly pid: () => number;
}

export interface PgLogin {
  readonly user?: string;
  readonly password?: string;
  readonly database?: string;
}

const base = '/usr/lib/postgresql';

/** Folder of the programs of the newest PostgreSQL that Debian has put here. */
function programs(): string {
  const versions = readdirSync(base).toSorted((a, b) => Number(b) - Number(a));
  return join(base, versions[0] ?? '', 'bin');
}

const asPostgres = ['setpriv', '--reuid', 'postgres', '--regid', 'postgres', '--init-groups'];

/** Makes and starts a server; `stopPostgres` ends it. */
export async function startPostgres(): Promise<PgServer> {
  const directory = runDirectory();
  chmodSync(directory, 0o755);
  const [own, data, port, bin] = [
    join(directory, 'pg'),
    join(directory, 'pg/data'),
    await freePort(),
    programs(),
  ];
  const password = `lab-${port}`;
  mkdirSync(own, { mode: 0o700 });
  writeFileSync(join(own, 'password'), password);
  await must(['chown', '-R', 'postgres:postgres', own]);
  const env = { PATH: process.env['PATH'] ?? '', LC_ALL: 'C.UTF-8', PGPASSWORD: password };
  const postgres = (argv: readonly string[]) =>
    must([...asPostgres, ...argv], { env, cwd: own, timeoutMs: 60_000 });
  await postgres([
    join(bin, 'initdb'),
    '-D',
    data,
    '-A',
    'scram-sha-256',
    '-U',
    'postgres',
    '--no-sync',
    '--pwfile',
    join(own, 'password'),
  ]);
  const authority = await makeCertificates(data, postgres);
  const settings = [
    `port = ${port}`,
    "listen_addresses = '127.0.0.1'",
    `unix_socket_directories = '${own}'`,
    'fsync = off',
    'ssl = on',
    'max_connections = 40',
  ];
  writeFileSync(join(data, 'postgresql.auto.conf'), `${settings.join('\n')}\n`);
  const start = async () => {
    await postgres([join(bin, 'pg_ctl'), '-D', data, '-w', '-l', join(own, 'log'), 'start']);
  };
  const pid = () => Number(readFileSync(join(data, 'postmaster.pid'), 'utf8').split('\n')[0]);
  await start();
  return {
    port,
    directory,
    password,
    authority,
    start,
    pid,
    stop: async (mode) => {
      await postgres([join(bin, 'pg_ctl'), '-D', data, '-w', '-m', mode, 'stop']);
    },
    sql: async (text, { user = 'postgres', database = 'postgres', ...as } = {}) =>
      must(
        [
          join(bin, 'psql'),
          '-XAtq',
          '-v',
          'ON_ERROR_STOP=1',
          '-h',
          '127.0.0.1',
          '-p',
          String(port),
          '-U',
          user,
          database,
        ],
        { input: text, env: { ...env, PGPASSWORD: as.password ?? password } },
      ),
  };
}

async function makeCertificates(
  data: string,
  postgres: (argv: readonly string[]) => Promise<string>,
): Promise<string> {
  const [key, certificate] = [join(data, 'server.key'), join(data, 'server.crt')];
  await postgres([
    'openssl',
    'req',
    '-x509',
    '-newkey',
    'rsa:2048',
    '-nodes',
    '-days',
    '2',
    '-subj',
    '/CN=localhost',
    '-addext',
    'subjectAltName=DNS:localhost',
    '-keyout',
    key,
    '-out',
    certificate,
  ]);
  return readFileSync(certificate, 'utf8');
}

/** Ends a server, by its number, and takes its files away. */
export async function stopPostgres(server: PgServer | undefined): Promise<void> {
  if (server === undefined) return;
  const pid = numberOf(server);
  if (pid !== undefined) {
    process.kill(pid, 'SIGINT');
    const hasEnded = async () => numberOf(server) === undefined;
    await until('end of the server', hasEnded, { limitMs: 30_000 });
  }
  // Its last process may write once more after it has given up its number.
  rmSync(server.directory, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
}

function numberOf(server: PgServer): number | undefined {
  try {
    return server.pid();
  } catch {
    return undefined;
  }
}
