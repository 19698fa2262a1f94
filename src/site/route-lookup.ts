import { BlockList, isIP } from 'node:net';
import type { RouteRow } from '../facts/survey.ts';

/** An address prefix taken apart; undefined for text that is none. */
export function parsePrefix(
  text: string,
): { readonly address: string; readonly length: number; readonly family: 4 | 6 } | undefined {
  const match = /^([0-9a-fA-F:.]+)\/(\d{1,3})$/.exec(text);
  const address = match?.[1] ?? '';
  const family = isIP(address);
  const length = Number(match?.[2] ?? '999');
  if (family === 0 || length > (family === 4 ? 32 : 128)) return undefined;
  return { address, length, family: family as 4 | 6 };
}

/** True when `address` lies in `prefix`; false as well for text that is neither. */
export function inPrefix(address: string, prefix: string): boolean {
  const net = parsePrefix(prefix);
  if (net === undefined || isIP(address) !== net.family) return false;
  const family = net.family === 4 ? 'ipv4' : 'ipv6';
  const list = new BlockList();
  list.addSubnet(net.address, net.length, family);
  return list.check(address, family);
}

/**
 * The row of a routing table that traffic to `address` takes: the longest prefix that holds it
 * (RFC 1812 5.2.4.3), of equal ones that with the smallest metric, of those the first. Undefined
 * when no row holds it.
 */
export function lookupRoute(table: readonly RouteRow[], address: string): RouteRow | undefined {
  let best: { readonly row: RouteRow; readonly length: number } | undefined;
  for (const row of table) {
    if (!inPrefix(address, row.prefix)) continue;
    const length = parsePrefix(row.prefix)?.length ?? 0;
    const better =
      best === undefined ||
      length > best.length ||
      (length === best.length && (row.metric ?? 0) < (best.row.metric ?? 0));
    if (better) best = { row, length };
  }
  return best?.row;
}
