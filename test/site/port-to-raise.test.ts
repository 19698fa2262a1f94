import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { viewNode } from '../../src/site/node-view.ts';
import { portToRaise } from '../../src/site/port-to-raise.ts';
import { makeIntent, makeSurvey } from './builders.ts';

type Ports = Readonly<Record<string, PortReadFacts>>;

function raised(ports: Ports, name: string): string {
  const [declared] = makeIntent({ nodes: { vault: {} } }).nodes;
  const [survey] = makeSurvey({ vault: { ports } }).nodes;
  if (declared === undefined) throw new Error('no node');
  return portToRaise(viewNode(declared, survey, { strict: false, linked: [] }), name, 9000);
}

const small = { mtuBytes: 1500 } as const;
const large = { mtuBytes: 9000 } as const;
const vlan = { kind: 'vlan', vlanId: 20, lowerPorts: ['eth4'] } as const;
const bond = { kind: 'bond', lowerPorts: ['eth4', 'eth5'] } as const;
const bridge = { kind: 'bridge', lowerPorts: ['eth4', 'tap0'] } as const;
const tap = { kind: 'virtual' } as const;

const rows: readonly (readonly [name: string, ports: Ports, from: string, to: string])[] = [
  ['a port alone', { eth4: small }, 'eth4', 'eth4'],
  ['a VLAN on a large port', { eth4: large, v: { ...vlan, ...small } }, 'v', 'v'],
  ['a VLAN on a small port', { eth4: small, v: { ...vlan, ...small } }, 'v', 'eth4'],
  [
    'a member of an aggregate that is small',
    { eth4: small, eth5: small, b: { ...bond, ...small } },
    'eth4',
    'b',
  ],
  ['one small member', { eth4: large, eth5: small, b: { ...bond, ...large } }, 'eth5', 'eth5'],
  ['an aggregate over one', { eth4: large, eth5: small, b: { ...bond, ...large } }, 'b', 'eth5'],
  [
    'a VLAN on an aggregate',
    {
      eth4: small,
      eth5: small,
      b: { ...bond, ...small },
      v: { ...vlan, lowerPorts: ['b'], ...small },
    },
    'v',
    'b',
  ],
  [
    'a bridge and the machine that drags it down',
    { eth4: large, tap0: { ...tap, ...small }, br: { ...bridge, ...small } },
    'br',
    'tap0',
  ],
  [
    'a bridge with hardware and a machine both small',
    { eth4: small, tap0: { ...tap, ...small }, br: { ...bridge, ...small } },
    'br',
    'eth4',
  ],
  [
    'a bridge set by hand',
    { eth4: large, tap0: { ...tap, ...large }, br: { ...bridge, ...small } },
    'br',
    'br',
  ],
  ['a stack that stands on itself', { eth4: { ...vlan, ...small } }, 'eth4', 'eth4'],
];

describe('where to raise the MTU', () => {
  it.each(rows)('%s', (_name, ports, from, to) => {
    expect(raised(ports, from)).toBe(to);
  });
});
