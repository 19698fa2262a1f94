import { cleanText } from '../../facts/clean-text.ts';
import type { RouteRow } from '../../facts/survey.ts';
import { type Framed, type Section, sectionKey } from './frames.ts';
import { type JsonObject, jsonObjects, numberOf, objectsOf, textOf } from './json-values.ts';
import { isLiteralAddress } from './literal.ts';
import { parseProcRoute, parseProcRoute6, parseRouteN } from './route-rows-proc.ts';
import { parseIpRouteText } from './route-rows-text.ts';
import { mtuNumber, present, textLines } from './text.ts';

/** A table longer than this is one of a router with full routes, and is not kept. */
const rowsMax = 4096;

/**
 * The routing table of both families. Undefined where it was not read whole, or where a look-up
 * by destination would not tell the truth: rules choose among tables, or a row has several ways.
 */
export function linuxRouteTable(framed: Framed): readonly RouteRow[] | undefined {
  const part = (name: string) => framed.sections.get(sectionKey(name));
  if (!plainRules(part('rules')) || !plainRules(part('rules-6'))) return undefined;
  const v4 = rowsOf(part('route-table'), '0.0.0.0/0', 32) ?? ofKernel(part);
  const v6 = rowsOf(part('route-table-6'), '::/0', 128) ?? ofKernel6(part);
  if (v4 === undefined || v6 === undefined) return undefined;
  return v4.length + v6.length > rowsMax ? undefined : [...v4, ...v6];
}

/** Where there is no `ip`: `route`, else what the kernel lists. */
function ofKernel(part: (name: string) => Section | undefined): readonly RouteRow[] | undefined {
  const byRoute = part('route-n');
  if (byRoute === undefined) return undefined;
  if (byRoute.status === 0) return parseRouteN(byRoute.output);
  const listed = part('proc-route');
  return listed === undefined || listed.status !== 0 ? undefined : parseProcRoute(listed.output);
}

function ofKernel6(part: (name: string) => Section | undefined): readonly RouteRow[] | undefined {
  const listed = part('proc-route-6');
  if (listed === undefined) return undefined;
  // A kernel without IPv6 has no such file.
  return listed.status === 0 ? parseProcRoute6(listed.output) : [];
}

/** Only the rules that every system starts with. A system without IPv6 has none for it. */
function plainRules(section: Section | undefined): boolean {
  if (section === undefined) return false;
  return textLines(section.output).every((line) =>
    /^\d+:\s+from all lookup (?:local|main|default)\s*$/.test(line),
  );
}

function rowsOf(
  section: Section | undefined,
  everywhere: string,
  hostLength: number,
): readonly RouteRow[] | undefined {
  if (section === undefined || section.status !== 0) return undefined;
  // Releases differ in whether an empty table is an empty list or nothing at all.
  if (section.output.trim() === '') return [];
  const items = jsonObjects(section.output);
  if (items === undefined) return parseIpRouteText(section.output, { everywhere, hostLength });
  const rows: RouteRow[] = [];
  for (const item of items) {
    if (isIdle(item)) continue;
    const row = rowOf(item, { everywhere, hostLength });
    if (row === undefined) return undefined;
    rows.push(row);
  }
  return rows;
}

/** Rows that the kernel does not use: a dead link, and its own refusal at the end of IPv6. */
function isIdle(item: JsonObject): boolean {
  const { flags } = item;
  if (Array.isArray(flags) && flags.includes('dead')) return true;
  return item['type'] === 'unreachable' && item['metric'] === 4_294_967_295;
}

function rowOf(
  item: JsonObject,
  family: { readonly everywhere: string; readonly hostLength: number },
): RouteRow | undefined {
  const prefix = prefixOf(textOf(item['dst']), family);
  const hops = objectsOf(item['nexthops']);
  const devices = new Set(hops.map((hop) => textOf(hop['dev'])));
  if (devices.size > 1 || item['type'] !== undefined) return undefined;
  const device = textOf(item['dev']) ?? [...devices][0];
  if (prefix === undefined || device === undefined) return undefined;
  const gateway = textOf(item['gateway']);
  return present<RouteRow>({
    prefix,
    device: cleanText(device),
    gateway: gateway !== undefined && isLiteralAddress(gateway) ? gateway : undefined,
    mtuBytes: mtuNumber(numberOf(objectsOf(item['metrics'])[0]?.['mtu'])),
    metric: numberOf(item['metric']),
  });
}

function prefixOf(
  dst: string | undefined,
  family: { readonly everywhere: string; readonly hostLength: number },
): string | undefined {
  if (dst === undefined || dst === 'default') return dst && family.everywhere;
  const [address = '', length = String(family.hostLength)] = dst.split('/');
  return isLiteralAddress(address) && /^\d{1,3}$/.test(length) ? `${address}/${length}` : undefined;
}
