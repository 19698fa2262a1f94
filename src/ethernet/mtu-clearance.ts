import {
  ethernetHeaderBytes,
  fcsBytes,
  packetBytesMin,
  standardPacketBytes,
  vlanTagBytes,
} from './frame-size.ts';

/** What a number that a node calls MTU counts, beside the IP packet itself. */
export type MtuCounting = 'payload' | 'header' | 'header-fcs' | 'header-fcs-tag' | 'unknown';

/** The IP packet in bytes that passes for certain, and the one beyond which nothing passes. */
export interface PacketRange {
  readonly atLeastBytes: number;
  readonly atMostBytes: number;
}

const framing = ethernetHeaderBytes + fcsBytes;

/**
 * What a port passes whose node calls `mtuBytes` its MTU, on frames with at most `tags` tags.
 *
 * - `payload`: the number is the packet. Tags are added on top by such nodes.
 * - `header`, `header-fcs`: without tags exact. With tags a range: some devices count the tag
 *   within the number and some allow it on top, and both are sold with the same figure (1518
 *   that also passes 1522).
 * - `header-fcs-tag`: with one tag exact. Without a tag the packet may use the tag's 4 bytes
 *   where the limit is on the whole frame, and may not where the device keeps 1518 untagged
 *   beside 1522 tagged: a range. Further tags count within, or on top: a range.
 * - `unknown`: what holds under every one of these. 1500 passes wherever the number is 1500 or
 *   more, since every Ethernet station carries that.
 */
export function packetRange(mtuBytes: number, counting: MtuCounting, tags: number): PacketRange {
  switch (counting) {
    case 'payload':
      return range(mtuBytes, mtuBytes);
    case 'header':
      return below(mtuBytes - ethernetHeaderBytes, tags);
    case 'header-fcs':
      return below(mtuBytes - framing, tags);
    case 'header-fcs-tag':
      return tags === 0
        ? range(mtuBytes - framing - vlanTagBytes, mtuBytes - framing)
        : below(mtuBytes - framing - vlanTagBytes, tags - 1);
    case 'unknown':
      return whateverItCounts(mtuBytes, tags);
  }
}

function below(atMostBytes: number, tags: number): PacketRange {
  return range(atMostBytes - vlanTagBytes * tags, atMostBytes);
}

function whateverItCounts(mtuBytes: number, tags: number): PacketRange {
  const most = mtuBytes - framing - vlanTagBytes * Math.max(tags, 1);
  const floor = mtuBytes >= standardPacketBytes ? standardPacketBytes : packetBytesMin;
  return range(Math.max(floor, most), mtuBytes);
}

/** Never below zero, never crossed: a device may say any number. */
function range(atLeastBytes: number, atMostBytes: number): PacketRange {
  const most = Math.max(0, atMostBytes);
  return { atLeastBytes: Math.min(Math.max(0, atLeastBytes), most), atMostBytes: most };
}
