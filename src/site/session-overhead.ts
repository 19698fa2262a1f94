import { ipHeaderBytes, tcpHeaderBytes, tcpTimestampsBytes } from '../ethernet/goodput.ts';
import type { SessionReading } from '../facts/survey.ts';

/**
 * Headers of a full segment in bytes. Linux counts neither its own offered nor the used segment
 * with the bytes of TCP timestamps, where they are in use.
 */
export function overheadOf({ local, timestamps }: SessionReading): number {
  const ip = ipHeaderBytes(local.includes(':') ? 6 : 4);
  return ip + tcpHeaderBytes + (timestamps ? tcpTimestampsBytes : 0);
}
