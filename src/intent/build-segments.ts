import type { Section } from './sections.ts';
import type { SegmentText } from './segment-schema.ts';
import { entryPlace } from './spot.ts';
import type { DeclaredSegment } from './types.ts';

/** Builds the segments whose entries are valid. */
export function buildSegments(section: Section<SegmentText>): readonly DeclaredSegment[] {
  return section.entries.map(({ key, value: { vlan, mtu, ipv6 }, spot }) => ({
    name: key,
    place: entryPlace(spot),
    ...(vlan === undefined ? {} : { vlan }),
    ...(mtu === undefined ? {} : { mtuBytes: mtu }),
    ipv6: ipv6 ?? false,
  }));
}
