import { exitStatuses } from '../report/exit-status.ts';
import { type Endpoint, endpointOf, isThisMachine } from './endpoint.ts';
import type { JobOptions } from './options.ts';
import { RunFault } from './run-fault.ts';

/** Where syslog messages go. */
export interface LogOutlet {
  /** Absent: the log of this machine. */
  readonly to?: Endpoint;
  /** 0 to 7, of local0 to local7. */
  readonly local: number;
}

/** Where mail goes. */
export interface MailOutlet {
  readonly to: string;
  readonly from: string;
  readonly server: Endpoint;
  readonly tls: 'always' | 'starttls' | 'none';
  readonly login?: { readonly user: string; readonly secret: string };
  readonly authorityFile?: string;
}

/** Who is told besides the one who reads the output. */
export interface Outlets {
  readonly log?: LogOutlet;
  readonly mail?: MailOutlet;
}

/** RFC 5424 and RFC 6587 have these ports registered: syslog over UDP, and over TCP. */
const syslogPorts = { udp: 514, tcp: 601 };
/** RFC 8314: submission, and submission within TLS. */
const smtpPorts = { smtp: 587, smtps: 465 };

/** The outlets that the options name; ends the run where they make no sense. */
export function outletsOf(options: JobOptions & { readonly changes?: boolean }): Outlets {
  const log = logOutlet(options);
  const mail = mailOutlet(options);
  return { ...(log === undefined ? {} : { log }), ...(mail === undefined ? {} : { mail }) };
}

function logOutlet({ syslog, syslogFacility }: JobOptions): LogOutlet | undefined {
  if (syslog === undefined) {
    if (syslogFacility !== undefined) throw usage('--syslog-facility has no use without --syslog');
    return undefined;
  }
  const local = Number(/^local([0-7])$/.exec(syslogFacility ?? 'local0')?.[1] ?? '0');
  if (syslog === 'local') return { local };
  return { local, to: endpointOf('--syslog', syslog, syslogPorts) };
}

function mailOutlet(options: JobOptions & { readonly changes?: boolean }): MailOutlet | undefined {
  const { mailTo, mailFrom, smtp, smtpUser, smtpSecret, smtpCa, changes } = options;
  const given = [mailTo, mailFrom, smtp, smtpUser, smtpSecret, smtpCa];
  if (given.every((each) => each === undefined)) return undefined;
  if (mailTo === undefined || mailFrom === undefined || smtp === undefined) {
    throw usage('a mail needs all of --mail-to, --mail-from and --smtp');
  }
  if (changes !== true) {
    throw usage('--mail-to mails what moved, so it has no use without --changes; add it');
  }
  if ((smtpUser === undefined) !== (smtpSecret === undefined)) {
    throw usage('--smtp-user and --smtp-secret belong together; give both');
  }
  const server = endpointOf('--smtp', smtp, smtpPorts);
  return {
    to: addressOf('--mail-to', mailTo),
    from: addressOf('--mail-from', mailFrom),
    server,
    tls: tlsOf(server),
    ...(smtpUser === undefined || smtpSecret === undefined
      ? {}
      : { login: { user: smtpUser, secret: secretName(smtpSecret) } }),
    ...(smtpCa === undefined ? {} : { authorityFile: smtpCa }),
  };
}

function tlsOf({ scheme, host }: Endpoint): MailOutlet['tls'] {
  if (scheme === 'smtps') return 'always';
  return isThisMachine(host) ? 'none' : 'starttls';
}

/** The plain form of RFC 5321 section 4.1.2: no quoted local part, no address literal. */
const mailAddress =
  /^[A-Za-z0-9!#$%&'*+/=?^_`{|}~.-]{1,64}@[A-Za-z0-9](?:[A-Za-z0-9.-]{0,252}[A-Za-z0-9])?$/;

function addressOf(option: string, text: string): string {
  if (mailAddress.test(text)) return text;
  throw usage(`${option}: '${text.slice(0, 80)}' is no mail address; write desk@office.example`);
}

/** As names of secrets are written everywhere. */
function secretName(text: string): string {
  if (/^[A-Za-z_][A-Za-z0-9_.-]*$/.test(text)) return text;
  // Not shown: it may be the password itself.
  throw usage('--smtp-secret takes the name of a secret, never the secret; write OFFICE_MAIL, say');
}

function usage(line: string): RunFault {
  return new RunFault(exitStatuses.usage, [line]);
}
