import { describe, expect, it } from 'vitest';
import { rehearse } from '../../src/change/rehearse.ts';
import { paintFor } from '../../src/report/paint.ts';
import { procedureOf } from '../../src/report/procedure-of.ts';
import { stepLines } from '../../src/report/step-lines.ts';
import { planned, twoSwitches } from '../change/two-switches.ts';

/** The link of two-switches between a host of `systemKind` and its switch, both of copper. */
function rehearsed(systemKind: string, line: string) {
  const { intent, survey } = twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
  const copper = {
    ...{ speedMbps: 10_000, duplex: 'full', autoNegotiation: true, operUp: true },
    supportedModes: ['1000baseT full-duplex', '10Gbase-T full-duplex'],
  };
  const nodes = survey.nodes.map((node) => ({
    ...node,
    facts: { ...node.facts, ...(node.node === 'plot-1' ? { systemKind } : {}) },
    ports: node.ports.map((port) => ({ ...port, facts: { ...port.facts, ...copper } })),
  }));
  const read = { ...survey, nodes };
  const text = `links: { "plot-1:en7 - quay-sw:xg2": ${line} }`;
  const now = '2026-11-25T02:00:00.000Z';
  return rehearse({ intent, survey: read, policies: [], now }, planned(text, intent, read));
}

function linesOf(systemKind: string, line: string): string {
  const page = { width: 400, paint: paintFor(false) };
  return stepLines(rehearsed(systemKind, line), page).join('\n');
}

describe('the steps of a rehearsal', () => {
  // networksetup(8): -setMedia takes a medium or autoselect, and none that negotiates one mode.
  it('say why there is no command for negotiating with one mode alone', () => {
    const told = linesOf('macos', '{ speed: 1G, negotiate: true }');
    expect(told).toContain('by hand no command is given for en7: networksetup knows "autoselect"');
    expect(told).not.toContain('type ');
  });

  it('say no such thing where there is a command', () => {
    const told = linesOf('macos', '{ speed: 1G, negotiate: false }');
    expect(told).toContain('type networksetup -setMedia en7 1000baseT full-duplex');
    expect(told).not.toContain('by hand');
  });

  // IEEE 802.3, 28D and 40.5.1: copper of 1 Gb/s and more needs negotiation at both ends.
  it('say after each what a link comes to that cannot be told, in text and procedure', () => {
    const line = '{ speed: 1G, negotiate: false }';
    const doubts = [
      'negotiation is on at one end alone: whether the link comes up is not known',
      'it is off at both ends: whether a link comes up is not known',
    ];
    for (const doubt of doubts) expect(linesOf('linux', line)).toContain(doubt);
    const steps = procedureOf(rehearsed('linux', line), 'hopgauge confirm')?.steps ?? [];
    expect(steps.map(({ expected }, at) => expected[0]?.endsWith(doubts[at] ?? '?'))).toEqual([
      true,
      true,
    ]);
  });
});
