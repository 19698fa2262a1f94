import { randomUUID } from 'node:crypto';
import { cleanText } from '../facts/clean-text.ts';
import { type Delivered, reasonOf } from './delivered.ts';
import { within } from './within.ts';

/** A mail server, and how it is trusted. */
export interface MailServer {
  /** As written; its certificate must be for this name. */
  readonly host: string;
  /** A literal address. */
  readonly address: string;
  readonly port: number;
  /**
   * `always`: TLS from the first octet; `starttls`: after the greeting, or no mail; `none`: on this
   * machine, where nothing leaves it.
   */
  readonly tls: 'always' | 'starttls' | 'none';
  /** Certificates (PEM) to trust in place of those that ship with Node. */
  readonly authorities?: string;
  readonly login?: { readonly user: string; readonly password: string };
}

/** One mail of plain text. */
export interface Mail {
  readonly from: string;
  readonly to: string;
  readonly subject: string;
  readonly text: string;
  readonly at: Date;
}

/** Longest delivery, in milliseconds; RFC 5321 section 4.5.3.2 allows minutes, a timer does not. */
const deliverMsMax = 30_000;
/** Longest wait for each answer of the server, in milliseconds. */
const answerMsMax = 10_000;

/** Hands one mail to a server. Never falls back to less than `tls` asks. */
export async function sendMail(
  mail: Mail,
  server: MailServer,
  signal: AbortSignal,
): Promise<Delivered> {
  const { createTransport } = await import('nodemailer');
  const transport = createTransport({
    host: server.address,
    port: server.port,
    secure: server.tls === 'always',
    requireTLS: server.tls === 'starttls',
    ignoreTLS: server.tls === 'none',
    tls: {
      servername: server.host,
      minVersion: 'TLSv1.2',
      ...(server.authorities === undefined ? {} : { ca: server.authorities }),
    },
    ...(server.login === undefined
      ? {}
      : { auth: { user: server.login.user, pass: server.login.password } }),
    connectionTimeout: answerMsMax,
    greetingTimeout: answerMsMax,
    socketTimeout: answerMsMax,
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  return within({ msMax: deliverMsMax, signal }, (settle) => {
    transport.sendMail(messageOf(mail)).then(
      () => settle({ ok: true }),
      (error) => settle({ ok: false, reason: mailReason(error, server) }),
    );
    return () => transport.close();
  });
}

function messageOf({ from, to, subject, text, at }: Mail) {
  return {
    from,
    to,
    subject,
    text,
    date: at,
    messageId: `<${randomUUID()}@${from.slice(from.lastIndexOf('@') + 1)}>`,
    // RFC 3834 section 5: keeps out-of-office replies away.
    headers: { 'Auto-Submitted': 'auto-generated' },
  };
}

/** The library's words, since they hold the server's own; without the password in any form. */
function mailReason(error: unknown, { login, tls }: MailServer): string {
  if (!(error instanceof Error)) return reasonOf(error);
  if (tls === 'starttls' && /STARTTLS/.test(error.message)) {
    return 'the server offers no STARTTLS, and no mail goes out in clear text';
  }
  const hidden = login === undefined ? [] : secretForms(login);
  const said = hidden.reduce((text, form) => text.replaceAll(form, '[secret]'), error.message);
  return cleanText(said, 300);
}

function secretForms({ user, password }: { user: string; password: string }): string[] {
  const base64 = (text: string) => Buffer.from(text, 'utf8').toString('base64');
  return [base64(`\0${user}\0${password}`), base64(password), password];
}
