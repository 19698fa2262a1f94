import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import { onTestFinished } from 'vitest';
import { ownFolder } from '../history/store.ts';

/** A key and a certificate of its own for `host`, PEM. */
export function ownCertificate(host: string): { readonly key: string; readonly cert: string } {
  const folder = ownFolder();
  const [key, cert] = [join(folder, 'key.pem'), join(folder, 'cert.pem')];
  const kind = ['-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes'];
  const name = ['-subj', `/CN=${host}`, '-addext', `subjectAltName=DNS:${host}`, '-days', '2'];
  execFileSync('openssl', ['req', ...kind, ...name, '-keyout', key, '-out', cert], {
    stdio: 'ignore',
  });
  return { key: readFileSync(key, 'utf8'), cert: readFileSync(cert, 'utf8') };
}

/** One mail as a server took it. */
export interface TakenMail {
  readonly from: string;
  readonly to: readonly string[];
  readonly secure: boolean;
  readonly user: string | undefined;
  readonly text: string;
}

/** A mail server on loopback; it takes the login `vault` with `tide-table 7`, where it asks one. */
export async function mailHost(
  options: SMTPServerOptions,
): Promise<{ readonly port: number; readonly taken: TakenMail[]; readonly tries: string[] }> {
  const taken: TakenMail[] = [];
  const tries: string[] = [];
  const server = new SMTPServer({
    logger: false,
    disableReverseLookup: true,
    authOptional: true,
    onAuth: ({ username = '', password }, _session, done) => {
      tries.push(username);
      const good = username === 'vault' && password === 'tide-table 7';
      if (good) return done(null, { user: username });
      const echo = `no such login: ${username} with ${password}`;
      return done(Object.assign(new Error(echo), { responseCode: 535 }));
    },
    onData: (stream, session, done) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        taken.push({
          from: session.envelope.mailFrom === false ? '' : session.envelope.mailFrom.address,
          to: session.envelope.rcptTo.map(({ address }) => address),
          secure: session.secure,
          user: session.user,
          text: Buffer.concat(chunks).toString('utf8'),
        });
        done();
      });
    },
    ...options,
  });
  // A client that ends a handshake is a fault of the server's own log only.
  server.on('error', () => {});
  server.listen(0, '127.0.0.1');
  await once(server.server, 'listening');
  onTestFinished(() => new Promise<void>((resolve) => server.close(() => resolve())));
  return { port: (server.server.address() as AddressInfo).port, taken, tries };
}
