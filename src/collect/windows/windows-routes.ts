import { isIP } from 'node:net';
import { cleanText } from '../../facts/clean-text.ts';
import type { RouteReading, RouteRow } from '../../facts/survey.ts';
import { type Framed, sectionsOf } from '../unix/frames.ts';
import { numberOf, textOf } from '../unix/json-values.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { isLiteralAddress } from '../unix/literal.ts';
import { routeOf } from '../unix/route-linux.ts';
import { present } from '../unix/text.ts';
import { type Row, rowsOf } from './rows.ts';
import { routeRowsMax } from './script-text.ts';

/** The port of an address of the host's own; undefined where nobody holds it. */
export type HolderOf = (address: string) => string | undefined;

/**
 * Routes to the peers: by Find-NetRoute, or where the account may not ask that by the own address
 * that a socket for the peer takes, and the port that holds it.
 */
export function windowsRoutes(framed: Framed, holderOf: HolderOf): RouteReading[] {
  const asked = sectionsOf(framed, 'route');
  return asked.flatMap(({ about }) => {
    const route = foundRoute(framed, about) ?? sourceRoute(framed, about, holderOf);
    return route === undefined ? [] : [route];
  });
}

function foundRoute(framed: Framed, about: string): RouteReading | undefined {
  const rows = rowsOf(framed, 'route', { about });
  if (isGap(rows)) return undefined;
  const route = rows.find((row) => textOf(row['NextHop']) !== undefined);
  const device = textOf(route?.['InterfaceAlias']);
  if (route === undefined || device === undefined) return undefined;
  const from = rows.map((row) => textOf(row['IPAddress'])).find((text) => text !== undefined);
  return routeOf(about, {
    device,
    gateway: hopOf(route),
    from,
    mtuBytes: undefined,
  });
}

function sourceRoute(framed: Framed, about: string, holderOf: HolderOf): RouteReading | undefined {
  const rows = rowsOf(framed, 'source', { about });
  const refused = rowsOf(framed, 'route', { about });
  // While the second answer is still to come, the first is not yet an answer.
  if (isGap(rows) && rows.reason === 'truncated') return undefined;
  const from = isGap(rows) ? undefined : textOf(rows[0]?.['from']);
  const device = from === undefined ? undefined : holderOf(from);
  if (from !== undefined && device !== undefined) {
    return routeOf(about, { device, gateway: undefined, from, mtuBytes: undefined });
  }
  const words = isGap(refused) ? refused.words : 'no route was given';
  return { to: about, words: cleanText(words) };
}

/** The gateway; undefined for 0.0.0.0 and ::, by which Windows says that there is none. */
function hopOf(row: Row): string | undefined {
  const hop = textOf(row['NextHop']);
  return hop === undefined || /^[0:.]+$/.test(hop) ? undefined : hop;
}

/** The routing table; undefined where it was not read whole. */
export function windowsRouteTable(framed: Framed): RouteRow[] | undefined {
  const rows = rowsOf(framed, 'route-table');
  if (isGap(rows) || rows.length === 0 || rows.length > routeRowsMax) return undefined;
  return rows.flatMap((row) => rowOf(row) ?? []);
}

function rowOf(row: Row): RouteRow | undefined {
  const [, address = '', length = ''] =
    /^([0-9A-Fa-f.:]{2,45})\/(\d{1,3})$/.exec(textOf(row['DestinationPrefix']) ?? '') ?? [];
  const device = cleanText(textOf(row['InterfaceAlias']) ?? '');
  const bits = isIP(address) === 4 ? 32 : 128;
  if (!isLiteralAddress(address) || Number(length) > bits || device === '') return undefined;
  const hop = hopOf(row);
  const own = numberOf(row['RouteMetric']);
  const port = numberOf(row['InterfaceMetric']);
  const metric = own === undefined && port === undefined ? undefined : (own ?? 0) + (port ?? 0);
  return {
    prefix: `${address}/${length}`,
    device,
    ...present({ gateway: hop !== undefined && isLiteralAddress(hop) ? hop : undefined, metric }),
  };
}
