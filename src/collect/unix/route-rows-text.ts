import { cleanText } from '../../facts/clean-text.ts';
import type { RouteRow } from '../../facts/survey.ts';
import { isLiteralAddress } from './literal.ts';
import { mtuNumber, present, textLines, wholeNumber, words } from './text.ts';

/** Rows that decide other than by sending to a port: where one stands the table is not kept. */
const kinds =
  /^(?:unreachable|blackhole|prohibit|throw|local|broadcast|multicast|anycast|nat|unicast)$/;

/**
 * Reads `ip route show` as text, that of BusyBox included. Rows that the kernel does not use are
 * left out: those of a dead link, and its own refusal at the end of IPv6. Undefined where a row
 * decides by more than its destination, as one with several ways.
 */
export function parseIpRouteText(
  output: string,
  family: { readonly everywhere: string; readonly hostLength: number },
): readonly RouteRow[] | undefined {
  const rows: RouteRow[] = [];
  for (const line of textLines(output)) {
    const all = words(line);
    const refusal = all[0] === 'unreachable' && /\bmetric 4294967295\b/.test(line);
    if (refusal || all.includes('dead')) continue;
    if (/^\s/.test(line) || kinds.test(all[0] ?? '')) return undefined;
    const row = rowOf(all, family);
    if (row === undefined) return undefined;
    rows.push(row);
  }
  return rows;
}

function rowOf(
  all: readonly string[],
  family: { readonly everywhere: string; readonly hostLength: number },
): RouteRow | undefined {
  const after = (word: string) => {
    const at = all.indexOf(word);
    return at < 0 ? undefined : all[at + 1] === 'lock' ? all[at + 2] : all[at + 1];
  };
  const device = after('dev');
  const [destination = ''] = all;
  const [address = '', length = String(family.hostLength)] = destination.split('/');
  const sound = isLiteralAddress(address) && /^\d{1,3}$/.test(length);
  const prefix = destination === 'default' ? family.everywhere : `${address}/${length}`;
  if (device === undefined || (!sound && destination !== 'default')) return undefined;
  const via = all[all.indexOf('via') + 1] === 'inet6' ? after('inet6') : after('via');
  return present<RouteRow>({
    prefix,
    device: cleanText(device),
    gateway: via !== undefined && isLiteralAddress(via) ? via : undefined,
    mtuBytes: mtuNumber(wholeNumber(after('mtu'))),
    metric: wholeNumber(after('metric')) || undefined,
  });
}
