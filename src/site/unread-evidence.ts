import type { SessionReading } from '../facts/survey.ts';
import { nodeAddresses } from './addresses.ts';
import { liveMbps } from './link-speed-cause.ts';
import type { Company } from './port-neighbour.ts';
import { type Draft, put } from './provenance.ts';
import { overheadOf } from './session-overhead.ts';
import type { PortRef, SiteIndex } from './site-index.ts';

/** What others tell of a port that nobody reads. */
export interface UnreadEvidence {
  readonly speedMbps?: number;
  readonly duplex?: string;
  /** Maximum frame that it announces; what that counts is not known. */
  readonly frameBytes?: number;
  /** IP packet beyond which it takes nothing, as live TCP sessions with it show. */
  readonly mtuAtMostBytes?: number;
  /** Who tells of the frame or the packet. */
  readonly source?: string;
}

/** Gathers what the far end of its link and the sessions of known hosts tell of an unread port. */
export function unreadEvidence(index: SiteIndex, company: Company, ref: PortRef): UnreadEvidence {
  const [end] = ref.ends;
  if (end === undefined || ref.node.declared.unread === undefined) return {};
  const far = end.link.ends[end.side === 0 ? 1 : 0];
  const farEnd = company.farEnds.get(far);
  if (farEnd?.declared === false) return {};
  const neighbour = farEnd?.neighbour;
  const speedMbps = liveMbps(far);
  const duplex = far.survey?.facts.duplex;
  // Behind what passes frames on, somebody else may be speaking.
  const speaks = neighbour?.station?.node === ref.node || !ref.node.forwards;
  const frameBytes = speaks ? neighbour?.reading.frameMaxBytes : undefined;
  const packet = ref.node.forwards ? undefined : packetOfSessions(index, ref);
  return {
    ...(speedMbps === undefined ? {} : { speedMbps }),
    ...(speedMbps === undefined || duplex === undefined ? {} : { duplex }),
    ...(frameBytes === undefined ? {} : { frameBytes, source: `LLDP, heard at ${far.id}` }),
    ...(packet === undefined ? {} : packet),
  };
}

/** A source names no node, since it is shown as it is where names are hidden. */
const otherEnd = 'reading of the other end of its link';

/** Enters it at the port that nobody reads. */
export function putUnread(draft: Draft, evidence: UnreadEvidence, far: string | undefined): void {
  put(draft, 'heardSpeedMbps', evidence.speedMbps);
  put(draft, 'heardDuplex', evidence.duplex);
  put(draft, 'heardFrameBytes', evidence.frameBytes);
  put(draft, 'heardMtuBytes', evidence.mtuAtMostBytes);
  if (far !== undefined)
    for (const name of ['heardSpeedMbps', 'heardDuplex']) draft.sources[name] = otherEnd;
  if (evidence.source !== undefined)
    for (const name of ['heardFrameBytes', 'heardMtuBytes']) draft.sources[name] = evidence.source;
}

/**
 * The segment that a host announces is made from its own MTU (RFC 9293 3.7.1). Where the largest
 * that is in use falls short of what the known end offers, and no learnt path MTU explains it, the
 * far end is small, or something between cuts the segment.
 */
function packetOfSessions(
  index: SiteIndex,
  ref: PortRef,
): Pick<UnreadEvidence, 'mtuAtMostBytes' | 'source'> | undefined {
  const addresses = new Set(nodeAddresses(ref.node));
  const links = index.linksOf.get(ref.node.declared.name) ?? [];
  if (addresses.size === 0 || links.length > 1) return undefined;
  let largest: { readonly session: SessionReading; readonly host: string } | undefined;
  for (const node of index.nodes.values()) {
    for (const session of node.gap === undefined ? (node.survey?.sessions ?? []) : []) {
      const more = session.segmentBytes > (largest?.session.segmentBytes ?? 0);
      if (addresses.has(session.remote) && more) largest = { session, host: node.declared.name };
    }
  }
  if (largest === undefined) return undefined;
  const { segmentBytes, advertisedBytes, pathMtuBytes } = largest.session;
  const bytes = segmentBytes + overheadOf(largest.session);
  const offered = (advertisedBytes ?? 0) > segmentBytes;
  if (!offered || (pathMtuBytes ?? 0) <= bytes) return undefined;
  return { mtuAtMostBytes: bytes, source: `live TCP sessions of ${largest.host} with it` };
}
