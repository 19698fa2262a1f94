import { describe, expect, it } from 'vitest';
import {
  directAttachReach,
  directAttachReachAt,
  highestDirectAttachRate,
} from '../../src/ethernet/direct-attach-reach.ts';
import { aboveCagePower, cagePowerWatts, moduleClass } from '../../src/ethernet/module-class.ts';
import type { Reach } from '../../src/ethernet/reach.ts';

function metresOf(reach: Reach | undefined) {
  return [reach?.assuredMetres, reach?.conditionalMetres, reach?.mark];
}

describe('direct attach, in metres', () => {
  it.each([
    [
      'SFP+ twinax: 1 to 7 m (secondary source), active to 15 m',
      '10GBASE-CR',
      7,
      15,
      'secondary source',
    ],
    ['25GBASE-CR (from memory)', '25GBASE-CR', 5, undefined, 'from memory'],
    ['25GBASE-CR-S (from memory)', '25GBASE-CR-S', 3, undefined, 'from memory'],
    ['40GBASE-CR4 (from memory)', '40GBASE-CR4', 7, undefined, 'from memory'],
    ['100GBASE-CR4 (from memory)', '100GBASE-CR4', 5, undefined, 'from memory'],
    ['no such PHY', '1000BASE-CR', undefined, undefined, undefined],
  ])('%s', (_, phy, ...expected) => {
    expect(metresOf(directAttachReach(phy))).toEqual(expected);
  });

  it.each([
    [10_000, 7, 15],
    // Between 3 and 5 m one of the two PHYs of 25 Gb/s reaches and the other does not.
    [25_000, 3, 5],
    [40_000, 7, undefined],
    [100_000, 5, undefined],
    [1000, undefined, undefined],
  ])('at %i Mb/s: %s m, conditional %s m (from memory but 10 Gb/s)', (rate, assured, maybe) => {
    const reach = directAttachReachAt(rate);
    expect([reach?.assuredMetres, reach?.conditionalMetres]).toEqual([assured, maybe]);
  });

  it.each([
    [0.5, 100_000],
    [5, 100_000],
    [5.01, 40_000],
    [7, 40_000],
    [7.01, 10_000],
    [15, 10_000],
    [15.01, undefined],
  ])('%d m is good for %s Mb/s at most (from memory)', (metres, rate) => {
    expect(highestDirectAttachRate(metres)).toBe(rate);
  });
});

describe('twisted-pair modules', () => {
  it('SFF-8431 and SFF-8419 grant 1.0, 1.5 and 2.0 W (secondary source)', () => {
    expect(cagePowerWatts).toEqual({ I: 1, II: 1.5, III: 2 });
  });

  it('10GBASE-T: 30 m and 2.5 to 3.5 W (secondary source; common practice), above every level', () => {
    const known = moduleClass('10GBASE-T');
    expect(known).toEqual({ reachMetres: 30, powerWatts: [2.5, 3.5], mark: 'secondary source' });
    expect(known && aboveCagePower(known)).toBe(true);
  });

  it('1000BASE-T: 100 m (from memory), its power not known', () => {
    const known = moduleClass('1000BASE-T');
    expect(known).toEqual({ reachMetres: 100, mark: 'from memory' });
    expect(known && aboveCagePower(known)).toBeUndefined();
  });

  it('a module within the power of its cage is not accused', () => {
    const cool = { reachMetres: 1, powerWatts: [0.5, 2], mark: 'from memory' } as const;
    expect(aboveCagePower(cool)).toBe(false);
  });

  it.each(['5GBASE-T', 'constructor'])('knows no class of %s', (phy) => {
    expect(moduleClass(phy)).toBeUndefined();
  });
});
