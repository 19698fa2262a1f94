import { z } from 'zod';

/** Where a node is reached: host name or IP address, and the port where one is written. */
export interface Address {
  readonly host: string;
  readonly port?: number;
}

const ipv6 = z.ipv6();
// RFC 1123 labels, with the underscore that people use in ssh_config names.
const hostName =
  /^(?=.{1,253}$)[A-Za-z0-9_](?:[A-Za-z0-9_-]{0,62})(?:\.[A-Za-z0-9_][A-Za-z0-9_-]{0,62})*$/;
const dottedNumbers = /^[0-9]+(?:\.[0-9]+)+$/;
const ipv4 = /^(?:(?:25[0-5]|2[0-4]\d|1\d\d|[1-9]?\d)(?:\.(?!$)|$)){4}$/;
const portText = /^[1-9][0-9]{0,4}$/;
// RFC 4007 zone of a link-local address, as `fe80::1%en0`.
const zone = /^[A-Za-z0-9._-]{1,32}$/;

/**
 * Parses `vault.office.example`, `198.18.0.5`, `2001:db8::5`, `host:port` or `[v6]:port`;
 * undefined when it is none of them.
 */
export function parseAddress(text: string): Address | undefined {
  const bracketed = /^\[([^\]]*)\](?::(.*))?$/.exec(text);
  if (bracketed) {
    const [, host = '', port] = bracketed;
    return isIpv6(host) ? withPort(host, port) : undefined;
  }
  if (isIpv6(text)) return { host: text };
  const [host = '', port, more] = text.split(':', 3);
  if (more !== undefined || !isHost(host)) return undefined;
  return withPort(host, port);
}

/** A port number 1..65535 from text; undefined for anything else. */
export function parsePort(text: string): number | undefined {
  if (!portText.test(text)) return undefined;
  const port = Number(text);
  return port <= 65_535 ? port : undefined;
}

function withPort(host: string, text: string | undefined): Address | undefined {
  if (text === undefined) return { host };
  const port = parsePort(text);
  return port === undefined ? undefined : { host, port };
}

function isHost(text: string): boolean {
  return dottedNumbers.test(text) ? ipv4.test(text) : hostName.test(text);
}

function isIpv6(text: string): boolean {
  const [address = '', zoneText] = text.split('%', 2);
  return ipv6.safeParse(address).success && (zoneText === undefined || zone.test(zoneText));
}
