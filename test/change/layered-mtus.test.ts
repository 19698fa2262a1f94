import { describe, expect, it } from 'vitest';
import { layeredMtus } from '../../src/change/layered-mtus.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { makeSurvey } from '../site/builders.ts';

const bridge = (mtuBytes: number, ...lowerPorts: string[]): PortReadFacts => ({
  kind: 'bridge',
  mtuBytes,
  lowerPorts,
});
const vlan = (mtuBytes: number, lower: string): PortReadFacts => ({
  kind: 'vlan',
  vlanId: 20,
  mtuBytes,
  lowerPorts: [lower],
});
const bond = (mtuBytes: number, ...lowerPorts: string[]): PortReadFacts => ({
  kind: 'bond',
  mtuBytes,
  lowerPorts,
});
const at = (mtuBytes: number): PortReadFacts => ({ mtuBytes });

interface Row {
  readonly name: string;
  readonly ports: Readonly<Record<string, PortReadFacts>>;
  readonly set: Readonly<Record<string, number>>;
  readonly after: Readonly<Record<string, number>>;
  readonly forwards?: boolean;
}

// Linux as the lab showed it: a bridge went from 1500 to 9000 by itself when its last port of 1500
// was raised; a VLAN interface above its parent is out of range. The rest from memory of its source.
const rows: readonly Row[] = [
  {
    name: 'a bridge stays with its smallest member',
    ports: { eth0: at(1500), tap0: at(1500), br0: bridge(1500, 'eth0', 'tap0') },
    set: { eth0: 9000 },
    after: { eth0: 9000, tap0: 1500, br0: 1500 },
  },
  {
    name: 'a bridge follows once the last member is raised',
    ports: { eth0: at(9000), tap0: at(1500), br0: bridge(1500, 'eth0', 'tap0') },
    set: { tap0: 9000 },
    after: { eth0: 9000, tap0: 9000, br0: 9000 },
  },
  {
    name: 'a bridge that differs from its members was set by hand and stays',
    ports: { eth0: at(9000), br0: bridge(1500, 'eth0') },
    set: { eth0: 4000 },
    after: { eth0: 4000, br0: 1500 },
  },
  {
    name: 'a bridge that is set keeps that',
    ports: { eth0: at(1500), br0: bridge(1500, 'eth0') },
    set: { br0: 9000 },
    after: { eth0: 1500, br0: 9000 },
  },
  {
    name: 'a VLAN interface stays where its parent is raised',
    ports: { eth0: at(1500), 'eth0.20': vlan(1500, 'eth0') },
    set: { eth0: 9000 },
    after: { eth0: 9000, 'eth0.20': 1500 },
  },
  {
    name: 'a VLAN interface is drawn down with its parent',
    ports: { eth0: at(9000), 'eth0.20': vlan(9000, 'eth0') },
    set: { eth0: 1500 },
    after: { eth0: 1500, 'eth0.20': 1500 },
  },
  {
    name: 'a bond sets its members, and the VLAN and bridge above follow it down',
    ports: {
      eth0: at(9000),
      eth1: at(9000),
      bond0: bond(9000, 'eth0', 'eth1'),
      'bond0.20': vlan(9000, 'bond0'),
      br20: bridge(9000, 'bond0.20'),
    },
    set: { bond0: 1500 },
    after: { eth0: 1500, eth1: 1500, bond0: 1500, 'bond0.20': 1500, br20: 1500 },
  },
  {
    name: 'a switch keeps its routed VLAN interface, and its aggregate sets the members',
    ports: { xg1: at(9216), po1: bond(9216, 'xg1'), vlan20: vlan(9000, 'po1') },
    set: { po1: 1518 },
    after: { xg1: 1518, po1: 1518, vlan20: 9000 },
    forwards: true,
  },
  {
    name: 'what stands on itself is as it was',
    ports: { a: bridge(1500, 'b'), b: bridge(1500, 'a') },
    set: { c: 9000 },
    after: { a: 1500, b: 1500 },
  },
];

describe('MTUs of a stack', () => {
  it.each(rows)('$name', ({ ports, set, after, forwards = false }) => {
    const [node] = makeSurvey({ vault: { ports } }).nodes;
    if (node === undefined) throw new Error('there is one node');
    const found = layeredMtus(node, new Map(Object.entries(set)), forwards);
    expect(Object.fromEntries(found)).toEqual(after);
  });

  it('knows no port that was not read', () => {
    const [node] = makeSurvey({
      vault: {
        ports: { eth0: { mtuBytes: 1500 } },
        portOwnGaps: { eth0: { mtuBytes: { reason: 'denied', words: 'no' } } },
      },
    }).nodes;
    if (node === undefined) throw new Error('there is one node');
    expect([...layeredMtus(node, new Map(), false)]).toEqual([]);
    expect([...layeredMtus(node, new Map([['eth0', 9000]]), false)]).toEqual([['eth0', 9000]]);
  });
});
