import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byName } from '../../src/facts/order.ts';

describe('byName', () => {
  it('counts numbers inside names', () => {
    const names = ['xg10', 'xg2', 'eth0', 'Port 4', 'eth', 'xg02', 'eth0.20', 'eth0.3'];
    expect(names.sort(byName)).toEqual([
      'Port 4',
      'eth',
      'eth0',
      'eth0.3',
      'eth0.20',
      'xg02',
      'xg2',
      'xg10',
    ]);
  });

  it('is a total order', () => {
    const name = fc.string({ unit: fc.constantFrom('a', 'B', '0', '1', '9', '.'), maxLength: 6 });
    fc.assert(
      fc.property(name, name, name, (a, b, c) => {
        expect(Math.sign(byName(a, b))).toBe(-Math.sign(byName(b, a)) + 0);
        expect(byName(a, b) === 0).toBe(a === b);
        if (byName(a, b) <= 0 && byName(b, c) <= 0) expect(byName(a, c)).toBeLessThanOrEqual(0);
      }),
    );
  });
});
