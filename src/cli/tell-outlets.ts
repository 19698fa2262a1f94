import { hostname } from 'node:os';
import { type Delivered, reasonOf } from '../deliver/delivered.ts';
import type { MailServer } from '../deliver/send-mail.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import { type LogEntry, logEntries } from '../report/log-entries.ts';
import { mailText } from '../report/mail-text.ts';
import { cutToOctets, structuredData, syslogMessage } from '../report/syslog-message.ts';
import type { AuditResult } from '../report/types.ts';
import type { Endpoint } from './endpoint.ts';
import type { Io } from './io.ts';
import { resolveName } from './node-reader.ts';
import type { LogOutlet, MailOutlet, Outlets } from './outlets.ts';
import { RunFault } from './run-fault.ts';

/** Outlets with all that they need at hand, so that nothing is missing once there is news. */
export interface ReadyOutlets {
  readonly log?: LogOutlet;
  readonly mail?: ReadyMail;
}

type ReadyMail = MailOutlet & Pick<MailServer, 'authorities'> & { readonly password?: string };

/** Finds secrets, certificates and the package for mail; ends the run where one is missing. */
export async function readyOutlets({ log, mail }: Outlets, io: Io): Promise<ReadyOutlets> {
  return {
    ...(log === undefined ? {} : { log }),
    ...(mail === undefined ? {} : { mail: await readyMail(mail, io) }),
  };
}

async function readyMail(mail: MailOutlet, io: Io): Promise<ReadyMail> {
  await import('nodemailer').catch(() => {
    throw new RunFault(exitStatuses.cannotWrite, [
      '--mail-to: the package nodemailer is not installed; run: npm install nodemailer',
    ]);
  });
  const authorities = mail.authorityFile === undefined ? undefined : await pem(mail, io);
  const name = mail.login?.secret;
  const secret = name === undefined ? undefined : await io.findSecret(name);
  if (name !== undefined && secret === undefined) {
    throw new RunFault(exitStatuses.input, [
      `--smtp-secret: nobody has a secret ${name}; put ${name}=... into the environment or the secrets file`,
    ]);
  }
  return {
    ...mail,
    ...(authorities === undefined ? {} : { authorities }),
    ...(secret === undefined ? {} : { password: secret.reveal() }),
  };
}

async function pem({ authorityFile = '' }: MailOutlet, io: Io): Promise<string> {
  const read = await io.readTextFile(authorityFile);
  const reason = read.ok ? 'it holds no certificate' : read.reason;
  if (read.ok && read.text.includes('-----BEGIN CERTIFICATE-----')) return read.text;
  throw new RunFault(exitStatuses.input, [
    `--smtp-ca: ${clean(authorityFile)}: ${reason}; give a file of certificates in PEM`,
  ]);
}

/**
 * Tells the outlets what an audit has found; gives the exit status. What cannot be delivered is
 * said on stderr, and the status is then 73 unless the run itself failed. Never throws.
 */
export async function tellOutlets(
  result: AuditResult,
  { status, outlets, signal }: { status: number; outlets: ReadyOutlets; signal: AbortSignal },
  io: Io,
): Promise<number> {
  const { log, mail } = outlets;
  const cut = { ...io, signal };
  const told = {
    '--syslog': log === undefined ? done : await guarded(() => tellLog(log, result, cut)),
    '--mail-to': mail === undefined ? done : await guarded(() => tellMail(mail, result, cut)),
  };
  const failed = Object.entries(told).flatMap(([outlet, delivered]) =>
    delivered.ok ? [] : [`${outlet}: not delivered: ${delivered.reason}`],
  );
  for (const line of failed) io.stderr.write(`${clean(line)}\n`);
  return failed.length > 0 && isVerdict(status) ? exitStatuses.cannotWrite : status;
}

const done: Delivered = { ok: true };

/** The verdicts must reach the history whatever a delivery does. */
async function guarded(deliver: () => Promise<Delivered>): Promise<Delivered> {
  return deliver().catch((error: unknown) => ({ ok: false, reason: reasonOf(error) }));
}

/** That a delivery failed counts more than what was to be delivered, or nobody would know. */
function isVerdict(status: number): boolean {
  const verdicts: readonly number[] = [
    exitStatuses.met,
    exitStatuses.broken,
    exitStatuses.undetermined,
  ];
  return verdicts.includes(status);
}

/** RFC 5424, Table 1: local0. */
const local0 = 16;

async function tellLog({ to, local }: LogOutlet, result: AuditResult, io: Io): Promise<Delivered> {
  const entries = logEntries(result);
  if (entries.length === 0) return done;
  if (to === undefined) {
    const { writeLocalLog } = await import('../deliver/write-local-log.ts');
    return writeLocalLog(entries.map(localLine), { facility: `local${local}` }, io.signal);
  }
  const { sendSyslog } = await import('../deliver/send-syslog.ts');
  const address = await resolveName(to.host, io);
  if (address === undefined) return unknownName(to);
  const head = {
    facility: local0 + local,
    at: result.endedAt,
    host: hostname(),
    processId: process.pid,
  };
  const over = to.scheme === 'udp' ? 'udp' : 'tcp';
  const messages = entries.map((entry) => syslogMessage(entry, head));
  return sendSyslog(messages, { over, address, port: to.port }, io.signal);
}

const localPriorities = {
  error: 'err',
  warning: 'warning',
  notice: 'notice',
  informational: 'info',
} as const;

/** `logger` of Linux cuts a line after 1 KiB. */
const localOctetsMax = 1000;

function localLine(entry: LogEntry) {
  const data = structuredData(entry);
  const text = data === '-' ? entry.text : `${entry.text} ${data}`;
  return { priority: localPriorities[entry.severity], text: cutToOctets(text, localOctetsMax) };
}

async function tellMail(mail: ReadyMail, result: AuditResult, io: Io): Promise<Delivered> {
  const written = mailText(result);
  if (written === undefined) return done;
  const { server, tls, login, password, authorities } = mail;
  const address = await resolveName(server.host, io);
  if (address === undefined) return unknownName(server);
  const { sendMail } = await import('../deliver/send-mail.ts');
  const letter = { from: mail.from, to: mail.to, at: io.now(), ...written };
  return sendMail(
    letter,
    {
      host: server.host,
      address,
      port: server.port,
      tls,
      ...(authorities === undefined ? {} : { authorities }),
      ...(login === undefined || password === undefined
        ? {}
        : { login: { user: login.user, password } }),
    },
    io.signal,
  );
}

function unknownName({ host }: Endpoint): Delivered {
  return { ok: false, reason: `no address is known for ${host}` };
}
