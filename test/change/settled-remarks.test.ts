import { describe, expect, it } from 'vitest';
import { rehearse } from '../../src/change/rehearse.ts';
import { rehearsalStatus } from '../../src/report/rehearsal-status.ts';
import { planned, twoSwitches } from './two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';
const modes = (...speeds: readonly number[]) => speeds.map((speed) => `${speed}baseT/Full`);

function remarksOf(text: string, eth4 = {}, unread?: string) {
  const made = twoSwitches({
    hosts: 9000,
    switches: 9216,
    declared: 9000,
    eth4: { autoNegotiation: true, supportedModes: modes(1000, 10_000), ...eth4 },
  });
  const { intent } = made;
  const nodes = made.survey.nodes.filter(({ node }) => node !== unread);
  const survey = { ...made.survey, nodes };
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

  // IEEE 802.3, 28.2.3.1: the end that negotiates finds the speed, and takes half duplex.
  it('forgets the end that nobody reads, and that falls to half duplex', () => {
    const text = 'ports: { "vault:eth4": { speed: 100M, duplex: full, negotiate: false } }';
    const eth4 = {
      supportedModes: modes(100, 1000),
      partnerModes: ['100baseT/Full', '100baseT/Half'],
      partnerAutoNegotiation: true,
    };
    const { lines, status } = remarksOf(text, eth4, 'loft-sw');
    expect(lines).toContain(
      'forgotten: loft-sw:xg3 negotiates, is read by nobody and set by no step: it runs in half duplex then, against full at vault:eth4, and frames are lost in both directions',
    );
    expect(status).toBe(1);
  });

  // IEEE 802.3, clause 44: 10 Gb/s is full duplex alone.
  it.each([
    [
      'above 1 Gb/s',
      '{ duplex: half }',
      'cannot run in half duplex at 10000 Mb/s: none is defined above 1 Gb/s (IEEE 802.3, clause 44)',
    ],
    [
      'that it does not list',
      '{ speed: 1G, duplex: half }',
      'cannot run in half duplex at 1000 Mb/s: it lists full duplex alone',
    ],
  ])('is impossible in half duplex %s', (_, line, what) => {
    expect(remarksOf(`ports: { "vault:eth4": ${line} }`).lines).toContain(
      `impossible: vault:eth4 ${what}`,
    );
  });

  it('is impossible for what has no line of its own', () => {
    expect(remarksOf('ports: { "vault:bond0": { speed: 1G } }').lines).toContain(
      'impossible: vault:bond0 has no speed, duplex or negotiation of its own: it is a bond',
    );
  });

  it('needs no word where both ends run at that already', () => {
    const text = 'ports: { "vault:eth4": { negotiate: true } }';
    expect(remarksOf(text, { autoNegotiation: false, speedMbps: 10_000 }).status).not.toBe(1);
  });
});
