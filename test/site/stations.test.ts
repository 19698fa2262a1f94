import { describe, expect, it } from 'vitest';
import { indexSite } from '../../src/site/site-index.ts';
import { indexStations, isStationMac } from '../../src/site/stations.ts';
import { makeIntent, makeSurvey } from './builders.ts';

const shared = '02:00:5e:00:00:31';
const bridge = '02:00:5e:00:00:aa';

const intent = makeIntent({
  nodes: {
    'plot-1': {
      at: 'plot-1.office.example',
      ports: { desk: { name: 'en7', mac: '02:00:5e:00:00:05' } },
    },
    vault: { at: '198.18.20.2' },
    gate: { identity: { systemName: 'gate.office.example' } },
    mill: {},
    labeller: {
      unread: 'printer',
      at: '198.18.10.9',
      ports: { lan: { mac: '02:00:5e:00:00:61' } },
    },
    impostor: { identity: { systemName: 'expected' } },
  },
});
const survey = makeSurvey({
  'plot-1': {
    facts: { systemName: 'drawing-table' },
    ports: {
      en7: { macAddress: '02:00:5e:00:00:05' },
      bridge0: { kind: 'bridge', macAddress: bridge },
    },
  },
  vault: {
    ports: {
      eth4: { macAddress: shared, permanentMacAddress: shared },
      eth5: { macAddress: shared, permanentMacAddress: '02:00:5e:00:00:32' },
      bond0: { kind: 'bond', macAddress: shared, lowerPorts: ['eth4', 'eth5'] },
      'bond0.20': {
        kind: 'vlan',
        macAddress: shared,
        lowerPorts: ['bond0'],
        addresses: ['198.18.20.2/24', '192.0.2.1/24'],
      },
    },
  },
  gate: {
    ports: {
      em0: { macAddress: '02:00:5e:00:00:41' },
      'em0.20': {
        kind: 'vlan',
        macAddress: '02:00:5e:00:00:41',
        lowerPorts: ['em0'],
        addresses: ['192.0.2.1/24'],
      },
    },
  },
  mill: { facts: { systemName: 'localhost' }, ports: { eno1: { macAddress: bridge } } },
  impostor: { facts: { systemName: 'another' }, ports: { a: { macAddress: '02:00:5e:00:00:66' } } },
});
const stations = indexStations(indexSite(intent, survey, { strict: false }).nodes.values());

describe('a station is recognised', () => {
  it.each([
    ['by the MAC address of a port, under its alias', '02:00:5e:00:00:05', 'plot-1', 'plot-1:desk'],
    ['as the hardware, where a VLAN shares its address', '02:00:5e:00:00:41', 'gate', 'gate:em0'],
    ['without a port, where members of a bond share an address', shared, 'vault', undefined],
    ['by the permanent address of a member', '02:00:5e:00:00:32', 'vault', 'vault:eth5'],
    [
      'by the declared address of a node that nobody reads',
      '02:00:5e:00:00:61',
      'labeller',
      'labeller:lan',
    ],
    ['not by an address that two nodes have', bridge, undefined, undefined],
    ['not by what another machine says at the address', '02:00:5e:00:00:66', undefined, undefined],
    ['not by an address that nobody has', '02:00:5e:00:00:99', undefined, undefined],
  ])('%s', (_name, mac, node, port) => {
    const found = stations.byMac(mac);
    expect([found?.node.declared.name, found?.port]).toEqual([node, port]);
  });

  it.each([
    ['its own name', 'Drawing-Table', 'plot-1'],
    ['its own name with a domain', 'drawing-table.office.example', 'plot-1'],
    ['the name that it is reached by', 'mill', 'mill'],
    ['no name that it is reached by, where it has one of its own', 'plot-1', undefined],
    ['its declared identity', 'GATE', 'gate'],
    ['its name in the intent', 'vault', 'vault'],
    ['no name in another domain', 'gate.elsewhere.example', undefined],
    ['no name of everybody', 'localhost', undefined],
    ['no name that nobody has', 'attic', undefined],
  ])('by %s', (_name, name, node) => {
    expect(stations.byName(name)?.declared.name).toBe(node);
  });

  it.each([
    ['a port has', '198.18.20.2', 'vault'],
    ['it is declared at', '198.18.10.9', 'labeller'],
    ['not one that two nodes have', '192.0.2.1', undefined],
  ])('by the address that %s', (_name, address, node) => {
    expect(stations.byAddress(address)?.declared.name).toBe(node);
  });
});

it.each([
  ['02:00:5e:00:00:05', true],
  // IEEE 802 8.2.2: the first bit on the wire tells a group from a station.
  ['01:80:c2:00:00:0e', false],
  ['ff:ff:ff:ff:ff:ff', false],
  ['00:00:00:00:00:00', false],
  ['02:00:5e', false],
  ['', false],
])('%j stands for a station: %s', (mac, expected) => {
  expect(isStationMac(mac)).toBe(expected);
});
