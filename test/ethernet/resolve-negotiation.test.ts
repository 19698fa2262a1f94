import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linkModes } from '../../src/ethernet/link-modes.ts';
import { resolveNegotiation } from '../../src/ethernet/resolve-negotiation.ts';
import { highestByList } from './negotiation-oracle.ts';
import { modeNamed, nameOf, someNames } from './twisted-pair-modes.ts';

const setOf = (...names: readonly string[]) => linkModes(names.map(modeNamed));

describe('resolveNegotiation', () => {
  const rows: readonly (readonly [string, string[], string[], string | undefined])[] = [
    ['the best of two like sides', ['10GBASE-T full'], ['10GBASE-T full'], '10GBASE-T full'],
    [
      'the best in common',
      ['10GBASE-T full', '2.5GBASE-T full', '1000BASE-T full'],
      ['5GBASE-T full', '2.5GBASE-T full', '1000BASE-T full'],
      '2.5GBASE-T full',
    ],
    [
      '1000 half before 100 full',
      ['1000BASE-T half', '100BASE-TX full'],
      ['100BASE-TX full', '1000BASE-T half'],
      '1000BASE-T half',
    ],
    ['nothing in common', ['1000BASE-T full'], ['100BASE-TX full'], undefined],
    ['one speed, other duplex', ['100BASE-TX full'], ['100BASE-TX half'], undefined],
    ['an empty side', [], ['1000BASE-T full'], undefined],
  ];
  it.each(rows)('%s', (_, local, partner, best) => {
    const mode = resolveNegotiation(setOf(...local), setOf(...partner));
    expect(mode).toEqual(best === undefined ? undefined : modeNamed(best));
  });

  it('agrees with a literal walk down the list of 28B.3', () => {
    fc.assert(
      fc.property(someNames, someNames, (local, partner) => {
        const mode = resolveNegotiation(setOf(...local), setOf(...partner));
        expect(mode && nameOf(mode)).toBe(highestByList(local, partner));
      }),
      { numRuns: 500 },
    );
  });

  it('is the same from either side, and with itself its own best', () => {
    fc.assert(
      fc.property(someNames, someNames, (a, b) => {
        const [first, second] = [setOf(...a), setOf(...b)];
        expect(resolveNegotiation(first, second)).toEqual(resolveNegotiation(second, first));
        expect(resolveNegotiation(first, first)).toEqual(first[0]);
      }),
    );
  });

  it('never gets worse by offering more', () => {
    fc.assert(
      fc.property(someNames, someNames, someNames, (a, more, b) => {
        const before = resolveNegotiation(setOf(...a), setOf(...b));
        const after = resolveNegotiation(setOf(...a, ...more), setOf(...b));
        if (before !== undefined)
          expect(after?.speedMbps ?? 0).toBeGreaterThanOrEqual(before.speedMbps);
      }),
    );
  });
});
