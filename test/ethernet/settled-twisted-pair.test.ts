import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linkModes } from '../../src/ethernet/link-modes.ts';
import { highestByList } from './negotiation-oracle.ts';
import { type PortSetting, parallelDetection, type SettledLink } from './settled-twisted-pair.ts';
import { modeNamed, someNames } from './twisted-pair-modes.ts';

const auto = (...names: readonly string[]): PortSetting => ({
  auto: true,
  offers: linkModes(names.map(modeNamed)),
});
const forced = (speedMbps: number, duplex: 'full' | 'half'): PortSetting => ({
  auto: false,
  speedMbps,
  duplex,
});
const usual = auto(
  '1000BASE-T full',
  '100BASE-TX full',
  '100BASE-TX half',
  '10BASE-T full',
  '10BASE-T half',
);
const by = (
  how: 'negotiation' | 'parallel-detection' | 'settings',
  speedMbps: number,
  ...duplexes: ['full' | 'half', 'full' | 'half']
): SettledLink => ({ kind: 'linked', speedMbps, duplexes, by: how });
const noLink = (why: 'no-common-mode' | 'speeds-differ'): SettledLink => ({ kind: 'no-link', why });
const open = (why: 'forced-speed' | 'no-half-duplex'): SettledLink => ({
  kind: 'not-defined',
  why,
});

/** IEEE 802.3 28.2.3.1 (secondary source) unless the row says otherwise. */
const rows: readonly (readonly [string, PortSetting, PortSetting, SettledLink])[] = [
  ['auto against auto', usual, usual, by('negotiation', 1000, 'full', 'full')],
  [
    'auto against auto with nothing in common',
    usual,
    auto('10GBASE-T full'),
    noLink('no-common-mode'),
  ],
  [
    'auto against forced 100 full: half meets full',
    usual,
    forced(100, 'full'),
    by('parallel-detection', 100, 'half', 'full'),
  ],
  [
    'auto against forced 100 half: consistent',
    usual,
    forced(100, 'half'),
    by('parallel-detection', 100, 'half', 'half'),
  ],
  [
    'auto against forced 10 full',
    usual,
    forced(10, 'full'),
    by('parallel-detection', 10, 'half', 'full'),
  ],
  [
    'auto without 100 against forced 100',
    auto('1000BASE-T full', '10BASE-T half'),
    forced(100, 'full'),
    noLink('no-common-mode'),
  ],
  [
    'auto with 100 full alone (from memory)',
    auto('100BASE-TX full'),
    forced(100, 'full'),
    open('no-half-duplex'),
  ],
  [
    'auto against forced 1000, not standard on copper',
    usual,
    forced(1000, 'full'),
    open('forced-speed'),
  ],
  ['auto against forced 10000', usual, forced(10_000, 'full'), open('forced-speed')],
  ['forced alike', forced(100, 'full'), forced(100, 'full'), by('settings', 100, 'full', 'full')],
  [
    'forced to two duplexes',
    forced(100, 'full'),
    forced(100, 'half'),
    by('settings', 100, 'full', 'half'),
  ],
  ['forced to two speeds', forced(10, 'full'), forced(100, 'full'), noLink('speeds-differ')],
  ['forced to 100 and 1000', forced(100, 'full'), forced(1000, 'full'), noLink('speeds-differ')],
  [
    'both forced to 1000, not standard on copper',
    forced(1000, 'full'),
    forced(1000, 'full'),
    open('forced-speed'),
  ],
];

function turned(link: SettledLink): SettledLink {
  return link.kind === 'linked'
    ? { ...link, duplexes: [link.duplexes[1], link.duplexes[0]] }
    : link;
}

describe('parallelDetection', () => {
  it.each(rows)('%s', (_, first, second, link) => {
    expect(parallelDetection(first, second)).toEqual(link);
    expect(parallelDetection(second, first)).toEqual(turned(link));
  });

  const setting = fc.oneof(
    someNames.map((names) => ({ names, setting: auto(...names) })),
    fc
      .tuple(fc.constantFrom(10, 100, 1000), fc.constantFrom('full' as const, 'half' as const))
      .map(([speedMbps, duplex]) => ({
        names: [] as string[],
        setting: forced(speedMbps, duplex),
      })),
  );

  it('is the same link from either side', () => {
    fc.assert(
      fc.property(setting, setting, (a, b) => {
        const here = parallelDetection(a.setting, b.setting);
        expect(parallelDetection(b.setting, a.setting)).toEqual(turned(here));
      }),
    );
  });

  it('differs in duplex only where a port is forced', () => {
    fc.assert(
      fc.property(setting, setting, (a, b) => {
        const link = parallelDetection(a.setting, b.setting);
        if (link.kind !== 'linked' || link.duplexes[0] === link.duplexes[1]) return;
        expect(link.by).not.toBe('negotiation');
        expect(link.speedMbps).toBeLessThanOrEqual(100);
        expect(link.duplexes.toSorted()).toEqual(['full', 'half']);
      }),
    );
  });

  it('negotiates by the list of 28B.3', () => {
    fc.assert(
      fc.property(someNames, someNames, (a, b) => {
        const link = parallelDetection(auto(...a), auto(...b));
        const best = highestByList(a, b);
        const mode = best === undefined ? undefined : modeNamed(best);
        expect(link).toEqual(
          mode === undefined
            ? noLink('no-common-mode')
            : by('negotiation', mode.speedMbps, mode.duplex, mode.duplex),
        );
      }),
    );
  });
});
