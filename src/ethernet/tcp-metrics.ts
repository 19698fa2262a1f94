import { slotsPerSecondMax } from './frame-rate.ts';

/** What one full packet takes of the line, and gives to the user. */
export interface PacketSlot {
  readonly wireBytes: number;
  readonly userBytes: number;
}

/**
 * Maximum achievable TCP throughput in Mb/s, with whole packets a second (RFC 6349 4.1.1). The
 * framing may be any; `goodputMbps` gives the same for Ethernet without the rounding.
 */
export function achievableMbps(rateMbps: number, { wireBytes, userBytes }: PacketSlot): number {
  return (slotsPerSecondMax(rateMbps, wireBytes) * userBytes * 8) / 1e6;
}

/** Seconds that a transfer takes at the achievable rate; `mbps` above 0 (RFC 6349 4.1.2). */
export function idealTransferSeconds(bytes: number, mbps: number): number {
  return (bytes * 8) / mbps / 1e6;
}

/** Actual over ideal time; 1 is ideal (RFC 6349 4.1.2). Undefined: no ideal time is known. */
export function transferTimeRatio(actualSeconds: number, idealSeconds: number): number | undefined {
  return idealSeconds > 0 ? actualSeconds / idealSeconds : undefined;
}

/** Bytes that a sender sent, and those that it sent again. */
export interface TransmittedBytes {
  /** All that was sent, with what was sent again. */
  readonly transmittedBytes: number;
  readonly retransmittedBytes: number;
}

/** Share in percent that did not have to be sent again (RFC 6349 4.2). Undefined: none was sent. */
export function tcpEfficiencyPercent(sent: TransmittedBytes): number | undefined {
  const { transmittedBytes, retransmittedBytes } = sent;
  if (transmittedBytes <= 0) return undefined;
  return ((transmittedBytes - retransmittedBytes) / transmittedBytes) * 100;
}

/** Round trip while transferring, from one sample a second (RFC 6349 4.3). Undefined: no sample. */
export function averageRttMs(samplesMs: readonly number[]): number | undefined {
  if (samplesMs.length === 0) return undefined;
  return samplesMs.reduce((sum, each) => sum + each, 0) / samplesMs.length;
}

/**
 * How much the round trip grew while transferring, in percent of `baselineMs`, the least without
 * load (RFC 6349 4.3). Undefined: no baseline.
 */
export function bufferDelayPercent(averageMs: number, baselineMs: number): number | undefined {
  return baselineMs > 0 ? ((averageMs - baselineMs) / baselineMs) * 100 : undefined;
}
