import type { Ceiling } from '../ethernet/ceiling.ts';
import {
  ethernetHeaderBytes,
  fcsBytes,
  interFrameGapBytes,
  preambleBytes,
  vlanTagBytes,
} from '../ethernet/frame-size.ts';
import {
  carriedBytes,
  ipHeaderBytes,
  tcpHeaderBytes,
  tcpTimestampsBytes,
} from '../ethernet/goodput.ts';
import {
  connectionsToFill,
  unscaledWindowBytesMax,
  windowBytesMin,
  windowLimitedMbps,
} from '../ethernet/tcp-window.ts';
import { speedWords } from './fact-words.ts';
import { rounded, threeUnits } from './figures.ts';

/** A line of the reckoning: what it is about, and how it comes out. */
export type Reckoning = readonly [label: string, words: string];

/** What a ceiling comes to, in one line. */
export function ceilingHeading({ rateMbps, packetBytes, goodputMbps }: Ceiling): string {
  const mbps = `${rounded(goodputMbps, 1)} Mb/s`;
  return `${speedWords(rateMbps)} at MTU ${packetBytes}: at most ${mbps} of TCP user data one way`;
}

/** Every step from the line to its ceiling. */
export function ceilingLines(ceiling: Ceiling): readonly Reckoning[] {
  const { rateMbps, wireBytes, segmentBytes, goodputMbps } = ceiling;
  const share = `${segmentBytes} / ${wireBytes}`;
  return [
    ['packet', packetWords(ceiling)],
    ['frame', frameWords(ceiling)],
    [
      'on the wire',
      `${wireBytes} bytes = preamble ${preambleBytes} + frame ${ceiling.frameBytes} + gap ${interFrameGapBytes}`,
    ],
    ['efficiency', `${share} = ${rounded(ceiling.efficiency * 100, 4)} %`],
    [
      'packets',
      `${rateMbps} Mb/s / (8 x ${wireBytes}) = ${ceiling.packetsPerSecond} a second (RFC 5180 A.1)`,
    ],
    ['goodput', `${rateMbps} Mb/s x ${share} = ${threeUnits(goodputMbps)}`],
  ];
}

function packetWords({ packetBytes, segmentBytes, stack }: Ceiling): string {
  const options = stack.timestamps ? ` + timestamps ${tcpTimestampsBytes}` : '';
  const headers = `IPv${stack.ipVersion} ${ipHeaderBytes(stack.ipVersion)} + TCP ${tcpHeaderBytes}${options}`;
  return segmentBytes > 0
    ? `${packetBytes} bytes = ${headers} + user data ${segmentBytes}`
    : `${packetBytes} bytes: ${headers} leave no room for user data`;
}

function frameWords({ packetBytes, frameBytes, stack }: Ceiling): string {
  const tags = vlanTagBytes * stack.tags;
  const padding = frameBytes - packetBytes - ethernetHeaderBytes - fcsBytes - tags;
  const parts = [
    `${frameBytes} bytes = header ${ethernetHeaderBytes}`,
    ...(tags > 0 ? [`tags ${tags}`] : []),
    `packet ${packetBytes}`,
    ...(padding > 0 ? [`padding ${padding}`] : []),
    `FCS ${fcsBytes}`,
  ];
  return parts.join(' + ');
}

/** What the round trip asks of the window (RFC 6349 3.3.1). */
export function windowLines(rateMbps: number, rttMs: number): readonly Reckoning[] {
  const path = { rateMbps, rttMs };
  const least = windowBytesMin(path);
  const needed = `${rateMbps} Mb/s x ${rttMs} ms / 8 = ${least} bytes at least (RFC 6349 3.3.1)`;
  if (least <= unscaledWindowBytesMax) {
    return [['window', `${needed}; a window without scaling is enough`]];
  }
  const capped = rounded(windowLimitedMbps(unscaledWindowBytesMax, rttMs), 1);
  const count = connectionsToFill(path, unscaledWindowBytesMax);
  return [
    ['window', needed],
    [
      'no scaling',
      `${unscaledWindowBytesMax} bytes x 8 / ${rttMs} ms = ${capped} Mb/s; ${count} such connections fill the line`,
    ],
  ];
}

/** What a throughput carries in a time. */
export function transferLine(mbps: number, seconds: number): Reckoning {
  const bytes = carriedBytes(mbps, seconds);
  const sizes = `${rounded(bytes / 1e9, 2)} GB = ${rounded(bytes / 2 ** 30, 1)} GiB`;
  return [`in ${seconds} s`, `${rounded(mbps, 3)} Mb/s x ${seconds} s / 8 = ${sizes}`];
}
