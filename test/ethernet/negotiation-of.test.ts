import { describe, expect, it } from 'vitest';
import type { Medium } from '../../src/ethernet/link-mode.ts';
import { type Negotiation, negotiationOf } from '../../src/ethernet/negotiation-of.ts';

const unknown: Negotiation = { clause: 'unknown' };
const none = (...byHand: Extract<Negotiation, { clause: 'none' }>['byHand'][number][]) =>
  ({ clause: 'none', byHand }) as const;
const by28 = (
  required: boolean,
  ...agrees: Extract<Negotiation, { clause: 28 | 37 | 73 }>['agrees'][number][]
): Negotiation => ({ clause: 28, agrees, required });
const by37: Negotiation = { clause: 37, agrees: ['duplex', 'pause'], required: false };
const by73: Negotiation = { clause: 73, agrees: ['speed', 'pause'], required: true };
const by73fec: Negotiation = { clause: 73, agrees: ['speed', 'pause', 'fec'], required: true };

type Row = readonly [string, Medium, number, Negotiation];

describe('negotiationOf', () => {
  const rows: readonly Row[] = [
    ['10BASE-T', 'twisted-pair', 10, by28(false, 'speed', 'duplex', 'pause')],
    ['100BASE-TX', 'twisted-pair', 100, by28(false, 'speed', 'duplex', 'pause')],
    [
      '1000BASE-T (secondary source)',
      'twisted-pair',
      1000,
      by28(true, 'speed', 'duplex', 'pause', 'master-slave'),
    ],
    ['2.5GBASE-T', 'twisted-pair', 2500, by28(true, 'speed', 'pause', 'master-slave')],
    ['5GBASE-T', 'twisted-pair', 5000, by28(true, 'speed', 'pause', 'master-slave')],
    ['10GBASE-T', 'twisted-pair', 10_000, by28(true, 'speed', 'pause', 'master-slave')],
    [
      '25GBASE-T (from memory)',
      'twisted-pair',
      25_000,
      by28(true, 'speed', 'pause', 'master-slave'),
    ],
    [
      '40GBASE-T (from memory)',
      'twisted-pair',
      40_000,
      by28(true, 'speed', 'pause', 'master-slave'),
    ],
    ['no twisted pair of 100 Gb/s', 'twisted-pair', 100_000, unknown],
    ['10BASE-FL (from memory)', 'fibre', 10, none('speed', 'duplex', 'pause')],
    ['100BASE-FX (from memory)', 'fibre', 100, none('speed', 'duplex', 'pause')],
    ['1000BASE-SX (secondary source)', 'fibre', 1000, by37],
    ['2.5 Gb/s optics', 'fibre', 2500, unknown],
    ['10GBASE-R optics (from memory)', 'fibre', 10_000, none('speed', 'pause')],
    ['25GBASE-SR (from memory)', 'fibre', 25_000, none('speed', 'pause', 'fec')],
    ['40GBASE-SR4 (from memory)', 'fibre', 40_000, none('speed', 'pause')],
    ['100GBASE-SR4 (from memory)', 'fibre', 100_000, none('speed', 'pause', 'fec')],
    ['1000BASE-CX (from memory)', 'direct-attach', 1000, by37],
    ['SFP+ direct attach (from memory)', 'direct-attach', 10_000, none('speed', 'pause')],
    ['25GBASE-CR (from memory)', 'direct-attach', 25_000, by73fec],
    ['40GBASE-CR4 (from memory)', 'direct-attach', 40_000, by73fec],
    ['100GBASE-CR4 (from memory)', 'direct-attach', 100_000, by73fec],
    ['no direct attach of 2.5 Gb/s', 'direct-attach', 2500, unknown],
    ['1000BASE-KX (from memory)', 'backplane', 1000, by73],
    ['2.5GBASE-KX (from memory)', 'backplane', 2500, by73],
    ['5GBASE-KR (from memory)', 'backplane', 5000, by73],
    ['10GBASE-KR (from memory)', 'backplane', 10_000, by73fec],
    ['25GBASE-KR (from memory)', 'backplane', 25_000, by73fec],
    ['no backplane of 100 Mb/s', 'backplane', 100, unknown],
    ['a medium not known', 'unknown', 10_000, unknown],
    ['a speed that is none', 'fibre', Number.NaN, unknown],
  ];
  it.each(rows)('%s', (_, medium, speedMbps, way) => {
    expect(negotiationOf(medium, speedMbps)).toEqual(way);
  });

  /** EtherLike-MIB (RFC 3635) for 10 Gb/s and more, from memory for 2.5 and 5 Gb/s. */
  it.each([2500, 5000, 10_000, 25_000, 40_000, 100_000])(
    'has no duplex to settle at %i Mb/s',
    (speedMbps) => {
      for (const medium of ['twisted-pair', 'fibre', 'direct-attach', 'backplane'] as const) {
        const way = negotiationOf(medium, speedMbps);
        const settled =
          way.clause === 'unknown' ? [] : way.clause === 'none' ? way.byHand : way.agrees;
        expect(settled).not.toContain('duplex');
      }
    },
  );
});
