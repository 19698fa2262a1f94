import { cleanText } from '../../facts/clean-text.ts';
import type { RouteRow } from '../../facts/survey.ts';
import { isLiteralAddress } from './literal.ts';
import { prefixLengthOf } from './netmask.ts';
import { mtuNumber, present, textLines, wholeNumber, words } from './text.ts';

/** Flags of `include/uapi/linux/route.h` and `ipv6_route.h`. */
const flag = { up: 0x1, gateway: 0x2, reject: 0x200, anycast: 0x10_0000, local: 0x8000_0000 };

/**
 * Reads `route -n` of BusyBox and net-tools; undefined where it is something else, or where it
 * refuses a destination.
 */
export function parseRouteN(output: string): readonly RouteRow[] | undefined {
  const [, titles, ...lines] = textLines(output);
  if (titles === undefined || !/^Destination +Gateway +Genmask /.test(titles)) return undefined;
  const rows: RouteRow[] = [];
  for (const line of lines) {
    const [to = '', gateway = '', mask = '', flags = '', metric, , , device] = words(line);
    const length = prefixLengthOf(mask);
    if (device === undefined || length === undefined || flags.includes('!')) return undefined;
    if (!isLiteralAddress(to)) return undefined;
    rows.push(
      present<RouteRow>({
        prefix: `${to}/${length}`,
        device: cleanText(device),
        gateway: flags.includes('G') && isLiteralAddress(gateway) ? gateway : undefined,
        metric: wholeNumber(metric) || undefined,
      }),
    );
  }
  return rows;
}

/**
 * Reads `/proc/net/route`, which writes addresses as numbers in the byte order of the processor.
 * A netmask whose ones are in front tells which that is; undefined where none does.
 */
export function parseProcRoute(output: string): readonly RouteRow[] | undefined {
  const cells = textLines(output).slice(1).map(words);
  const masks = cells.map((row) => row[7] ?? '');
  if (!masks.every((mask) => /^[0-9a-f]{8}$/i.test(mask))) return undefined;
  const order = orderOf(masks);
  if (order === undefined) return undefined;
  const rows: RouteRow[] = [];
  for (const [
    device = '',
    to = '',
    gateway = '',
    flags = '',
    ,
    ,
    metric,
    mask = '',
    mtu,
  ] of cells) {
    const bits = Number.parseInt(/^[0-9a-f]{1,8}$/i.test(flags) ? flags : '0', 16);
    if ((bits & flag.up) === 0) continue;
    const length = prefixLengthOf(dotted(mask, order) ?? '');
    const address = dotted(to, order);
    if (length === undefined || address === undefined || (bits & flag.reject) !== 0)
      return undefined;
    rows.push(
      present<RouteRow>({
        prefix: `${address}/${length}`,
        device: cleanText(device),
        gateway: (bits & flag.gateway) === 0 ? undefined : dotted(gateway, order),
        mtuBytes: mtuNumber(wholeNumber(mtu)),
        metric: wholeNumber(metric) || undefined,
      }),
    );
  }
  return rows;
}

type Order = 'big' | 'little';

function orderOf(masks: readonly string[]): Order | undefined {
  const fits = (order: Order) =>
    masks.every((mask) => prefixLengthOf(dotted(mask, order) ?? '') !== undefined);
  const [big, little] = [fits('big'), fits('little')];
  return big === little ? undefined : big ? 'big' : 'little';
}

function dotted(hex: string, order: Order): string | undefined {
  if (!/^[0-9a-f]{8}$/i.test(hex)) return undefined;
  const octets = [0, 2, 4, 6].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
  return (order === 'big' ? octets : octets.reverse()).join('.');
}

/** Reads `/proc/net/ipv6_route`, without the kernel's own addresses and multicast. */
export function parseProcRoute6(output: string): readonly RouteRow[] | undefined {
  const rows: RouteRow[] = [];
  for (const line of textLines(output)) {
    const [to = '', length = '', , , gateway = '', metric = '', , , flags = '', device] =
      words(line);
    const hex = [to, gateway].every((text) => /^[0-9a-f]{32}$/i.test(text));
    const numbers = [length, metric, flags].every((text) => /^[0-9a-f]{2,8}$/i.test(text));
    if (!hex || !numbers || device === undefined) return undefined;
    const bits = Number.parseInt(flags, 16);
    const own = ((bits & flag.local) | (bits & flag.anycast)) !== 0 || device === 'lo';
    if ((bits & flag.up) === 0 || own || /^ff/i.test(to)) continue;
    if ((bits & flag.reject) !== 0) return undefined;
    rows.push(
      present<RouteRow>({
        prefix: `${groups(to)}/${Number.parseInt(length, 16)}`,
        device: cleanText(device),
        gateway: (bits & flag.gateway) === 0 ? undefined : groups(gateway),
        metric: Number.parseInt(metric, 16) || undefined,
      }),
    );
  }
  return rows;
}

/** An address as the system writes it elsewhere: without zeros in front, the longest run as `::`. */
function groups(hex: string): string {
  const parts = (hex.match(/.{4}/g) ?? []).map((part) => Number.parseInt(part, 16).toString(16));
  const host = new URL(`http://[${parts.join(':')}]/`).hostname;
  return host.slice(1, -1);
}
