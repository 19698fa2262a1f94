import { describe, expect, it } from 'vitest';
import { dbmOfMilliwatts, milliwattsOfDbm } from '../../src/ethernet/optical-power.ts';
import { opticalWindow, type WindowEdge } from '../../src/ethernet/optical-window.ts';

/**
 * Average power in dBm per PHY of IEEE Std 802.3: sent least and most, received least and most,
 * sensitivity and stressed sensitivity in OMA. `s`: secondary source; the others from memory.
 */
const table: readonly (readonly [string, string, string, string, string, string, string])[] = [
  ['1000BASE-SX', '-9.5', '0', '-17', '0', '-', '-'],
  ['1000BASE-LX', '-11.5', '-3', '-19', '-3', '-', '-'],
  ['10GBASE-SR', '-7.3', '-1', '-9.9', '-1', '-11.1', '-7.5 s'],
  ['10GBASE-LR', '-8.2 s', '0.5 s', '-14.4', '0.5 s', '-12.6 s', '-'],
  ['10GBASE-ER', '-4.7', '4', '-15.8', '-1', '-14.1', '-'],
  ['10GBASE-LRM', '-6.5', '0.5', '-8.4', '0.5', '-', '-'],
];

function asWritten(edge: WindowEdge | undefined): string {
  if (edge === undefined) return '-';
  return `${edge.dbm}${edge.mark === 'secondary source' ? ' s' : ''}`;
}

describe('optical power windows (from memory, or secondary source where marked)', () => {
  it.each(table)(
    '%s sends %s to %s and receives %s to %s, OMA %s, stressed %s',
    (phy, ...cells) => {
      const found = opticalWindow(phy);
      const edges = [
        found?.txLeast,
        found?.txMost,
        found?.rxLeast,
        found?.rxMost,
        found?.rxSensitivityOma,
        found?.rxStressedOma,
      ];
      expect(edges.map(asWritten)).toEqual(cells);
    },
  );

  it.each(['10GBASE-T', 'valueOf'])('has none for %s', (phy) => {
    expect(opticalWindow(phy)).toBeUndefined();
  });
});

describe('dBm = 10 log10(mW), in µW to the digits of the handbook figures (computed)', () => {
  it.each([
    [-14.4, 36.3],
    [-9.9, 102.3],
    [-8.2, 151.4],
    [-7.3, 186.2],
    [-1, 794.3],
    [0.5, 1122],
    [0, 1000],
    [-40, 0.1],
  ])('%d dBm is %d µW', (dbm, microwatts) => {
    const found = milliwattsOfDbm(dbm) * 1000;
    expect(Math.abs(found - microwatts)).toBeLessThan(microwatts >= 1000 ? 0.5 : 0.05);
    expect(dbmOfMilliwatts(microwatts / 1000)).toBeCloseTo(dbm, 2);
  });

  it.each([0, -1])('%d mW has no level', (milliwatts) => {
    expect(dbmOfMilliwatts(milliwatts)).toBeUndefined();
  });
});
