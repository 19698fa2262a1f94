import { describe, expect, it } from 'vitest';
import {
  type FibreType,
  fibreGrades,
  fibrePhys,
  fibreReach,
} from '../../src/ethernet/fibre-reach.ts';
import { fibreTypes } from '../../src/intent/types.ts';

/**
 * Reach in metres of the fibre PHYs of IEEE Std 802.3 over OM1 to OM5 and OS1/OS2. Secondary
 * sources (the Ethernet Alliance for 10GBASE-SR on OM4, 40GBASE-SR4 and 100GBASE-SR10), but for
 * the cells with `m`: from memory. `*`: beyond it only under a condition. `(160: 220)`: fibre of
 * 160 MHz·km reaches 220 m. `-`: no figure.
 */
type Row = readonly [string, string, string, string, string, string, string];
const table: readonly Row[] = [
  ['100BASE-FX', '2000', '2000', '2000', '2000', '2000', '-'],
  ['1000BASE-SX', '275 (160: 220)', '550 (400: 500)', '550 to 1000*', '550', '550', '-'],
  ['1000BASE-LX', '550*', '550', '550', '550', '550', '5000 m'],
  ['1000BASE-LX10', '-', '-', '-', '-', '-', '10000 m'],
  ['10GBASE-SR', '33 (160: 26)', '82 (400: 66)', '300', '400', '400 m', '-'],
  ['10GBASE-LRM', '220', '220 (400: 100)', '220', '220 m', '-', '-'],
  ['10GBASE-LR', '-', '-', '-', '-', '-', '10000'],
  ['10GBASE-ER', '-', '-', '-', '-', '-', '30000 to 40000* m'],
  ['10GBASE-LX4', '300', '300', '300', '-', '-', '10000'],
  ['25GBASE-SR', '-', '-', '70', '100 m', '100 m', '-'],
  ['25GBASE-LR', '-', '-', '-', '-', '-', '10000 m'],
  ['25GBASE-ER', '-', '-', '-', '-', '-', '30000 to 40000* m'],
  ['40GBASE-SR4', '-', '-', '100', '150', '150 m', '-'],
  ['100GBASE-SR10', '-', '-', '100', '150', '150 m', '-'],
  ['40GBASE-LR4', '-', '-', '-', '-', '-', '10000'],
  ['40GBASE-FR', '-', '-', '-', '-', '-', '2000 m'],
  ['40GBASE-ER4', '-', '-', '-', '-', '-', '40000 m'],
  ['100GBASE-SR4', '-', '-', '70', '100 m', '100 m', '-'],
  ['100GBASE-LR4', '-', '-', '-', '-', '-', '10000 m'],
  ['100GBASE-ER4', '-', '-', '-', '-', '-', '40000 m'],
];

function asWritten(phy: string, fibre: FibreType): string {
  const reach = fibreReach(phy, fibre);
  if (reach === undefined) return '-';
  const { assuredMetres, conditionalMetres, condition, mark, olderGrade } = reach;
  expect(condition === undefined).toBe(conditionalMetres === undefined);
  const metres = [assuredMetres, conditionalMetres].filter((each) => each !== undefined);
  const star = conditionalMetres === undefined ? '' : '*';
  const older = olderGrade && ` (${olderGrade.modalBandwidthMhzKm}: ${olderGrade.metres})`;
  return `${metres.join(' to ')}${star}${older ?? ''}${mark === 'from memory' ? ' m' : ''}`;
}

describe('reach over fibre (secondary source, or from memory where marked)', () => {
  it.each(table)('%s: OM1 %s, OM2 %s, OM3 %s, OM4 %s, OM5 %s, OS %s', (phy, ...cells) => {
    const [om1, om2, om3, om4, om5, os] = cells;
    const found = fibreGrades.map((fibre) => asWritten(phy, fibre));
    expect(found).toEqual([om1, om2, om3, om4, om5, os, os]);
  });

  it('has these PHYs and no other, and the fibres of the intent', () => {
    expect(Object.keys(fibrePhys).sort()).toEqual(table.map(([phy]) => phy).sort());
    expect(fibreGrades).toEqual(fibreTypes);
  });

  it.each(['10GBASE-XX', 'toString', '__proto__', ''])('knows nothing of %j', (phy) => {
    expect(fibreReach(phy, 'om3')).toBeUndefined();
  });
});
