import { ipMtuBytes } from '../../intent/segment-schema.ts';
import type { DeclaredPath, DeclaredSegment, Intent } from '../../intent/types.ts';
import type { ChangeRemark } from '../types.ts';
import type { Carriage } from './carriage.ts';
import { atRouter } from './gateway-remarks.ts';
import { caution, impossible, listWords, unknown } from './remark.ts';

/**
 * Whether what is declared of a path agrees with its segments. An MTU above that of a segment that
 * it names is refused when the intent is loaded.
 */
export function pathRemarks(
  intent: Intent,
  carried: ReadonlyMap<string, readonly Carriage[]>,
): ChangeRemark[] {
  const segments = new Map(intent.segments.map((segment) => [segment.name, segment]));
  const open = new Set(
    intent.links
      .filter(({ untagged, tagged }) => untagged === undefined && tagged.length === 0)
      .flatMap(({ ends }) => ends.map(({ node }) => node)),
  );
  return intent.paths.flatMap((path) => {
    const over = path.over.flatMap((name) => segments.get(name) ?? []);
    const sizes = over.flatMap(({ mtuBytes }) => mtuBytes ?? []);
    return [
      ...(path.mtuBytes === undefined && sizes.length === 0 ? [withoutMtu(path)] : []),
      ...belowIpv6(path, over),
      ...aboveItsEnds(path, carried, open),
      ...severalSizes({ path, over, sizes }, routersOf(intent, path, carried)),
    ];
  });
}

function withoutMtu({ name, over }: DeclaredPath): ChangeRemark {
  return over.length === 0
    ? unknown(name, 'has no MTU declared', 'name over which segments it goes, or declare mtu')
    : unknown(name, 'has no MTU declared', 'declare mtu of the segments, or of the path');
}

function belowIpv6(
  { name, mtuBytes }: DeclaredPath,
  over: readonly DeclaredSegment[],
): ChangeRemark[] {
  const segment = over.find(({ ipv6 }) => ipv6);
  if (segment === undefined || mtuBytes === undefined || mtuBytes >= ipMtuBytes.v6Min) return [];
  return [
    impossible(
      name,
      `is declared at ${mtuBytes} bytes over segment ${segment.name}, which carries IPv6: no link of IPv6 may pass less than ${ipMtuBytes.v6Min} (RFC 8200 section 5)`,
      `declare ${ipMtuBytes.v6Min} or more`,
    ),
  ];
}

/** Of a path that names no segment: an end may stand in smaller ones alone. `open` may stand in any. */
function aboveItsEnds(
  { name, from, to, over, mtuBytes }: DeclaredPath,
  carried: ReadonlyMap<string, readonly Carriage[]>,
  open: ReadonlySet<string>,
): ChangeRemark[] {
  if (over.length > 0 || mtuBytes === undefined) return [];
  return [...new Set([...from, ...to])].flatMap((end) => {
    const sizes = carried.get(end)?.map(({ segment }) => segment.mtuBytes ?? Infinity) ?? [];
    const most = Math.max(...sizes);
    if (sizes.length === 0 || most >= mtuBytes || open.has(end)) return [];
    return [
      impossible(
        name,
        `is declared at ${mtuBytes} bytes, and ${end} stands in segments of at most ${most} alone`,
        'declare the same for both',
      ),
    ];
  });
}

/** Nodes that route between two or more of the segments of a path. */
function routersOf(
  { nodes }: Intent,
  { over }: DeclaredPath,
  carried: ReadonlyMap<string, readonly Carriage[]>,
): string[] {
  if (over.length < 2) return [];
  return nodes.flatMap(({ name, routes }) => {
    if (!routes) return [];
    const there = new Set(carried.get(name)?.map(({ segment }) => segment.name));
    return over.filter((each) => there.has(each)).length > 1 ? [name] : [];
  });
}

interface Sized {
  readonly path: DeclaredPath;
  readonly over: readonly DeclaredSegment[];
  readonly sizes: readonly number[];
}

function severalSizes({ path, over, sizes }: Sized, routers: readonly string[]): ChangeRemark[] {
  if (new Set(sizes).size < 2) return [];
  const each = over.flatMap(({ name, mtuBytes }) =>
    mtuBytes === undefined ? [] : [`${name} (${mtuBytes})`],
  );
  const packet = path.mtuBytes ?? Math.min(...sizes);
  const goes = `goes over segments of different MTU, ${listWords(each)}: its packet is ${packet} bytes`;
  return [
    routers.length === 0
      ? caution(
          path.name,
          `${goes}, and no declared node routes between them`,
          'declare routes: true at the node that does, or name one segment',
        )
      : caution(path.name, `${goes}; what routes between (${listWords(routers)}) ${atRouter}`),
  ];
}
