import { z } from 'zod';
import { together, wholeNumber } from './schema-parts.ts';

/** Smallest MTU of IPv4 (RFC 791) and of IPv6 (RFC 8200), and the largest of either, in bytes. */
export const ipMtuBytes = { v4Min: 68, v6Min: 1280, max: 65_535 } as const;

/** IP packet, layer 3. */
export const mtuSchema = wholeNumber(
  'IP packet in bytes, layer 3',
  ipMtuBytes.v4Min,
  ipMtuBytes.max,
);

/** One entry of `segments:`. */
export const segmentSchema = z
  .strictObject({
    vlan: wholeNumber('VLAN identifier (IEEE 802.1Q)', 1, 4094).exactOptional(),
    mtu: mtuSchema.exactOptional(),
    ipv6: z.boolean().describe('Carries IPv6, which needs an MTU of 1280 or more').exactOptional(),
  })
  .check(({ value, issues }) => {
    if (value.ipv6 !== true || value.mtu === undefined || value.mtu >= ipMtuBytes.v6Min) return;
    together(
      issues,
      ['mtu'],
      'is too small for IPv6 (RFC 8200); write 1280 or more, or remove ipv6',
    );
  })
  .describe('One broadcast domain: a LAN or a VLAN');

/** A segment as it is written. */
export type SegmentText = z.output<typeof segmentSchema>;
