import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LinkMode } from '../../src/ethernet/link-mode.ts';
import { commonModes, linkModes } from '../../src/ethernet/link-modes.ts';
import { byModePriority, modeKey } from '../../src/ethernet/mode-priority.ts';
import { modeNamed, nameOf, someNames } from './twisted-pair-modes.ts';

const mode = fc.record({
  speedMbps: fc.constantFrom(10, 100, 1000, 10_000),
  duplex: fc.constantFrom('full' as const, 'half' as const),
  medium: fc.constantFrom('twisted-pair' as const, 'fibre' as const, 'unknown' as const),
});

describe('linkModes', () => {
  it('has each mode once, in one order, however it is made', () => {
    fc.assert(
      fc.property(fc.array(mode), someNames, (plain, names) => {
        const all: LinkMode[] = [...plain, ...names.map(modeNamed)];
        const set = linkModes(all);
        expect(linkModes([...all, ...all].reverse())).toEqual(set);
        expect(linkModes(set)).toEqual(set);
        expect(new Set(set.map(modeKey)).size).toBe(set.length);
        expect(new Set(set.map(modeKey))).toEqual(new Set(all.map(modeKey)));
      }),
    );
  });

  it('stands by speed first', () => {
    fc.assert(
      fc.property(fc.array(mode), (plain) => {
        const speeds = linkModes(plain).map((each) => each.speedMbps);
        expect(speeds).toEqual(speeds.toSorted((a, b) => b - a));
      }),
    );
  });

  it('puts full before half and then the name, off the list of twisted pair', () => {
    const fibre = (duplex: 'full' | 'half', phy?: string): LinkMode => ({
      speedMbps: 100,
      duplex,
      medium: 'fibre',
      ...(phy === undefined ? {} : { phy }),
    });
    const set = linkModes([
      fibre('half', '100BASE-FX'),
      fibre('full'),
      fibre('full', '100BASE-LX10'),
      fibre('full', '100BASE-FX'),
    ]);
    expect(set.map(modeKey)).toEqual([
      '100 Mb/s fibre full',
      '100BASE-FX full',
      '100BASE-LX10 full',
      '100BASE-FX half',
    ]);
  });
});

describe('byModePriority', () => {
  it('is a total order', () => {
    fc.assert(
      fc.property(mode, mode, mode, (a, b, c) => {
        expect(byModePriority(a, b) + byModePriority(b, a)).toBe(0);
        expect(byModePriority(a, b) === 0).toBe(modeKey(a) === modeKey(b));
        if (byModePriority(a, b) <= 0 && byModePriority(b, c) <= 0)
          expect(byModePriority(a, c)).toBeLessThanOrEqual(0);
      }),
    );
  });
});

describe('commonModes', () => {
  it('is the meeting of two sets of names', () => {
    fc.assert(
      fc.property(someNames, someNames, (a, b) => {
        const common = commonModes(linkModes(a.map(modeNamed)), linkModes(b.map(modeNamed)));
        expect(common.map(nameOf).toSorted()).toEqual(a.filter((n) => b.includes(n)).toSorted());
      }),
    );
  });
});
