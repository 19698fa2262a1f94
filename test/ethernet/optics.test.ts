import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeOptic, type OpticReading, type OpticVerdict } from '../../src/ethernet/optics.ts';

const own = { lowAlarmDbm: -13.9, lowWarningDbm: -11.9, highWarningDbm: 0, highAlarmDbm: 1 };
const warned = 'module warning';
const rows: readonly (readonly [string, OpticReading, OpticVerdict])[] = [
  [
    "within the module's own limits, nearer to the low one",
    { direction: 'rx', powerDbm: -9, thresholds: own },
    { verdict: 'ok', marginDb: 2.9, against: warned, limitDbm: -11.9 },
  ],
  [
    'nearer to the high one',
    { direction: 'rx', powerDbm: -1.5, thresholds: own },
    { verdict: 'ok', marginDb: 1.5, against: warned, limitDbm: 0 },
  ],
  [
    'on the limit is within it',
    { direction: 'rx', powerDbm: -11.9, thresholds: own },
    { verdict: 'ok', marginDb: 0, against: warned, limitDbm: -11.9 },
  ],
  [
    'below the warning',
    { direction: 'rx', powerDbm: -12.4, thresholds: own },
    { verdict: 'low', marginDb: -0.5, against: warned, limitDbm: -11.9 },
  ],
  [
    'above the warning',
    { direction: 'tx', powerDbm: 0.3, thresholds: own },
    { verdict: 'high', marginDb: -0.3, against: warned, limitDbm: 0 },
  ],
  [
    "the module's limits come before those of the standard (10GBASE-SR: -9.9, from memory)",
    { direction: 'rx', powerDbm: -10.9, thresholds: own, phy: '10GBASE-SR' },
    { verdict: 'ok', marginDb: 1, against: warned, limitDbm: -11.9 },
  ],
  [
    'alarms where there are no warnings',
    { direction: 'rx', powerDbm: -14, thresholds: { lowAlarmDbm: -13.9, highAlarmDbm: 1 } },
    { verdict: 'low', marginDb: -0.1, against: 'module alarm', limitDbm: -13.9 },
  ],
  [
    '10GBASE-SR receives from -9.9 dBm (from memory)',
    { direction: 'rx', powerDbm: -10.4, phy: '10GBASE-SR' },
    { verdict: 'low', marginDb: -0.5, against: 'standard', limitDbm: -9.9 },
  ],
  [
    '10GBASE-LR sends from -8.2 dBm (secondary source)',
    { direction: 'tx', powerDbm: -8.4, phy: '10GBASE-LR' },
    { verdict: 'low', marginDb: -0.2, against: 'standard', limitDbm: -8.2 },
  ],
  [
    '10GBASE-ER may send 4 dBm and receive -1 (from memory): sent',
    { direction: 'tx', powerDbm: 2, phy: '10GBASE-ER' },
    { verdict: 'ok', marginDb: 2, against: 'standard', limitDbm: 4 },
  ],
  [
    '10GBASE-ER may send 4 dBm and receive -1 (from memory): received',
    { direction: 'rx', powerDbm: 2, phy: '10GBASE-ER' },
    { verdict: 'high', marginDb: -3, against: 'standard', limitDbm: -1 },
  ],
  [
    'microwatts: 36.3 µW is -14.4 dBm',
    { direction: 'rx', powerMicrowatts: 36.3, phy: '10GBASE-LR' },
    { verdict: 'ok', marginDb: 0, against: 'standard', limitDbm: -14.4 },
  ],
  [
    'a low limit of the module, the high one of the standard',
    { direction: 'rx', powerDbm: -0.5, thresholds: { lowWarningDbm: -12 }, phy: '10GBASE-SR' },
    { verdict: 'high', marginDb: -0.5, against: 'standard', limitDbm: -1 },
  ],
  [
    'one limit alone accuses',
    { direction: 'rx', powerDbm: -13, thresholds: { lowWarningDbm: -12 } },
    { verdict: 'low', marginDb: -1, against: warned, limitDbm: -12 },
  ],
  [
    'one limit alone does not acquit',
    { direction: 'rx', powerDbm: -11, thresholds: { lowWarningDbm: -12 } },
    { verdict: 'unknown', marginDb: 1, against: warned, limitDbm: -12 },
  ],
  [
    '-40 dBm is no light',
    { direction: 'rx', powerDbm: -40, thresholds: own },
    { verdict: 'no-light' },
  ],
  [
    'minus infinity is no light',
    { direction: 'rx', powerDbm: Number.NEGATIVE_INFINITY, phy: '10GBASE-SR' },
    { verdict: 'no-light' },
  ],
  ['0 µW is no light', { direction: 'tx', powerMicrowatts: 0 }, { verdict: 'no-light' }],
  ['0.1 µW is -40 dBm', { direction: 'rx', powerMicrowatts: 0.1 }, { verdict: 'no-light' }],
  ['no power', { direction: 'rx', thresholds: own }, { verdict: 'unknown' }],
  ['no limits and no PHY', { direction: 'rx', powerDbm: -5 }, { verdict: 'unknown' }],
  [
    'a PHY without a window',
    { direction: 'rx', powerDbm: -5, phy: '10GBASE-T' },
    { verdict: 'unknown' },
  ],
  [
    'a negative power',
    { direction: 'rx', powerMicrowatts: -1, thresholds: own },
    { verdict: 'unknown' },
  ],
  ['no number', { direction: 'rx', powerDbm: Number.NaN, thresholds: own }, { verdict: 'unknown' }],
  [
    'a monitor of all ones, 6.5535 mW (SFF-8472, from memory)',
    { direction: 'rx', powerMicrowatts: 6553.5, thresholds: own },
    { verdict: 'unknown' },
  ],
  ['the same in dBm', { direction: 'rx', powerDbm: 8.16, thresholds: own }, { verdict: 'unknown' }],
  [
    'limits all alike are none',
    {
      direction: 'rx',
      powerDbm: -5,
      thresholds: { lowAlarmDbm: 0, lowWarningDbm: 0, highWarningDbm: 0, highAlarmDbm: 0 },
    },
    { verdict: 'unknown' },
  ],
  [
    'limits that cross are none, and the standard stands in (10GBASE-SR, from memory)',
    {
      direction: 'rx',
      powerDbm: -5,
      thresholds: { ...own, lowWarningDbm: -14.5 },
      phy: '10GBASE-SR',
    },
    { verdict: 'ok', marginDb: 4, against: 'standard', limitDbm: -1 },
  ],
  [
    'limits without a value are none',
    {
      direction: 'rx',
      powerDbm: -5,
      thresholds: { ...own, lowAlarmDbm: Number.NEGATIVE_INFINITY },
    },
    { verdict: 'unknown' },
  ],
];

describe('judgeOptic', () => {
  it.each(rows)('%s', (_, reading, verdict) => {
    expect(judgeOptic(reading)).toEqual(verdict);
  });

  it('is low below the window, high above it, ok within: every hundredth of a dB', () => {
    const level = fc.integer({ min: -3999, max: 815 }).map((hundredths) => hundredths / 100);
    fc.assert(
      fc.property(level, (powerDbm) => {
        const expected = powerDbm < -11.9 ? 'low' : powerDbm > 0 ? 'high' : 'ok';
        expect(judgeOptic({ direction: 'rx', powerDbm, thresholds: own }).verdict).toBe(expected);
      }),
    );
  });
});
