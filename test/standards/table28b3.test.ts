import { describe, expect, it } from 'vitest';
import { resolvePause } from '../../src/ethernet/resolve-pause.ts';

/**
 * IEEE 802.3 Table 28B-3 (secondary source): local PAUSE and ASM_DIR, partner PAUSE and ASM_DIR,
 * what the local port honours and what it sends. `x` is either.
 */
const rows = [
  ['0', '0', 'x', 'x', 'no', 'no'],
  ['0', '1', '0', 'x', 'no', 'no'],
  ['0', '1', '1', '0', 'no', 'no'],
  ['0', '1', '1', '1', 'no', 'yes'],
  ['1', '0', '0', 'x', 'no', 'no'],
  ['1', 'x', '1', 'x', 'yes', 'yes'],
  ['1', '1', '0', '0', 'no', 'no'],
  ['1', '1', '0', '1', 'yes', 'no'],
] as const;

const bits = [0, 1, 2, 3].map((n) => ({ pause: n >= 2, asymmetric: n % 2 === 1 }));
const fits = (cell: string, bit: boolean) => cell === 'x' || (cell === '1') === bit;
const cases = bits.flatMap((local) => bits.map((partner) => ({ local, partner })));

describe('IEEE 802.3 Table 28B-3, resolution of pause (secondary source)', () => {
  it('has one row for each of the sixteen cases', () => {
    const found = cases.map(({ local, partner }) => rowsOf(local, partner).length);
    expect(found).toEqual(Array(16).fill(1));
  });

  it.each(rows)('%s %s against %s %s: honours %s, sends %s', (...row) => {
    const own = cases.filter(({ local, partner }) => rowsOf(local, partner).includes(row.join()));
    expect(own.length).toBeGreaterThan(0);
    for (const { local, partner } of own)
      expect(resolvePause(local, partner)).toEqual({
        receives: row[4] === 'yes',
        sends: row[5] === 'yes',
      });
  });

  it.each(cases)('what one side sends the other honours: $local, $partner', (each) => {
    const here = resolvePause(each.local, each.partner);
    const there = resolvePause(each.partner, each.local);
    expect([here.sends, here.receives]).toEqual([there.receives, there.sends]);
  });
});

function rowsOf(local: (typeof bits)[number], partner: (typeof bits)[number]) {
  const own = rows.filter(
    ([lp, la, pp, pa]) =>
      fits(lp, local.pause) &&
      fits(la, local.asymmetric) &&
      fits(pp, partner.pause) &&
      fits(pa, partner.asymmetric),
  );
  return own.map((row) => row.join());
}
