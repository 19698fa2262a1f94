import { describe, expect, it } from 'vitest';
import { rehearse } from '../../src/change/rehearse.ts';
import { rehearsalStatus } from '../../src/report/rehearsal-status.ts';
import { planned, type TwoSwitchesSketch, twoSwitches } from './two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';
const modes = (...speeds: readonly number[]) => speeds.map((speed) => `${speed}baseT/Full`);

function remarksOf(text: string, eth4 = {}, more: Partial<TwoSwitchesSketch> = {}) {
  const made = twoSwitches({
    hosts: 9000,
    switches: 9216,
    declared: 9000,
    eth4: { autoNegotiation: true, supportedModes: modes(1000, 10_000), ...eth4 },
    ...more,
  });
  const { intent } = made;
  const unread = new Set(intent.nodes.flatMap((n) => (n.unread === undefined ? [] : [n.name])));
  const survey = {
    ...made.survey,
    nodes: made.survey.nodes.filter(({ node }) => !unread.has(node)),
  };
  const told = rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
  const lines = told.remarks.filter(({ kind }) => kind !== 'caution');
  return {
    lines: lines.map(({ kind, on, what }) => `${kind}: ${on} ${what}`),
    steps: (told.lines ?? []).map((each) => each.map(({ kind }) => kind).join()),
    words: (told.order?.steps ?? []).map(({ from, to }) => `${String(from)} to ${String(to)}`),
    status: rehearsalStatus(told, 'notice'),
  };
}

describe('a link that is set anew', () => {
  // Two fixed ends of different speeds never agree (IEEE 802.3, 28.2.3: nothing is negotiated).
  it('is impossible where its ends are set apart', () => {
    const text = `ports:
  vault:eth4: { speed: 1G, negotiate: false }
  loft-sw:xg3: { speed: 10G, negotiate: false }`;
    expect(remarksOf(text)).toMatchObject({
      lines: ['impossible: loft-sw:xg3 comes to no link: its ends are set to 1000 and 10000 Mb/s'],
      status: 1,
    });
  });

  it('is not known where nothing tells whether the other end negotiates, and said once', () => {
    const text = 'links: { "loft-sw:xg3 - vault:eth4": { speed: 1G } }';
    expect(remarksOf(text)).toMatchObject({
      lines: [
        'unknown: loft-sw:xg3 comes to a speed and duplex that cannot be foretold: whether the other end negotiates is not known',
      ],
      status: 2,
    });
  });

  // IEEE 802.3, clause 44: 10 Gb/s is full duplex alone.
  it.each([
    [
      'above 1 Gb/s',
      '{ speed: 10G, duplex: half }',
      'cannot run in half duplex at 10000 Mb/s: there is none above 1000 Mb/s (IEEE 802.3, clauses 44 and 125)',
    ],
    [
      'that it does not list',
      '{ speed: 1G, duplex: half }',
      'cannot run in half duplex at 1000 Mb/s: it can do that speed in full duplex only',
    ],
  ])('is impossible in half duplex %s', (_, line, what) => {
    expect(remarksOf(`ports: { "vault:eth4": ${line} }`).lines).toContain(
      `impossible: vault:eth4 ${what}`,
    );
  });

  it('is impossible for what has no line of its own', () => {
    expect(remarksOf('ports: { "vault:bond0": { speed: 1G } }').lines).toContain(
      'impossible: vault:bond0 has no speed, duplex or negotiation of its own to set: it is an aggregate',
    );
  });

  it('needs no word where both ends run at that already', () => {
    const text = 'ports: { "vault:eth4": { negotiate: true } }';
    expect(remarksOf(text, { autoNegotiation: false, speedMbps: 10_000 }).status).not.toBe(1);
  });
});

describe('an end that is fixed by hand', () => {
  const heard = { partnerAutoNegotiation: true };
  const forced = 'ports: { "vault:eth4": { speed: 100M, duplex: full, negotiate: false } }';
  const port = (partnerModes: string[]) => ({
    ...{ ...heard, partnerModes, speedMbps: 100, duplex: 'half' },
    supportedModes: ['100baseT/Full', '100baseT/Half'],
  });
  const unread = { intent: { nodes: { 'loft-sw': { unread: 'switch' } } } } as const;

  // IEEE 802.3, 28.2.3.1: parallel detection at the end that negotiates comes to half duplex.
  it('meets half duplex at one that negotiates and that nobody reads', () => {
    const { lines, status } = remarksOf(forced, port(['100baseT/Half']), unread);
    expect(lines).toContainEqual(
      expect.stringContaining(
        'impossible: vault:eth4 comes to full duplex against half duplex at loft-sw:xg3',
      ),
    );
    expect(status).toBe(1);
  });

  it('may meet half duplex at one that offers full alone, and that nobody sets', () => {
    const { lines, status } = remarksOf(forced, port(['100baseT/Full']), unread);
    expect(lines).toContainEqual(expect.stringContaining('unknown: vault:eth4 comes to'));
    expect(lines).toContainEqual(expect.stringContaining('unknown: loft-sw:xg3 is set by nobody'));
    expect(status).toBe(2);
  });

  it('is no matter where both run in half duplex', () => {
    const text = 'ports: { "vault:eth4": { speed: 100M, duplex: half, negotiate: false } }';
    const { lines } = remarksOf(text, port(['100baseT/Half']), unread);
    expect(lines.filter((line) => line.startsWith('impossible'))).toEqual([]);
  });

  it('names in its words what was so already, since one command says all of it', () => {
    const { words } = remarksOf(forced, port(['100baseT/Half']), unread);
    expect(words).toEqual([
      'negotiation on, 100 Mb/s, half duplex to negotiation off, 100 Mb/s, full duplex',
    ]);
    const short = 'ports: { "vault:eth4": { speed: 100M, negotiate: false } }';
    expect(remarksOf(short, port(['100baseT/Half']), unread).words).toEqual([
      'negotiation on, 100 Mb/s, half duplex to negotiation off, 100 Mb/s, half duplex',
    ]);
  });

  // IEEE 802.3, 28D and 40.5.1: copper of 1 Gb/s and more needs negotiation.
  it('is told as not known after each step of fixing 1 Gb/s over copper at both ends', () => {
    const copper = { supportedModes: modes(1000, 10_000), autoNegotiation: true };
    const text = 'links: { "loft-sw:xg3 - vault:eth4": { speed: 1G, negotiate: false } }';
    const { steps, lines, status } = remarksOf(text, copper);
    expect(steps).toEqual(['unknown', 'unknown']);
    expect(lines).toContainEqual(expect.stringContaining('cannot be foretold'));
    expect(status).toBe(2);
  });
});
