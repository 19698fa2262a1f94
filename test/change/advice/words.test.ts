import { describe, expect, it } from 'vitest';
import { adviceFor } from '../../../src/change/advice/advice-for.ts';
import type { AdviceContext } from '../../../src/change/advice/types.ts';
import type { ChangeStep } from '../../../src/change/types.ts';
import { makeIntent } from '../../site/builders.ts';
import { context, type Given, step } from './samples.ts';

const [fast] = makeIntent({
  nodes: { vault: {}, 'quay-sw': {} },
  links: { 'vault:eth4 - quay-sw:xg2': { speedMbps: 10_000 } },
}).links;
if (fast === undefined) throw new Error('one link');

const onSwitch = { systemKind: 'snmp', portName: 'xg2' };
const switchStep = { node: 'quay-sw', port: 'quay-sw:xg2', from: 1518, to: 9216 };

function adviceOf(steps: Given<ChangeStep>, contexts: Given<AdviceContext> = {}) {
  return adviceFor(step(steps), context(contexts));
}

describe('words', () => {
  it.each([
    [
      'switch, MTU',
      switchStep,
      onSwitch,
      'set the largest frame of port xg2 of quay-sw to 9216 bytes, as the node itself counts it; some take it for the whole device only',
      'set the largest frame of port xg2 of quay-sw to 1518 bytes, as the node itself counts it; some take it for the whole device only',
      'an audit reads the MTU of quay-sw:xg2 as 9216 bytes (before: 1518 bytes)',
    ],
    [
      'whole switch that was not read',
      { node: 'loft-sw', port: undefined, from: undefined, to: 9216 },
      { systemKind: undefined, portName: undefined },
      'set the largest frame of loft-sw to 9216 bytes, as the node itself counts it; some take it for the whole device only',
      'what it was before is not known: read and write down the MTU of loft-sw before the step',
      'an audit reads the MTU of loft-sw as 9216 bytes (not known before)',
    ],
    [
      'host, MTU',
      {},
      {},
      'set the MTU of port eth4 of vault to 9000 bytes',
      'set the MTU of port eth4 of vault to 1500 bytes; take out again what keeps the new value over a restart',
      'an audit reads the MTU of vault:eth4 as 9000 bytes (before: 1500 bytes)',
    ],
    [
      'speed',
      { setting: 'speed', from: 100, to: 2500 },
      {},
      'let port eth4 of vault offer 2.5 Gb/s alone, negotiation on where it was on',
      'how port eth4 of vault chose its mode before was not read: write down its negotiation, speed and duplex before the step; take out again what keeps the new value over a restart',
      'an audit reads speed of vault:eth4 as 2.5 Gb/s (before: 100 Mb/s)',
    ],
    [
      'negotiation',
      { setting: 'auto-negotiation', from: false, to: true },
      {},
      'switch auto-negotiation of port eth4 of vault on, and at the other end alike',
      'switch auto-negotiation of port eth4 of vault off, and at the other end alike; take out again what keeps the new value over a restart',
      'an audit reads auto-negotiation of vault:eth4 as on (before: off)',
    ],
    [
      'a cord',
      { setting: 'link', from: 'quay-sw:g7', to: 'quay-sw:xg2', disturbs: 'link-moved' },
      {},
      'move the cord of vault:eth4 from quay-sw:g7 to quay-sw:xg2',
      'move the cord of vault:eth4 from quay-sw:xg2 to quay-sw:g7',
      'an audit finds the link of vault:eth4 up, its neighbour quay-sw:xg2, at a speed that is looked at',
    ],
    [
      'a cord with a declared speed',
      {
        setting: 'link',
        from: 'quay-sw:g7',
        to: 'quay-sw:xg2',
        disturbs: 'link-moved',
        cord: { lays: fast, leaving: [] },
      },
      {},
      'move the cord of vault:eth4 from quay-sw:g7 to quay-sw:xg2',
      'move the cord of vault:eth4 from quay-sw:xg2 to quay-sw:g7',
      'an audit finds the link of vault:eth4 up, its neighbour quay-sw:xg2, at a speed that is looked at: declared 10 Gb/s',
    ],
    [
      'a new node',
      { setting: 'node', port: undefined, node: 'quay-sw', from: undefined, to: 'dune-sw' },
      {},
      'put dune-sw in the place of quay-sw, with the settings of the old one, those kept outside its saved configuration among them',
      'put the old device back in the place of quay-sw, with its saved settings: keep it at hand until the check has held',
      'an audit reads quay-sw anew, dune-sw, with the link of every port up',
    ],
  ] as const)('%s', (_name, steps, contexts, words, undoWords, check) => {
    const advice = adviceOf(steps, contexts);
    expect([advice.words, advice.undoWords, advice.check]).toEqual([words, undoWords, check]);
  });

  it.each([
    [
      'all its modes',
      { autoNegotiation: true },
      'let port eth4 of vault negotiate with all its modes again',
    ],
    [
      'some of its modes',
      {
        autoNegotiation: true,
        advertisedModes: ['100baseT/Full', '1000baseT/Full'],
        supportedModes: ['100baseT/Full', '1000baseT/Full', '10000baseT/Full'],
      },
      'let port eth4 of vault offer again what it offered: 100baseT/Full, 1000baseT/Full',
    ],
    [
      'a forced mode',
      { autoNegotiation: false, speedMbps: 100, duplex: 'full' },
      'force port eth4 of vault to 100 Mb/s full duplex again, negotiation off',
    ],
  ] as const)('go back to %s', (_name, port, words) => {
    const advice = adviceOf({ setting: 'speed', from: 100, to: 1000 }, { port });
    expect(advice.undoWords.split('; ')).toEqual([
      words,
      'take out again what keeps the new value over a restart',
    ]);
  });

  it('hold no control sign of a device', () => {
    const { words } = adviceOf({}, { portName: 'eth4\u001b[2J\u202e' });
    expect(words).toBe('set the MTU of port eth4 [2J of vault to 9000 bytes');
  });
});

describe('cautions', () => {
  const vlan = { name: 'bond0.20', facts: { mtuBytes: 9000 } };
  it.each([
    ['a bounce', {}, {}, /^the link goes down for a moment: storage sessions/],
    ['a reload', { ...switchStep, disturbs: 'node-reload' }, onSwitch, /only after a restart/],
    ['a switch', { ...switchStep, disturbs: 'nothing' }, onSwitch, /^some switches take/],
    ['light', { setting: 'link', disturbs: 'link-moved' }, {}, /^never look into a port/],
    ['the way in', {}, { carriesWayIn: true }, /never cut the only way in; start the job/],
    ['a way in that is not known', {}, { carriesWayIn: undefined }, /is not known: have its cons/],
    ['IPv6', { to: 1200 }, {}, /^below 1280 bytes/],
    ['a driver', {}, { port: { mtuMaxBytes: 4082 } }, /at most 4082 bytes: .* refused$/],
    [
      'a smaller layer below',
      {},
      { port: { kind: 'vlan' }, lowerPorts: [{ name: 'eth4', facts: { mtuBytes: 1500 } }] },
      /^it stands on eth4 with a smaller MTU now: raise what is below first/,
    ],
    [
      'a larger layer above',
      { from: 9000, to: 1500 },
      { upperPorts: [vlan] },
      /^bond0\.20 above it is lowered with it or loses large frames/,
    ],
    ['a bond', {}, { port: { kind: 'bond' } }, /^its members should take the MTU over/],
    ['a member', {}, { port: { aggregate: 'bond0' } }, /^it is a member of bond0: set the MTU/],
    ['a bridge', {}, { port: { kind: 'bridge' } }, /^a bridge whose MTU is set by hand/],
    [
      'a bridge above',
      { from: 1500, to: 9000 },
      { upperPorts: [{ name: 'br0', facts: { kind: 'bridge', mtuBytes: 1500 } }] },
      /^br0 above it should follow its smallest member, unless its own MTU was once set by hand/,
    ],
    ['macOS', {}, { systemKind: 'macos', portName: 'en7' }, /^macOS keeps the setting with the/],
    [
      'a driver setting that was not read',
      {},
      { systemKind: 'windows', portName: 'Ethernet 3' },
      /^the driver's present value was not read/,
    ],
    ['one forced end', { setting: 'speed', to: 1000 }, {}, /^set both ends alike/],
    ['negotiation off', { setting: 'auto-negotiation', to: false }, {}, /1000BASE-T and faster/],
    ['a name', {}, { portName: 'eth4;' }, /^no command is given for port eth4; of vault/],
  ] as const)('name %s', (_name, steps, contexts, words) => {
    const { cautions } = adviceOf(steps, contexts);
    expect(cautions.filter((caution) => words.test(caution))).toHaveLength(1);
  });

  it('are silent on what is harmless', () => {
    expect(adviceOf({ disturbs: 'nothing' }, { carriesWayIn: false }).cautions).toEqual([
      'many drivers take the link down for a moment when the MTU changes',
    ]);
  });
});
