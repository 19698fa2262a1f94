import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseEthtoolModes } from '../../src/ethernet/ethtool-mode.ts';
import type { OfferedModes } from '../../src/ethernet/link-mode.ts';
import { linkModes } from '../../src/ethernet/link-modes.ts';
import { parseMauCapBits } from '../../src/ethernet/mau-cap-bits.ts';
import type { SideLimit, SideModes } from '../../src/ethernet/side-limit.ts';
import { type SpeedCause, speedCause } from '../../src/ethernet/speed-cause.ts';
import { highestByList } from './negotiation-oracle.ts';
import { modeNamed, nameOf, someNames } from './twisted-pair-modes.ts';

const ethtool = (...names: readonly string[]) => parseEthtoolModes(names);
const mau = (...octets: readonly number[]) => parseMauCapBits(Uint8Array.from(octets));
const offers = (advertised: OfferedModes): SideModes => ({ advertised });

const to1000 = ethtool('100baseT/Half', '100baseT/Full', '1000baseT/Full');
const to10000 = ethtool('1000baseT/Full', '2500baseT/Full', '5000baseT/Full', '10000baseT/Full');
const no2500 = ethtool('1000baseT/Full', '10000baseT/Full');
const only100 = ethtool('100baseT/Full');
const optics = ethtool('10000baseSR/Full', '1000baseX/Full');

const at1000 = modeNamed('1000BASE-T full');
const at10000 = modeNamed('10GBASE-T full');
const limit = (side: SideLimit['side'], by: SideLimit['by']) => ({ side, by });

interface Case {
  readonly why: string;
  readonly speedMbps: number;
  readonly wantedMbps?: number;
  readonly local: SideModes;
  readonly partner: SideModes;
  readonly cause: SpeedCause;
}

/** Downshift against restricted advertisement: common practice. */
const cases: readonly Case[] = [
  {
    why: 'one broken pair: both offer 1000, 100 in use',
    speedMbps: 100,
    local: offers(to1000),
    partner: offers(to1000),
    cause: { kind: 'downshift', highest: at1000, limits: [] },
  },
  {
    why: 'both offer 10000, 2500 in use',
    speedMbps: 2500,
    wantedMbps: 10_000,
    local: offers(to10000),
    partner: offers(to10000),
    cause: { kind: 'downshift', highest: at10000, limits: [] },
  },
  {
    why: 'a downshift on a link that a side would limit anyway',
    speedMbps: 100,
    wantedMbps: 10_000,
    local: offers(to10000),
    partner: { advertised: to1000, capable: to1000 },
    cause: { kind: 'downshift', highest: at1000, limits: [limit('partner', 'capability')] },
  },
  {
    why: 'the partner is set to less than it can do',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: offers(to10000),
    partner: { advertised: to1000, capable: to10000 },
    cause: { kind: 'limited-by', highest: at1000, limits: [limit('partner', 'advertisement')] },
  },
  {
    why: 'the local side cannot do more',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: { advertised: to1000, capable: to1000 },
    partner: offers(to10000),
    cause: { kind: 'limited-by', highest: at1000, limits: [limit('local', 'capability')] },
  },
  {
    why: 'neither offers it, and what they could do is not read',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: offers(to1000),
    partner: offers(to1000),
    cause: {
      kind: 'limited-by',
      highest: at1000,
      limits: [limit('local', 'unread'), limit('partner', 'unread')],
    },
  },
  {
    why: 'a capability list in words not known decides nothing',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: { advertised: to1000, capable: ethtool('1000baseT/Full', 'BIT92') },
    partner: offers(to10000),
    cause: { kind: 'limited-by', highest: at1000, limits: [limit('local', 'unread')] },
  },
  {
    why: 'all that is wanted',
    speedMbps: 10_000,
    wantedMbps: 10_000,
    local: offers(to10000),
    partner: offers(to10000),
    cause: { kind: 'as-negotiated', highest: at10000 },
  },
  {
    why: 'the best in common, nothing declared',
    speedMbps: 1000,
    local: offers(to10000),
    partner: offers(to1000),
    cause: { kind: 'as-negotiated', highest: at1000 },
  },
  {
    why: 'capability bits of both, which have none for 2500',
    speedMbps: 1000,
    local: offers(mau(0, 1, 0, 0)),
    partner: offers(mau(0, 1, 0, 0)),
    cause: { kind: 'as-negotiated', highest: at1000 },
  },
  {
    why: '2500 is wanted, which capability bits cannot say',
    speedMbps: 1000,
    wantedMbps: 2500,
    local: offers(mau(0, 1, 0, 0)),
    partner: offers(mau(0, 1, 0, 0)),
    cause: { kind: 'undetermined', why: 'list-incomplete' },
  },
  {
    why: '10000 is wanted, which capability bits would say',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: offers(to10000),
    partner: offers(mau(0, 1, 0, 0)),
    cause: { kind: 'limited-by', highest: at1000, limits: [limit('partner', 'unread')] },
  },
  {
    why: '10000 is wanted, which two octets of bits cannot say',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: offers(to10000),
    partner: offers(mau(0, 1)),
    cause: { kind: 'undetermined', why: 'list-incomplete' },
  },
  {
    why: 'the local side offers 2500, the partner may',
    speedMbps: 1000,
    local: offers(to10000),
    partner: offers(mau(0, 1, 0, 0)),
    cause: { kind: 'undetermined', why: 'list-incomplete' },
  },
  {
    why: '2500 in use, which neither list can say',
    speedMbps: 2500,
    local: offers(mau(0, 1, 0, 0)),
    partner: offers(mau(0, 1, 0, 0)),
    cause: { kind: 'undetermined', why: 'list-incomplete' },
  },
  {
    why: 'modes in words not known on both sides',
    speedMbps: 1000,
    local: offers(ethtool('1000baseT/Full', 'BIT92')),
    partner: offers(ethtool('1000baseT/Full', 'BIT92')),
    cause: { kind: 'undetermined', why: 'list-incomplete' },
  },
  {
    why: 'each side offers the wanted speed, in another mode',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: offers(to10000),
    partner: offers(ethtool('1000baseT/Full', '10000baseKR/Full')),
    cause: { kind: 'undetermined', why: 'modes-differ' },
  },
  {
    why: 'a side does not negotiate, so the lists do not count',
    speedMbps: 100,
    local: offers(to1000),
    partner: { advertised: to1000, autoNegotiation: false },
    cause: { kind: 'fixed', sides: ['partner'] },
  },
  {
    why: 'neither side negotiates',
    speedMbps: 100,
    wantedMbps: 1000,
    local: { autoNegotiation: false },
    partner: { autoNegotiation: false },
    cause: { kind: 'fixed', sides: ['local', 'partner'] },
  },
  {
    why: 'no list of the partner',
    speedMbps: 1000,
    local: offers(to10000),
    partner: {},
    cause: { kind: 'no-partner-list' },
  },
  {
    why: 'no list of the partner, and the link runs at the best of the local side',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: { advertised: to1000, capable: to10000 },
    partner: {},
    cause: { kind: 'limited-by', limits: [limit('local', 'advertisement')] },
  },
  {
    why: 'no list of the partner, and less in use than the best of the local side',
    speedMbps: 100,
    wantedMbps: 10_000,
    local: offers(to1000),
    partner: {},
    cause: { kind: 'no-partner-list' },
  },
  {
    why: 'no list of the local side',
    speedMbps: 1000,
    local: { autoNegotiation: true },
    partner: offers(to10000),
    cause: { kind: 'no-local-list' },
  },
  {
    why: 'no list at all',
    speedMbps: 1000,
    wantedMbps: 10_000,
    local: {},
    partner: {},
    cause: { kind: 'no-partner-list' },
  },
  {
    why: 'nothing in common',
    speedMbps: 100,
    local: offers(only100),
    partner: offers(ethtool('1000baseT/Full')),
    cause: { kind: 'empty-common' },
  },
  {
    why: 'faster than anything in common',
    speedMbps: 5000,
    local: offers(no2500),
    partner: offers(to1000),
    cause: { kind: 'above-common', highest: at1000 },
  },
  {
    why: 'optics run at less than both can do: set by hand',
    speedMbps: 1000,
    local: offers(optics),
    partner: offers(optics),
    cause: {
      kind: 'not-negotiated',
      highest: { speedMbps: 10_000, duplex: 'full', medium: 'fibre', phy: '10GBASE-SR' },
    },
  },
  {
    why: 'optics that capability bits cannot name',
    speedMbps: 10_000,
    local: offers(optics),
    partner: offers(mau(0, 0, 0, 0)),
    cause: { kind: 'undetermined', why: 'medium-unknown' },
  },
  {
    why: 'a PHY that may be anything',
    speedMbps: 100,
    local: offers(ethtool('1000baseX/Full')),
    partner: offers(ethtool('1000baseX/Full')),
    cause: { kind: 'undetermined', why: 'medium-unknown' },
  },
];

const other = { local: 'partner', partner: 'local' } as const;

/** The same cause seen from the other end. */
function turned(cause: SpeedCause): SpeedCause {
  const turn = (limits: readonly SideLimit[]) =>
    limits.map(({ side, by }) => limit(other[side], by)).toReversed();
  switch (cause.kind) {
    case 'downshift':
    case 'limited-by':
      return { ...cause, limits: turn(cause.limits) };
    case 'fixed':
      return { ...cause, sides: cause.sides.map((side) => other[side]).toReversed() };
    case 'no-partner-list':
      return { kind: 'no-local-list' };
    case 'no-local-list':
      return { kind: 'no-partner-list' };
    default:
      return cause;
  }
}

describe('speedCause', () => {
  it.each(cases)('$why', ({ why: _, cause, ...evidence }) => {
    expect(speedCause(evidence)).toEqual(cause);
  });

  // With no list at all there is one answer for both ends.
  const sided = cases.filter(({ why }) => why !== 'no list at all');
  it.each(sided)('$why, from the other end', ({ why: _, cause, local, partner, ...rest }) => {
    expect(speedCause({ ...rest, local: partner, partner: local })).toEqual(turned(cause));
  });
});

const speeds = fc.constantFrom(10, 100, 1000, 2500, 5000, 10_000, 25_000, 40_000);
const complete = (names: readonly string[]): OfferedModes => ({
  modes: linkModes(names.map(modeNamed)),
  aside: [],
  silentMbps: [],
});
const speedOf = (name: string) => modeNamed(name).speedMbps;

/** The rule in words, slowly, over names; for whole lists of twisted-pair modes. */
function kindByWords(local: string[], partner: string[], used: number, wanted: number): string {
  const best = highestByList(local, partner);
  if (best === undefined) return 'empty-common';
  if (speedOf(best) > used) return 'downshift';
  if (speedOf(best) < used) return 'above-common';
  if (wanted <= used) return 'as-negotiated';
  const lacks = [local, partner].filter((names) => names.every((name) => speedOf(name) < wanted));
  return lacks.length > 0 ? 'limited-by' : 'undetermined';
}

describe('speedCause over any lists', () => {
  it('says what the rule in words says', () => {
    fc.assert(
      fc.property(someNames, someNames, speeds, speeds, (a, b, speedMbps, wantedMbps) => {
        const cause = speedCause({
          speedMbps,
          wantedMbps,
          local: offers(complete(a)),
          partner: offers(complete(b)),
        });
        expect(cause.kind).toBe(kindByWords(a, b, speedMbps, wantedMbps));
        if ('highest' in cause && cause.highest !== undefined)
          expect(nameOf(cause.highest)).toBe(highestByList(a, b));
      }),
      { numRuns: 2000 },
    );
  });

  it('names a side only where that side lacks the wanted speed', () => {
    fc.assert(
      fc.property(someNames, someNames, speeds, speeds, (a, b, speedMbps, wantedMbps) => {
        const cause = speedCause({
          speedMbps,
          wantedMbps,
          local: offers(complete(a)),
          partner: offers(complete(b)),
        });
        const named = 'limits' in cause ? cause.limits.map(({ side }) => side) : [];
        for (const side of named)
          expect(Math.max(0, ...(side === 'local' ? a : b).map(speedOf))).toBeLessThan(wantedMbps);
      }),
      { numRuns: 500 },
    );
  });

  it('takes no accusation back when a silent list turns out to hold more', () => {
    const silent = fc.subarray([2500, 5000, 10_000]);
    fc.assert(
      fc.property(
        fc.tuple(someNames, silent),
        fc.tuple(someNames, silent),
        fc.tuple(speeds, speeds),
        ([a, muteA], [b, muteB], [speedMbps, wantedMbps]) => {
          const seen = (names: readonly string[], silentMbps: readonly number[]) => ({
            ...complete(names.filter((name) => !silentMbps.includes(speedOf(name)))),
            silentMbps,
          });
          const said = speedCause({
            speedMbps,
            wantedMbps,
            local: offers(seen(a, muteA)),
            partner: offers(seen(b, muteB)),
          });
          const truth = kindByWords(a, b, speedMbps, wantedMbps);
          if (['downshift', 'empty-common', 'above-common'].includes(said.kind))
            expect(truth).toBe(said.kind);
          // More may turn out to be in common, yet a side that is named has no such speed.
          const named = 'limits' in said ? said.limits.map(({ side }) => side) : [];
          for (const side of named)
            expect((side === 'local' ? a : b).map(speedOf)).not.toContain(wantedMbps);
        },
      ),
      { numRuns: 3000 },
    );
  });
});
