import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MtuCounting, packetRange } from '../../src/ethernet/mtu-clearance.ts';

describe('packetRange', () => {
  const rows: readonly (readonly [MtuCounting, number, number, number, number])[] = [
    // Counted as the packet, tags on top.
    ['payload', 1500, 0, 1500, 1500],
    ['payload', 9000, 1, 9000, 9000],
    // 1514, 1518, 1522 and 1526 are the frames of a packet of 1500 (IEEE 802.3, 802.1Q).
    ['header', 1514, 0, 1500, 1500],
    ['header', 1514, 1, 1496, 1500],
    ['header-fcs', 1518, 0, 1500, 1500],
    ['header-fcs', 1522, 1, 1500, 1504],
    ['header-fcs', 1518, 1, 1496, 1500],
    ['header-fcs', 1526, 2, 1500, 1508],
    ['header-fcs-tag', 1522, 1, 1500, 1500],
    ['header-fcs-tag', 1522, 0, 1500, 1504],
    ['header-fcs-tag', 1526, 2, 1500, 1504],
    // 9014, 9018, 9022 and 9026 are those of 9000 (common practice).
    ['header', 9014, 0, 9000, 9000],
    ['header-fcs', 9018, 0, 9000, 9000],
    ['header-fcs', 9022, 1, 9000, 9004],
    ['header-fcs-tag', 9022, 1, 9000, 9000],
    ['header-fcs-tag', 9026, 2, 9000, 9004],
    ['header-fcs', 9216, 0, 9198, 9198],
    ['header', 9216, 0, 9202, 9202],
    // Not known what it counts: the design's table.
    ['unknown', 9216, 0, 9194, 9216],
    ['unknown', 9216, 1, 9194, 9216],
    ['unknown', 9216, 2, 9190, 9216],
    ['unknown', 9000, 0, 8978, 9000],
    ['unknown', 9022, 1, 9000, 9022],
    ['unknown', 9021, 1, 8999, 9021],
    ['unknown', 1500, 1, 1500, 1500],
    ['unknown', 1518, 0, 1500, 1518],
    ['unknown', 1492, 0, 1470, 1492],
    ['unknown', 80, 0, 68, 80],
    ['unknown', 60, 0, 60, 60],
    // A device may say any number.
    ['header-fcs', 4, 1, 0, 0],
    ['unknown', 0, 0, 0, 0],
  ];
  it.each(rows)(
    '%s %i with %i tags passes %i and at most %i',
    (counting, mtu, tags, least, most) => {
      expect(packetRange(mtu, counting, tags)).toEqual({ atLeastBytes: least, atMostBytes: most });
    },
  );

  it('not known holds whatever the number turns out to count', () => {
    const known = fc.constantFrom<MtuCounting>('payload', 'header', 'header-fcs', 'header-fcs-tag');
    fc.assert(
      fc.property(fc.integer({ min: 1522, max: 20_000 }), known, (mtu, counting) => {
        // One tag, the deepest that every accounting has room for.
        const blind = packetRange(mtu, 'unknown', 1);
        const told = packetRange(mtu, counting, 1);
        // Where 1500 is certain by IEEE 802.3, the number itself may promise less.
        expect(Math.max(1500, told.atLeastBytes)).toBeGreaterThanOrEqual(blind.atLeastBytes);
        expect(told.atMostBytes).toBeLessThanOrEqual(blind.atMostBytes);
      }),
    );
  });
});
