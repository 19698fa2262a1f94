import { describe, expect, it } from 'vitest';
import type { Medium } from '../../src/ethernet/link-mode.ts';
import { mauType } from '../../src/ethernet/mau-type.ts';

type Row = readonly [number, string, number, 'full' | 'half' | undefined, Medium];

const tp = 'twisted-pair';
const da = 'direct-attach';
const bp = 'backplane';

/** IANA-MAU-MIB dot3MauType, 1 to 78 of the 2014 and 79 to 104 of the 2017 revision. */
const primary: readonly Row[] = [
  [5, '10BASE-T', 10, undefined, tp],
  [10, '10BASE-T', 10, 'half', tp],
  [11, '10BASE-T', 10, 'full', tp],
  [14, '100BASE-T4', 100, 'half', tp],
  [15, '100BASE-TX', 100, 'half', tp],
  [16, '100BASE-TX', 100, 'full', tp],
  [17, '100BASE-FX', 100, 'half', 'fibre'],
  [18, '100BASE-FX', 100, 'full', 'fibre'],
  [19, '100BASE-T2', 100, 'half', tp],
  [20, '100BASE-T2', 100, 'full', tp],
  [21, '1000BASE-X', 1000, 'half', 'unknown'],
  [22, '1000BASE-X', 1000, 'full', 'unknown'],
  [23, '1000BASE-LX', 1000, 'half', 'fibre'],
  [24, '1000BASE-LX', 1000, 'full', 'fibre'],
  [25, '1000BASE-SX', 1000, 'half', 'fibre'],
  [26, '1000BASE-SX', 1000, 'full', 'fibre'],
  [27, '1000BASE-CX', 1000, 'half', da],
  [28, '1000BASE-CX', 1000, 'full', da],
  [29, '1000BASE-T', 1000, 'half', tp],
  [30, '1000BASE-T', 1000, 'full', tp],
  [31, '10GBASE-X', 10_000, 'full', 'unknown'],
  [32, '10GBASE-LX4', 10_000, 'full', 'fibre'],
  [33, '10GBASE-R', 10_000, 'full', 'unknown'],
  [34, '10GBASE-ER', 10_000, 'full', 'fibre'],
  [35, '10GBASE-LR', 10_000, 'full', 'fibre'],
  [36, '10GBASE-SR', 10_000, 'full', 'fibre'],
  [37, '10GBASE-W', 10_000, 'full', 'unknown'],
  [38, '10GBASE-EW', 10_000, 'full', 'fibre'],
  [39, '10GBASE-LW', 10_000, 'full', 'fibre'],
  [40, '10GBASE-SW', 10_000, 'full', 'fibre'],
  [41, '10GBASE-CX4', 10_000, 'full', da],
  [46, '100BASE-LX10', 100, 'full', 'fibre'],
  [49, '1000BASE-LX10', 1000, 'full', 'fibre'],
  [54, '10GBASE-T', 10_000, 'full', tp],
  [55, '10GBASE-LRM', 10_000, 'full', 'fibre'],
  [56, '1000BASE-KX', 1000, 'full', bp],
  [57, '10GBASE-KX4', 10_000, 'full', bp],
  [58, '10GBASE-KR', 10_000, 'full', bp],
  [70, '40GBASE-KR4', 40_000, 'full', bp],
  [71, '40GBASE-CR4', 40_000, 'full', da],
  [72, '40GBASE-SR4', 40_000, 'full', 'fibre'],
  [73, '40GBASE-FR', 40_000, 'full', 'fibre'],
  [74, '40GBASE-LR4', 40_000, 'full', 'fibre'],
  [75, '100GBASE-CR10', 100_000, 'full', da],
  [76, '100GBASE-SR10', 100_000, 'full', 'fibre'],
  [77, '100GBASE-LR4', 100_000, 'full', 'fibre'],
  [78, '100GBASE-ER4', 100_000, 'full', 'fibre'],
  [88, '25GBASE-CR', 25_000, 'full', da],
  [89, '25GBASE-CR-S', 25_000, 'full', da],
  [90, '25GBASE-KR', 25_000, 'full', bp],
  [91, '25GBASE-KR-S', 25_000, 'full', bp],
  [92, '25GBASE-R', 25_000, 'full', 'unknown'],
  [93, '25GBASE-SR', 25_000, 'full', 'fibre'],
  [94, '25GBASE-T', 25_000, 'full', tp],
  [95, '40GBASE-ER4', 40_000, 'full', 'fibre'],
  [96, '40GBASE-R', 40_000, 'full', 'unknown'],
  [97, '40GBASE-T', 40_000, 'full', tp],
  [98, '100GBASE-CR4', 100_000, 'full', da],
  [99, '100GBASE-KR4', 100_000, 'full', bp],
  [100, '100GBASE-KP4', 100_000, 'full', bp],
  [101, '100GBASE-R', 100_000, 'full', 'unknown'],
  [102, '100GBASE-SR4', 100_000, 'full', 'fibre'],
  [103, '2.5GBASE-T', 2500, 'full', tp],
  [104, '5GBASE-T', 5000, 'full', tp],
];

/** The same module after 2017, as an operating system maps it. */
const secondary: readonly Row[] = [
  [109, '2.5GBASE-KX', 2500, 'full', bp],
  [110, '2.5GBASE-X', 2500, 'full', 'unknown'],
  [111, '5GBASE-KR', 5000, 'full', bp],
  [114, '25GBASE-LR', 25_000, 'full', 'fibre'],
  [115, '25GBASE-ER', 25_000, 'full', 'fibre'],
  [145, '100GBASE-FR1', 100_000, 'full', 'fibre'],
  [146, '100GBASE-LR1', 100_000, 'full', 'fibre'],
];

function check(number: number, phy: string, speedMbps: number, duplex: Row[3], medium: Medium) {
  const told = duplex === undefined ? {} : { duplex };
  expect(mauType(number)).toStrictEqual({ phy, speedMbps, medium, ...told });
}

describe('IANA-MAU-MIB dot3MauType (media from memory)', () => {
  it.each(primary)('%i %s', check);
  it.each(secondary)('%i %s (secondary source)', check);

  // 0: not listed; 1 to 9 but 5: AUI, coaxial, FOIRL; 50 to 53: other access media; 147: not seen.
  it.each([0, 1, 9, 12, 53, 147, -1, 30.5, Number.NaN])('%d is no type of the table', (number) => {
    expect(mauType(number)).toBeUndefined();
  });
});
