import type { Gap } from '../facts/gap.ts';
import { ethernetHeaderBytes, fcsBytes, vlanTagBytes } from './frame-size.ts';

/** Counters of one port, received side, at one time. Absent: not read. */
export interface TrafficCounters {
  /** Frames received whole. */
  readonly frames?: number;
  readonly octets?: number;
  /** Frames with a wrong check sequence, or not a whole number of octets. */
  readonly erroredFrames?: number;
  /** When they were read, on any clock that only goes forward. */
  readonly atSeconds?: number;
  /** Seconds since the node or its agent started. */
  readonly uptimeSeconds?: number;
  /** IF-MIB ifCounterDiscontinuityTime. */
  readonly discontinuityTicks?: number;
}

/** What a port received between two readings. */
export interface Traffic {
  readonly frames: number;
  readonly octets: number;
  readonly erroredFrames: number;
}

/** How wide a counter is and how fast it can count. */
export interface CounterKind {
  /** Width of the narrowest of the counters. */
  readonly bits: 32 | 64;
  /** Speed of the line in Mb/s; absent: not known. */
  readonly speedMbps?: number;
}

/** Traffic between two readings, or why their counters do not tell. */
export type TrafficOutcome = { readonly traffic: Traffic } | { readonly gap: Gap };

/** No frame is smaller than its header, nor larger than an IP packet with two tags. */
const octetsPerFrameMin = ethernetHeaderBytes;
const octetsPerFrameMax = 65_535 + ethernetHeaderBytes + fcsBytes + 2 * vlanTagBytes;

/**
 * What was received between two readings of one port. Counters that were reset, that may have
 * wrapped unseen or that contradict each other give no traffic but the reason: a difference that
 * is guessed would accuse a sound link.
 */
export function trafficBetween(
  before: TrafficCounters,
  after: TrafficCounters,
  kind: CounterKind,
): TrafficOutcome {
  const broken = resetWords(before, after) ?? wrapWords(before, after, kind);
  if (broken !== undefined) return doubtful(broken);
  const counted: Partial<Record<keyof Traffic, number>> = {};
  for (const name of ['frames', 'octets', 'erroredFrames'] as const) {
    const [from, to] = [before[name], after[name]];
    if (from === undefined || to === undefined) {
      return { gap: { reason: 'unasked', words: `${name} was not read both times` } };
    }
    if (!isCount(from) || !isCount(to)) return doubtful(`${name} is no count`);
    if (to < from) return doubtful(`${name} went back from ${from} to ${to}: reset or wrapped`);
    counted[name] = to - from;
  }
  const { frames = 0, octets = 0, erroredFrames = 0 } = counted;
  const mismatch = mismatchWords({ frames, octets, erroredFrames });
  return mismatch === undefined
    ? { traffic: { frames, octets, erroredFrames } }
    : doubtful(mismatch);
}

function isCount(value: number): boolean {
  return Number.isSafeInteger(value) && value >= 0;
}

function resetWords(before: TrafficCounters, after: TrafficCounters): string | undefined {
  const [wasUp, isUp] = [before.uptimeSeconds, after.uptimeSeconds];
  if (wasUp !== undefined && isUp !== undefined && isUp < wasUp) {
    return `the node started again between the readings (up ${isUp} s, before ${wasUp} s)`;
  }
  const [was, is] = [before.discontinuityTicks, after.discontinuityTicks];
  if (was !== undefined && is !== undefined && was !== is) {
    return 'the agent says that its counters were interrupted (ifCounterDiscontinuityTime)';
  }
  return undefined;
}

/** 32-bit octets wrap within 3.4 s at 10 Gb/s (RFC 2863 3.1.6): seen only by the time gone. */
function wrapWords(
  before: TrafficCounters,
  after: TrafficCounters,
  { bits, speedMbps }: CounterKind,
): string | undefined {
  if (bits === 64) return undefined;
  if (before.atSeconds === undefined || after.atSeconds === undefined || speedMbps === undefined) {
    return '32-bit counters, and the time or the speed that says whether they wrapped is missing';
  }
  const seconds = after.atSeconds - before.atSeconds;
  if (seconds < 0) return 'the second reading is older than the first';
  return (speedMbps * 1e6 * seconds) / 8 >= 2 ** 32
    ? `32-bit counters may have wrapped within ${seconds} s at ${speedMbps} Mb/s`
    : undefined;
}

function mismatchWords({ frames, octets }: Traffic): string | undefined {
  // An errored frame counts in octets on some devices and not on others: only whole ones bind.
  if (octets < frames * octetsPerFrameMin)
    return `${octets} octets are too few for ${frames} frames`;
  if (frames > 0 && octets > frames * octetsPerFrameMax) {
    return `${octets} octets are too many for ${frames} frames`;
  }
  return undefined;
}

function doubtful(words: string): TrafficOutcome {
  return { gap: { reason: 'doubtful', words } };
}
