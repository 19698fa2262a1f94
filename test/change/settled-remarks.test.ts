import { describe, expect, it } from 'vitest';
import { rehearse } from '../../src/change/rehearse.ts';
import { rehearsalStatus } from '../../src/report/rehearsal-status.ts';
import { planned, twoSwitches } from './two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';
const modes = (...speeds: readonly number[]) => speeds.map((speed) => `${speed}baseT/Full`);

function remarksOf(text: string, eth4 = {}) {
  const { intent, survey } = twoSwitches({
    hosts: 9000,
    switches: 9216,
    declared: 9000,
    eth4: { autoNegotiation: true, supportedModes: modes(1000, 10_000), ...eth4 },
  });
  const told = rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
  const lines = told.remarks.filter(({ kind }) => kind !== 'caution');
  return {
    lines: lines.map(({ kind, on, what }) => `${kind}: ${on} ${what}`),
    status: rehearsalStatus(told, 'notice'),
  };
}

describe('a link that is set anew', () => {
  // Two fixed ends of different speeds never agree (IEEE 802.3, 28.2.3: nothing is negotiated).
  it('is impossible where its ends are set apart', () => {
    const text = `ports:
  vault:eth4: { speed: 1G, negotiate: false }
  loft-sw:xg3: { speed: 10G, negotiate: false }`;
    expect(remarksOf(text)).toEqual({
      lines: ['impossible: loft-sw:xg3 comes to no link: its ends are set to 1000 and 10000 Mb/s'],
      status: 1,
    });
  });

  it('is not known where nothing tells whether the other end negotiates, and said once', () => {
    const text = 'links: { "loft-sw:xg3 - vault:eth4": { speed: 1G } }';
    expect(remarksOf(text)).toEqual({
      lines: [
        'unknown: loft-sw:xg3 comes to a speed and duplex that cannot be foretold: whether the other end negotiates is not known',
      ],
      status: 2,
    });
  });

  it('needs no word where both ends run at that already', () => {
    const text = 'ports: { "vault:eth4": { negotiate: true } }';
    expect(remarksOf(text, { autoNegotiation: false, speedMbps: 10_000 }).status).not.toBe(1);
  });
});
