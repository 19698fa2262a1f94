import { ipHeaderBytes, tcpHeaderBytes, tcpTimestampsBytes } from '../ethernet/goodput.ts';
import type { NodeSurvey, SessionReading } from '../facts/survey.ts';
import { clean, wrap } from './layout.ts';
import type { DrawOptions } from './measure.ts';

/** Peers said without `--verbose`; those with the most sessions first, file servers before all. */
const peersShownMax = 5;

/** What the live TCP sessions of a node agreed on, peer by peer. */
export function sessionLines(node: NodeSurvey, { width, verbose }: DrawOptions): string[] {
  const servers = new Set(node.mounts.map(({ server }) => server));
  const peers = node.sessions
    .filter(({ remote }) => !isLoopback(remote))
    .toSorted(
      (a, b) =>
        Number(servers.has(b.remote)) - Number(servers.has(a.remote)) ||
        Number(isSmall(b)) - Number(isSmall(a)) ||
        b.count - a.count ||
        (a.remote < b.remote ? -1 : 1),
    );
  const shown = verbose ? peers : peers.slice(0, peersShownMax);
  const left = peers.length - shown.length;
  return [
    ...shown.flatMap((session) => wrap('  ', sessionWords(session), width)),
    ...(left === 0 ? [] : [`  and sessions with ${left} more peers`]),
  ];
}

/**
 * IP packet that a session's segments fill: the segment, TCP and IP headers, and the timestamps
 * option where it is in use (RFC 9293 3.7.1, RFC 6691, RFC 7323).
 */
export function packetBytes(segmentBytes: number, session: SessionReading): number {
  const options = session.timestamps ? tcpTimestampsBytes : 0;
  const ip = ipHeaderBytes(session.remote.includes(':') ? 6 : 4);
  return segmentBytes + options + tcpHeaderBytes + ip;
}

/** What the segment size of a session says of the way to its peer. */
export function sessionWords(session: SessionReading): string {
  const { remote, segmentBytes, advertisedBytes, pathMtuBytes } = session;
  const packet = packetBytes(segmentBytes, session);
  const said = `sessions with ${remote} use ${segmentBytes}-byte segments`;
  if (advertisedBytes === undefined) return clean(`${said}, packets of ${packet} bytes`);
  const offered = packetBytes(advertisedBytes, session);
  if (segmentBytes >= advertisedBytes) {
    return clean(`${said}: packets of ${packet} bytes, as large as this end offers`);
  }
  if (pathMtuBytes !== undefined && pathMtuBytes < offered) {
    return clean(
      `${said}: this end offers ${offered} and has learnt that only ${pathMtuBytes} bytes pass on the way`,
    );
  }
  return clean(
    `${said}, this end offers ${offered}: the far end or something on the way is at ${packet}`,
  );
}

function isSmall({ segmentBytes, advertisedBytes }: SessionReading): boolean {
  return advertisedBytes !== undefined && segmentBytes < advertisedBytes;
}

function isLoopback(address: string): boolean {
  return /^(127\.|::1$|::ffff:127\.)/.test(address);
}
