import { cleanText } from '../../facts/clean-text.ts';
import type { RouteRow } from '../../facts/survey.ts';
import type { Section } from './frames.ts';
import { isLiteralAddress } from './literal.ts';
import { mtuNumber, present, textLines, wholeNumber, words } from './text.ts';

/** A table longer than this is one of a router with full routes, and is not kept. */
const rowsMax = 4096;

/**
 * Reads `netstat -rn` of macOS and `netstat -rnW` of FreeBSD (their forms are common practice, from
 * memory); which columns there are is read from their titles. Destinations may be shortened: `198.18.20` is 198.18.20.0/24, an address without a prefix length is one host. Rows
 * bound to an interface (flag I) are for sockets that ask for it, and rows with a zone are
 * link-local: neither is used for a peer. Undefined where the table was not read whole.
 */
export function parseBsdRouteTable(section: Section | undefined): RouteRow[] | undefined {
  if (section === undefined || section.status !== 0) return undefined;
  const rows: RouteRow[] = [];
  let v6 = false;
  let inside = false;
  let titles: readonly string[] = usualTitles;
  for (const line of textLines(section.output)) {
    if (/^Internet6?:/.test(line)) {
      v6 = line.startsWith('Internet6');
      inside = true;
      continue;
    }
    if (line.startsWith('Destination')) titles = words(line);
    if (!inside || line.startsWith('Destination')) continue;
    const row = rowOf(words(line), { v6, titles });
    if (row !== undefined) rows.push(row);
  }
  return inside && rows.length > 0 && rows.length <= rowsMax ? rows : undefined;
}

const usualTitles = ['Destination', 'Gateway', 'Flags', 'Netif'];

function rowOf(
  columns: readonly string[],
  { v6, titles }: { readonly v6: boolean; readonly titles: readonly string[] },
): RouteRow | undefined {
  const [destination = '', gateway = '', flags = ''] = columns;
  const device = columns[titles.indexOf('Netif')];
  if (device === undefined || flags.includes('I') || !flags.startsWith('U')) return undefined;
  const prefix = v6 ? prefix6(destination) : prefix4(destination);
  if (prefix === undefined) return undefined;
  const by = isLiteralAddress(gateway) ? gateway : undefined;
  const mtuBytes = mtuNumber(wholeNumber(columns[titles.indexOf('Mtu')]));
  return present<RouteRow>({ prefix, device: cleanText(device), gateway: by, mtuBytes });
}

function prefix4(text: string): string | undefined {
  if (text === 'default') return '0.0.0.0/0';
  const match = /^(\d{1,3}(?:\.\d{1,3}){0,3})(?:\/(\d{1,2}))?$/.exec(text);
  if (match?.[1] === undefined) return undefined;
  const octets = match[1].split('.');
  const length = match[2] ?? String(octets.length * 8);
  const address = [...octets, '0', '0', '0'].slice(0, 4).join('.');
  return isLiteralAddress(address) && Number(length) <= 32 ? `${address}/${length}` : undefined;
}

function prefix6(text: string): string | undefined {
  if (text === 'default') return '::/0';
  const [address = '', length = '128'] = text.split('/');
  const plain = isLiteralAddress(address) && address.includes(':') && /^\d{1,3}$/.test(length);
  return plain && Number(length) <= 128 ? `${address}/${length}` : undefined;
}
