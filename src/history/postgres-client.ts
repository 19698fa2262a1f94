import { readFileSync } from 'node:fs';
import { isIP } from 'node:net';
import type { ConnectionOptions } from 'node:tls';
import type { Client, ClientConfig } from 'pg';
import type { ServerPlace } from './server-place.ts';
import { StoreFault } from './store-fault.ts';

/** Gives the password when the server asks for one; undefined: nobody has it. */
export type AskPassword = () => Promise<string | undefined>;

/** Longest wait for a connection, and for the answer to one statement, in milliseconds. */
const connectMs = 10_000;
const statementMs = 300_000;
/** How long a writer waits for the others. */
const lockMs = 120_000;

/** Lets the server find out within ten seconds that a machine is gone, and end its session and locks. */
const keepAlives =
  '-c tcp_keepalives_idle=4 -c tcp_keepalives_interval=2 -c tcp_keepalives_count=3';

/** Opens one session; throws as `pg` does. The session ends by `end` or by a fault. */
export async function postgresClient(
  place: ServerPlace,
  askPassword: AskPassword,
  onEnd: () => void,
): Promise<Client> {
  const pg = await packageOf();
  const { getTypeParser } = pg.types;
  const config: ClientConfig & { readonly pipeline: boolean } = {
    host: place.host,
    port: place.port,
    user: place.user,
    database: place.database,
    // An empty one stands for none: the server then says what it thinks of that.
    password: async () => (await askPassword()) ?? '',
    ssl: sslOf(place),
    connectionTimeoutMillis: connectMs,
    statement_timeout: statementMs,
    query_timeout: statementMs + connectMs,
    lock_timeout: lockMs,
    keepAlive: true,
    keepAliveInitialDelayMillis: 30_000,
    application_name: 'hopgauge',
    options: keepAlives,
    // Statements follow each other without a wait for the answer: a far server costs one round trip.
    pipeline: true,
    types: {
      // Whole numbers and sums come as numbers; nothing that is kept passes 2^53.
      getTypeParser: (oid: number, format?: 'text' | 'binary') =>
        oid === 20 || oid === 1700 ? Number : getTypeParser(oid, format as 'text'),
    } as NonNullable<ClientConfig['types']>,
  };
  const client = new pg.Client(config);
  client.on('error', onEnd);
  client.on('end', onEnd);
  try {
    await client.connect();
  } catch (error) {
    client.end().catch(() => undefined);
    throw error;
  }
  return client;
}

async function packageOf(): Promise<typeof import('pg').default> {
  try {
    return (await import('pg')).default;
  } catch {
    throw new StoreFault(
      'unusable',
      "the package pg is missing, which a store on a server needs; run 'npm install pg@8.23.1'",
    );
  }
}

function sslOf({ sslMode, sslRootCert, host }: ServerPlace): false | ConnectionOptions {
  if (sslMode === 'disable') return false;
  // As libpq does: 'require' looks at the certificate only where an authority is named.
  if (sslMode === 'require' && sslRootCert === undefined) return { rejectUnauthorized: false };
  const authority = sslRootCert === undefined ? {} : { ca: authorityIn(sslRootCert) };
  const anyName = sslMode !== 'verify-full';
  return {
    ...authority,
    rejectUnauthorized: true,
    ...(anyName ? { checkServerIdentity: () => undefined } : {}),
    ...(isIP(host) !== 0 || host.startsWith('/') ? {} : { servername: host }),
  };
}

function authorityIn(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    const { code = 'unknown fault' } = error as NodeJS.ErrnoException;
    throw new StoreFault('unusable', `${file}: the certificates cannot be read (${code})`);
  }
}
