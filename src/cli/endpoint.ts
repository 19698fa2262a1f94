import { isIP } from 'node:net';
import { exitStatuses } from '../report/exit-status.ts';
import { RunFault } from './run-fault.ts';

/** A place on the network that an option names. */
export interface Endpoint {
  readonly scheme: string;
  /** Name or literal address, without brackets. */
  readonly host: string;
  readonly port: number;
}

/** Names of the DNS (RFC 1123 section 2.1), and addresses. */
const hostPattern = /^[A-Za-z0-9](?:[A-Za-z0-9.-]{0,252}[A-Za-z0-9])?$/;

/** `scheme://host[:port]` and nothing more; `ports` has the default port of each scheme. */
export function endpointOf(
  option: string,
  text: string,
  ports: Readonly<Record<string, number>>,
): Endpoint {
  const forms = Object.keys(ports).map((scheme) => `${scheme}://HOST:PORT`);
  const fault = (what: string) =>
    new RunFault(exitStatuses.usage, [`${option}: ${what}; write ${forms.join(' or ')}`]);
  const url = URL.canParse(text) ? new URL(text) : undefined;
  // Said first and without the text: it may hold a password.
  if (url !== undefined && (url.username !== '' || url.password !== '')) {
    throw fault('a user or password in an address shows in every list of processes');
  }
  const shown = `'${text.slice(0, 80)}' is no such address`;
  if (url === undefined) throw fault(shown);
  const scheme = url.protocol.slice(0, -1);
  const host = url.hostname.replace(/^\[(.*)\]$/, '$1');
  const portDefault = Object.hasOwn(ports, scheme) ? ports[scheme] : undefined;
  const bare =
    (url.pathname === '' || url.pathname === '/') && url.search === '' && url.hash === '';
  if (portDefault === undefined || !bare) throw fault(shown);
  if (isIP(host) === 0 && !hostPattern.test(host)) throw fault(shown);
  return { scheme, host, port: url.port === '' ? portDefault : Number(url.port) };
}

/** Whether a host, as written, is this machine: what is sent there leaves it by no cable. */
export function isThisMachine(host: string): boolean {
  return host === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'));
}
