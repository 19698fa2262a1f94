import fc from 'fast-check';
import { expect, it } from 'vitest';
import { oneDuplexAt } from '../../src/change/line-setting.ts';
import { type LineSetting, type SettledEnd, settleLink } from '../../src/change/settle-link.ts';
import type { LinkMode } from '../../src/ethernet/link-mode.ts';
import { linkModes } from '../../src/ethernet/link-modes.ts';
import {
  type PortSetting,
  parallelDetection,
  type SettledLink,
} from '../ethernet/settled-twisted-pair.ts';
import { modeNamed } from '../ethernet/twisted-pair-modes.ts';

// IEEE 802.3, 28.2.3.1 and 28B.3: the same two settings, once with all that is known of them, once as
// the rehearsal of a change has them.

interface End {
  readonly port: PortSetting;
  readonly line: LineSetting;
}

const speeds = [10, 100, 1000] as const;
const phys = { 10: '10BASE-T', 100: '100BASE-TX', 1000: '1000BASE-T' } as const;
const duplexes = ['full', 'half'] as const;
const medium = 'twisted-pair' as const;

const forced = fc
  .record({ speedMbps: fc.constantFrom(...speeds), duplex: fc.constantFrom(...duplexes) })
  .map(({ speedMbps, duplex }): End => {
    const line = { negotiates: false, onlyMbps: speedMbps, onlyDuplex: duplex, medium } as const;
    return { port: { auto: false, speedMbps, duplex }, line: { ...line, speedsMbps: speeds } };
  });

/** A port that negotiates and was told to offer one speed alone, or to offer all that it can. */
const negotiating = fc
  .record({
    able: fc.subarray(
      speeds.flatMap((speed) => duplexes.map((duplex) => ({ speed, duplex }))),
      { minLength: 1 },
    ),
    only: fc.option(fc.constantFrom(...speeds), { nil: undefined }),
  })
  .map(({ able, only }): End => {
    const modes = linkModes(able.map(({ speed, duplex }) => modeNamed(`${phys[speed]} ${duplex}`)));
    const offers = modes.filter(({ speedMbps }) => only === undefined || speedMbps === only);
    const list = { modes, aside: [], silentMbps: [] };
    return {
      port: { auto: true, offers },
      line: {
        ...{ negotiates: true, speedsMbps: modes.map(({ speedMbps }) => speedMbps), medium },
        oneDuplexAt: oneDuplexAt(list),
        ...(only === undefined ? {} : { onlyMbps: only }),
      },
    };
  });

const end = fc.oneof(forced, negotiating);

function lacksSpeed({ line }: End, { port }: End): boolean {
  return port.auto && line.onlyMbps !== undefined && !port.offers.some(isAt(line.onlyMbps));
}

const isAt = (speed: number) => (mode: LinkMode) => mode.speedMbps === speed;

function expectedOf(link: SettledLink): readonly unknown[] | 'down' | 'unknown' {
  if (link.kind === 'no-link') return 'down';
  if (link.kind === 'not-defined') return 'unknown';
  return link.duplexes.map((duplex) => ({ speedMbps: link.speedMbps, duplex }));
}

function toldOf(ends: readonly SettledEnd[]): readonly unknown[] | 'down' | 'unknown' {
  const [first] = ends;
  if (first !== undefined && 'gap' in first) return first.down ? 'down' : 'unknown';
  return ends.map((each) => ('facts' in each ? each.facts : undefined));
}

it('comes to what the standard has of two ends of which all is known', () => {
  let agreed = 0;
  fc.assert(
    fc.property(end, end, (a, b) => {
      const told = toldOf(settleLink(a.line, b.line));
      // Two that offer several speeds are left to the link itself: nothing is set that would tell.
      const isLeft = a.line.onlyMbps === undefined && b.line.onlyMbps === undefined;
      agreed += Number(!isLeft);
      const expected = isLeft ? 'unknown' : expectedOf(parallelDetection(a.port, b.port));
      // No standard says what a fixed 1 Gb/s comes to, but not with a port that has no such speed.
      const lacks = lacksSpeed(a, b) || lacksSpeed(b, a);
      expect(told).toEqual(expected === 'unknown' && lacks ? 'down' : expected);
    }),
    { numRuns: 2000 },
  );
  expect(agreed).toBeGreaterThan(1000);
});
