import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { copperGrades, highestCopperRate } from '../../src/ethernet/copper-reach.ts';
import { fibrePhys } from '../../src/ethernet/fibre-reach.ts';
import type { ReachPiece } from '../../src/ethernet/run-piece.ts';
import { type RunReach, reachOfRun, type WantedReach } from '../../src/ethernet/run-reach.ts';
import { pieceOf } from './run-of.ts';

const metres = fc.integer({ min: 1, max: 1200 }).map((tenths) => tenths / 10);
const copperCable = fc
  .tuple(fc.constantFrom('cord', 'wall'), fc.constantFrom(...copperGrades), metres)
  .map(([kind, category, length]) => pieceOf(`${kind} ${category} ${length} m`));
const fibreCable = fc
  .tuple(fc.constantFrom('om1', 'om2', 'om3', 'om4', 'om5', 'os1', 'os2'), metres)
  .map(([type, length]) => pieceOf(`fibre ${type} ${length} m`));
const vague = fc.constantFrom('cord 3 m', 'wall cat6a', 'cord', 'fibre 20 m', 'fibre').map(pieceOf);
const join = fc.constantFrom('jack W-07', 'panel B/12').map(pieceOf);
const attach = metres.map((length) => pieceOf(`direct-attach ${length} m`));
const anyPassive = fc.oneof(copperCable, fibreCable, vague, join, attach);
const module = fc
  .constantFrom('10GBASE-T', '1000BASE-T', '5GBASE-T', '25GBASE-CR', ...Object.keys(fibrePhys))
  .map((phy) => pieceOf(`module ${phy}`));
const wanted = fc.constantFrom<(WantedReach | undefined)[]>(
  undefined,
  { rateMbps: 1000 },
  { rateMbps: 10_000 },
  { rateMbps: 25_000 },
  { phy: '10GBASE-T' },
);

const rated = (reach: RunReach | undefined) => reach?.ratedMbps ?? 0;

/** The most that a run may carry; Infinity where nothing is known of it. */
function ceiling(reach: RunReach | undefined): number {
  if (reach === undefined || reach.standing === 'unknown') return Number.POSITIVE_INFINITY;
  return Math.max(reach.ratedMbps ?? 0, reach.conditionalMbps ?? 0);
}

function insertedAt(pieces: readonly ReachPiece[], piece: ReachPiece, at: number) {
  return pieces.toSpliced(at % (pieces.length + 1), 0, piece);
}

describe('a run', () => {
  it('of one category is never faster when longer', () => {
    fc.assert(
      fc.property(fc.constantFrom(...copperGrades), metres, metres, (category, one, more) => {
        const short = highestCopperRate(category, one);
        const long = highestCopperRate(category, one + more);
        expect(long.assuredMbps ?? 0).toBeLessThanOrEqual(short.assuredMbps ?? 0);
        const most = (rate: typeof short) =>
          Math.max(rate.assuredMbps ?? 0, rate.conditionalMbps ?? 0);
        expect(most(long)).toBeLessThanOrEqual(most(short));
      }),
    );
  });

  it('of a worse category is never faster', () => {
    fc.assert(
      fc.property(fc.nat(5), fc.nat(5), metres, (a, b, length) => {
        const worse = highestCopperRate(copperGrades[Math.min(a, b)] ?? 'cat5', length);
        const better = highestCopperRate(copperGrades[Math.max(a, b)] ?? 'cat5', length);
        expect(worse.assuredMbps ?? 0).toBeLessThanOrEqual(better.assuredMbps ?? 0);
      }),
    );
  });

  it('never carries more for a further piece, of any kind, anywhere', () => {
    const pieces = fc.array(anyPassive, { minLength: 1, maxLength: 6 });
    const piece = fc.oneof(anyPassive, module);
    fc.assert(
      fc.property(pieces, piece, fc.nat(6), wanted, (run, further, at, asked) => {
        // Taken for what was wanted of it, until its PHY is declared: that is another cable.
        const named = further.kind === 'module' && run.some(({ kind }) => kind === 'direct-attach');
        fc.pre(!named);
        const longer = insertedAt(run, further, at);
        expect(ceiling(reachOfRun(longer, asked))).toBeLessThanOrEqual(
          ceiling(reachOfRun(run, asked)),
        );
      }),
      { numRuns: 2000 },
    );
  });

  it('of twisted pair is never assured of more for a further piece', () => {
    const pieces = fc.array(fc.oneof(copperCable, join), { maxLength: 6 });
    const piece = fc.oneof(copperCable, join, vague, module, attach, fibreCable);
    const run = fc.tuple(copperCable, pieces).map(([first, rest]) => [first, ...rest]);
    fc.assert(
      fc.property(run, piece, fc.nat(6), wanted, (pieces, further, at, asked) => {
        const longer = insertedAt(pieces, further, at);
        expect(rated(reachOfRun(longer, asked))).toBeLessThanOrEqual(
          rated(reachOfRun(pieces, asked)),
        );
      }),
      { numRuns: 2000 },
    );
  });

  it('between two modules is never assured of more for a further piece of fibre', () => {
    const cables = fc.array(fc.oneof(fibreCable, join), { minLength: 1, maxLength: 4 });
    // The two of 10 Gb/s that have no figure for the best fibres gain one from a worse piece.
    const phys = Object.keys(fibrePhys).filter((phy) => !/LX4|LRM/.test(phy));
    const phy = fc.constantFrom(...phys).map((name) => pieceOf(`module ${name}`));
    fc.assert(
      fc.property(phy, cables, fibreCable, fc.nat(4), wanted, (end, inner, further, at, asked) => {
        fc.pre(inner.some(({ kind }) => kind === 'fibre'));
        const longer = [end, ...insertedAt(inner, further, at), end];
        expect(rated(reachOfRun(longer, asked))).toBeLessThanOrEqual(
          rated(reachOfRun([end, ...inner, end], asked)),
        );
      }),
      { numRuns: 1000 },
    );
  });

  it('reads the same from either end', () => {
    const run = fc.array(fc.oneof(anyPassive, module), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(run, wanted, (pieces, asked) => {
        const there = reachOfRun(pieces, asked);
        const back = reachOfRun(pieces.toReversed(), asked);
        expect([rated(back), ceiling(back), back?.carriesWanted, back?.lengthMetres]).toEqual([
          rated(there),
          ceiling(there),
          there?.carriesWanted,
          there?.lengthMetres,
        ]);
      }),
      { numRuns: 2000 },
    );
  });

  it('always says why: a piece of its own, and words, unless it carries what was wanted', () => {
    const run = fc.array(fc.oneof(anyPassive, module), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(run, wanted, (pieces, asked) => {
        const reach = reachOfRun(pieces, asked);
        if (reach?.carriesWanted === 'assured') {
          expect(reach.limitedBy).toBeUndefined();
          return;
        }
        expect(pieces[reach?.limitedBy?.pieceIndex ?? -1]).toBeDefined();
        expect(reach?.limitedBy?.reason).toMatch(/^\S.*\S$/);
        expect(JSON.stringify(reach)).not.toMatch(/undefined|NaN|null|Infinity/);
      }),
      { numRuns: 2000 },
    );
  });
});
