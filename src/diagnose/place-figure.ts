import type { Hop, SiteDirection, SitePath } from '../site/types.ts';
import type { Explanation, FigureGiven } from './explanation.ts';

/** A hop that is as the explanation wants it. */
export interface HopMatch {
  /** `node:port` */
  readonly port: string;
  readonly by: 'rate' | 'packet';
  /** Mb/s or bytes. */
  readonly value: number;
  readonly position: Hop['position'];
  readonly link?: string;
}

/** Where on a path a figure points. */
export interface FigurePlace {
  readonly path: string;
  readonly hops: readonly HopMatch[];
  /** Ports of which what matters was not read. */
  readonly unknown: readonly string[];
  /** Ports that the intent does not name, by which the traffic of an end leaves: `vault:eth0`. */
  readonly otherWays: readonly string[];
}

/** The line that a path is meant to be: the slowest declared link, and the declared packet. */
export function pathGiven(path: SitePath): Pick<FigureGiven, 'rateMbps' | 'packetBytes'> {
  const declared = path.hops.flatMap(({ port }) =>
    numberOf(port.subject.facts, 'declaredSpeedMbps'),
  );
  const { facts } = path.subject;
  const [rateMbps] = declared.length > 0 ? [Math.min(...declared)] : numberOf(facts, 'slowestMbps');
  const [packetBytes] = [
    ...numberOf(facts, 'declaredMtuBytes'),
    ...numberOf(facts, 'mtuAtLeastBytes'),
  ];
  return {
    ...(rateMbps === undefined ? {} : { rateMbps }),
    ...(packetBytes === undefined ? {} : { packetBytes }),
  };
}

/**
 * The hops of a path that an explanation points at: those that run at its rate where that is
 * below the given one, and those that pass no more than its packet. The bus and the window of an
 * end are no hops; only a traffic that takes another way is then said.
 */
export function placeFigure(
  path: SitePath,
  explanation: Explanation | undefined,
  {
    given,
    directions,
  }: { readonly given: FigureGiven; readonly directions: readonly SiteDirection[] },
): FigurePlace {
  const wanted = wantedOf(explanation, given);
  const rate = wanted.rateMbps === undefined ? none : byRate(path.hops, wanted.rateMbps);
  const packet = wanted.packetBytes === undefined ? none : byPacket(path.hops, wanted.packetBytes);
  return {
    path: path.id,
    hops: [...rate.hops, ...packet.hops],
    unknown: [...new Set([...rate.unknown, ...packet.unknown])],
    otherWays: directions.flatMap(({ path: id, subject }) => {
      const { leavesBy, leavesByDeclaredPort } = subject.facts;
      const strays = id === path.id && leavesByDeclaredPort === false;
      return strays && typeof leavesBy === 'string' ? [leavesBy] : [];
    }),
  };
}

interface Found {
  readonly hops: readonly HopMatch[];
  readonly unknown: readonly string[];
}
const none: Found = { hops: [], unknown: [] };

interface Wanted {
  readonly rateMbps?: number;
  /** The largest packet that still explains the figure. */
  readonly packetBytes?: number;
}

function wantedOf(explanation: Explanation | undefined, given: FigureGiven): Wanted {
  if (explanation?.kind !== 'link') return {};
  const { rateMbps, packetBytes, packetBytesMost } = explanation;
  const slow = given.rateMbps !== undefined && rateMbps < given.rateMbps;
  const small = given.packetBytes !== undefined && packetBytes < given.packetBytes;
  return {
    ...(slow ? { rateMbps } : {}),
    ...(small && packetBytesMost !== undefined ? { packetBytes: packetBytesMost } : {}),
  };
}

function byRate(hops: readonly Hop[], rateMbps: number): Found {
  const ports = hops.filter(({ layer }) => !layer);
  return {
    hops: ports
      .filter(({ speedMbps }) => speedMbps === rateMbps)
      .map((hop) => match(hop, 'rate', rateMbps)),
    unknown: ports.flatMap(({ speedMbps, port }) => (speedMbps === undefined ? [port.id] : [])),
  };
}

/** Ends first: TCP settles on a small end, while a small switch on the way stalls transfers. */
function byPacket(hops: readonly Hop[], mostBytes: number): Found {
  const small = hops.flatMap((hop) => {
    const { atMostBytes } = hop.clearance;
    return atMostBytes !== undefined && atMostBytes <= mostBytes
      ? [match(hop, 'packet', atMostBytes)]
      : [];
  });
  const isEnd = ({ position }: HopMatch) => position === 'from' || position === 'to';
  return {
    hops: [...small.filter(isEnd), ...small.filter((hop) => !isEnd(hop))],
    unknown: hops.flatMap(({ clearance, port }) => {
      const { atLeastBytes, atMostBytes } = clearance;
      const small = atMostBytes !== undefined && atMostBytes <= mostBytes;
      return small || (atLeastBytes ?? 0) > mostBytes ? [] : [port.id];
    }),
  };
}

function match(hop: Hop, by: HopMatch['by'], value: number): HopMatch {
  const link = hop.linkId === undefined ? {} : { link: hop.linkId };
  return { port: hop.port.id, by, value, position: hop.position, ...link };
}

function numberOf(facts: Readonly<Record<string, unknown>>, name: string): readonly number[] {
  const value = facts[name];
  return typeof value === 'number' ? [value] : [];
}
