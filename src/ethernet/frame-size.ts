/** Octets of an Ethernet frame and of its slot on the wire (IEEE 802.3; RFC 6349 4.1.1). */
export const ethernetHeaderBytes = 14;
/** Frame check sequence, in bytes. */
export const fcsBytes = 4;
/** One IEEE 802.1Q tag. */
export const vlanTagBytes = 4;
/** Preamble 7 and start-of-frame delimiter 1. */
export const preambleBytes = 8;
/** Gap between frames, in bytes (96 bit times). */
export const interFrameGapBytes = 12;
/** Smallest frame, header to FCS; shorter ones are padded. */
export const frameBytesMin = 64;
/** The packet that every Ethernet station carries (RFC 894). */
export const standardPacketBytes = 1500;
/** No IPv4 path may pass less (RFC 791 3.2, RFC 1191 3). */
export const packetBytesMin = 68;

/**
 * Whole frame, header to FCS, of an IP packet with `tags` VLAN tags. A frame shorter than the
 * minimum is padded to 64 bytes, tags included (IEEE 802.3 3.2.7 and 3.2.8, from memory).
 */
export function frameBytes(packetBytes: number, tags = 0): number {
  const frame = packetBytes + ethernetHeaderBytes + fcsBytes + vlanTagBytes * tags;
  return Math.max(frameBytesMin, frame);
}

/** Bytes of line time that an IP packet takes: its frame, the preamble before and the gap after. */
export function wireBytes(packetBytes: number, tags = 0): number {
  return frameBytes(packetBytes, tags) + preambleBytes + interFrameGapBytes;
}
