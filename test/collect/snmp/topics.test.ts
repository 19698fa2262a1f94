import { afterEach, describe, expect, it } from 'vitest';
import type {
  DescribedNeighbour,
  DescribedSwitch,
} from '../../../mocks/snmp-agent/described-switch.ts';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import type { Vice } from '../../../mocks/snmp-agent/vices.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import type { NodeReading } from '../../../src/collect/types.ts';
import { everyTopic, type ReadTopic, readTopics } from '../../../src/facts/read-topics.ts';
import { limits, patientTiming, plainSwitch, port, quaySwitch, target } from './quay-switch.ts';

let agent: RunningAgent | undefined;
afterEach(() => agent?.stop());

async function read(
  described: DescribedSwitch,
  { topics = everyTopic, vice }: { topics?: ReadonlySet<ReadTopic>; vice?: Vice } = {},
): Promise<NodeReading> {
  await agent?.stop();
  agent = await startAgent({ switch: described, ...(vice === undefined ? {} : { vice }) });
  const signal = new AbortController().signal;
  const asked = { ...target(agent), timing: patientTiming };
  const outcome = await readSnmp(asked, { peers: [], topics }, limits, signal);
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  return outcome.reading;
}

function portOf(reading: NodeReading, name: string) {
  const found = reading.ports.find((one) => one.name === name);
  const gaps = { ...reading.portGaps, ...found?.gaps };
  return { facts: found?.facts, gaps, sources: { ...reading.portSources, ...found?.sources } };
}

const mac = (hex: string) => Buffer.from(hex.replaceAll(':', ''), 'hex');
/** Subtypes of IEEE 802.1AB-2016 8.5.2 and 8.5.3: MAC address is 4 of a chassis, name 5 of a port. */
const vault: DescribedNeighbour = {
  ifIndex: 11,
  chassis: [4, mac('02:00:5e:00:00:31')],
  port: [5, 'eth4'],
  portText: 'eth4',
  systemName: 'vault',
  systemText: 'Linux 6.1',
  capabilities: [7],
  addresses: ['198.18.20.2', '192.0.2.2'],
  mau: 30,
  negotiates: true,
  offers: Buffer.from('0401', 'hex'),
  frameMaxBytes: 9018,
  untaggedVlan: 20,
};
const members = { aggregator: 100, actor: 0xbc, partner: 0xbc, partnerSystem: '02:00:5e:00:00:31' };
const bridged = quaySwitch([
  port(11, { name: 'xg1', bridgePort: 1, spanningTree: 5, pvid: 20, member: members }),
  port(12, { name: 'xg2', bridgePort: 2, spanningTree: 2, pvid: 1, member: members }),
  port(13, { name: 'xg3', bridgePort: 3, spanningTree: 5, pvid: 1, forwardTooLong: 7 }),
  port(14, { name: 'mgmt' }),
  port(100, { name: 'lag1', type: 161, connector: false, bridgePort: 9, lower: [11, 12] }),
]);
const full: DescribedSwitch = {
  ...bridged,
  lldp: { version: 1, neighbours: [vault] },
  vlans: [
    { vlan: 1, tagged: [], untagged: [12, 13] },
    { vlan: 20, tagged: [13], untagged: [11] },
    { vlan: 4000, tagged: [13], untagged: [] },
  ],
  stations: [
    { mac: '02:00:5e:00:00:31', ifIndex: 11, vlan: 20 },
    { mac: '02:00:5e:00:00:05', ifIndex: 13, vlan: 20 },
    { mac: '02:00:5e:00:00:06', ifIndex: 13, vlan: 1 },
    { mac: '02:00:5e:00:00:77', ifIndex: 13, vlan: 1, status: 4 },
    { mac: '02:00:5e:00:00:0b', ifIndex: 13, vlan: 1 },
  ],
};

const heard = {
  port: 'xg1',
  chassis: '02:00:5e:00:00:31',
  chassisKind: 'mac',
  portId: 'eth4',
  portIdKind: 'name',
  portText: 'eth4',
  systemName: 'vault',
  systemText: 'Linux 6.1',
  capabilities: ['station'],
  addresses: ['192.0.2.2', '198.18.20.2'],
  speedMbps: 1000,
  duplex: 'full',
  phyText: '1000BASE-T',
  autoNegotiation: true,
  advertisedModes: ['1000baseT/Full', '100baseT/Full'],
  frameMaxBytes: 9018,
  untaggedVlan: 20,
};

describe('neighbours', () => {
  it.each([
    ['by the number of the bridge port', { version: 1, numbers: 'bridge-port' }],
    ['by ifIndex', { version: 1, numbers: 'ifIndex' }],
    ['by a number of its own, told by its table of ports', { version: 1, numbers: 'own' }],
    ['of version 2 of the module, by ifIndex', { version: 2 }],
  ] as const)('are read %s', async (_, lldp) => {
    const reading = await read({ ...full, lldp: { ...lldp, neighbours: [vault] } });
    expect(reading.neighbours).toEqual([heard]);
    expect(reading.gaps['neighbours']).toBeUndefined();
  });

  it('are an empty list where nobody is heard', async () => {
    const reading = await read({ ...full, lldp: { version: 1, neighbours: [] } });
    expect(reading.neighbours).toEqual([]);
    expect(reading.gaps['neighbours']).toBeUndefined();
  });

  it('have cleaned texts and leave out what they do not send', async () => {
    const odd: DescribedNeighbour = {
      ifIndex: 12,
      chassis: [5, Buffer.from('01c6120002', 'hex')],
      port: [7, 'p\u001b[2J1'],
      systemName: 'quay\n\u202esw',
    };
    const { neighbours } = await read({ ...full, lldp: { version: 1, neighbours: [odd] } });
    expect(neighbours).toEqual([
      {
        port: 'xg2',
        chassis: '198.18.0.2',
        chassisKind: 'address',
        portId: Buffer.from('p\u001b[2J1').toString('hex'),
        portIdKind: 'other',
        systemName: 'quay sw',
        capabilities: [],
        addresses: [],
      },
    ]);
  });
});

describe('a bridge', () => {
  it('tells stations by port and VLAN: learnt ones, none of its own', async () => {
    const reading = await read(full);
    expect(reading.forwarding).toEqual([
      { port: 'xg1', vlan: 20, macs: ['02:00:5e:00:00:31'] },
      { port: 'xg3', vlan: 1, macs: ['02:00:5e:00:00:06'] },
      { port: 'xg3', vlan: 20, macs: ['02:00:5e:00:00:05'] },
    ]);
  });

  it('tells no VLAN where several share one filtering database', async () => {
    const vlans = full.vlans?.map((vlan) => ({ ...vlan, filter: 1 })) ?? [];
    const reading = await read({ ...full, vlans });
    expect(reading.forwarding).toEqual([
      { port: 'xg1', macs: ['02:00:5e:00:00:31'] },
      { port: 'xg3', macs: ['02:00:5e:00:00:05', '02:00:5e:00:00:06'] },
    ]);
  });

  it('tells stations without VLANs by BRIDGE-MIB', async () => {
    const { vlans, ...rest } = full;
    const reading = await read(rest);
    expect(reading.forwarding?.[1]).toEqual({
      port: 'xg3',
      macs: ['02:00:5e:00:00:05', '02:00:5e:00:00:06'],
    });
  });

  it.each(['current', 'static'] as const)('tells VLANs of its %s table', async (vlanTable) => {
    const reading = await read({ ...full, vlanTable });
    const vlans = (name: string) => {
      const { untaggedVlan, untaggedVlans, taggedVlans } = portOf(reading, name).facts ?? {};
      return { untaggedVlan, untaggedVlans, taggedVlans };
    };
    expect(vlans('xg1')).toEqual({ untaggedVlan: 20, untaggedVlans: [20], taggedVlans: [] });
    expect(vlans('xg3')).toEqual({ untaggedVlan: 1, untaggedVlans: [1], taggedVlans: [20, 4000] });
    expect(portOf(reading, 'mgmt').gaps['taggedVlans']).toEqual({
      reason: 'unsupported',
      words: 'the port is not one of the bridge',
    });
  });

  it('tells spanning tree and what was too long to forward', async () => {
    const reading = await read(full);
    expect(portOf(reading, 'xg1').facts?.spanningTree).toBe('forwarding');
    expect(portOf(reading, 'xg2').facts?.spanningTree).toBe('blocking');
    expect(portOf(reading, 'xg3').facts?.forwardTooLong).toBe(7);
    expect(portOf(reading, 'mgmt').gaps['spanningTree']?.words).toBe(
      'the port is not one of the bridge',
    );
  });
});

describe('an aggregate', () => {
  const healthy = ['activity', 'aggregation', 'synchronization', 'collecting', 'distributing'];

  it.each([
    ['as BITS', 0xbc],
    ['as the octet of LACPDUs', 0x3d],
  ])('tells the states of its members, sent %s', async (_, octet) => {
    const ports = bridged.ports.map((one) =>
      one.member === undefined
        ? one
        : { ...one, member: { ...members, actor: octet, partner: octet } },
    );
    const reading = await read({ ...bridged, ports });
    expect(portOf(reading, 'xg1').facts).toMatchObject({
      aggregate: 'lag1',
      aggregatorId: 100,
      lacpActor: healthy,
      lacpPartner: healthy,
      lacpPartnerSystem: '02:00:5e:00:00:31',
    });
  });

  it('says that a port is a member of none', async () => {
    const alone = { ...members, aggregator: 0, partnerSystem: '00:00:00:00:00:00' };
    const reading = await read(quaySwitch([port(1, { member: alone })]));
    const { facts, gaps } = portOf(reading, 'xg1');
    expect(facts).not.toHaveProperty('aggregate');
    expect(gaps['aggregate']?.words).toBe('dot3adAggPortAttachedAggID is 0: a member of none');
    expect(gaps['lacpPartnerSystem']?.words).toBe('dot3adAggPortPartnerOperSystemID is empty');
  });
});

describe('sensors', () => {
  // RFC 3433: type 6 is watts, 8 celsius; scale 8 is milli, 9 units; 1 is other.
  const heat = { type: 8, scale: 9, precision: 1, value: 385 };
  const light = (value: number) => ({ type: 6, scale: 8, precision: 4, value });
  const parts = [
    { part: 1, holder: 0, class: 3, name: 'chassis' },
    { part: 10, holder: 1, class: 5, name: 'cage 1' },
    { part: 11, holder: 10, class: 9, name: 'module 1' },
    { part: 12, holder: 11, class: 10, name: 'port 1', alias: 1 },
    { part: 13, holder: 11, class: 8, name: 'module 1 temperature', sensor: heat },
    { part: 14, holder: 11, class: 8, name: 'Rx power', sensor: light(5012) },
    { part: 15, holder: 12, class: 8, name: 'Tx power', sensor: light(0) },
    { part: 20, holder: 1, class: 10, name: 'xg2' },
    {
      ...{ part: 21, holder: 20, class: 8, name: 'xg2 receive' },
      sensor: { type: 1, scale: 9, precision: 1, value: -31, units: 'dBm' },
    },
    { part: 22, holder: 20, class: 8, name: 'xg2 heat', sensor: { ...heat, status: 2 } },
    { part: 30, holder: 1, class: 8, name: 'inlet', sensor: heat },
  ];

  it('give light and heat of the module to its port', async () => {
    const reading = await read({ ...plainSwitch(3), parts });
    expect(portOf(reading, 'xg1').facts).toMatchObject({
      rxPowerDbm: -3,
      txPowerDbm: -40,
      moduleTemperatureCelsius: 38.5,
    });
    expect(portOf(reading, 'xg2').facts?.rxPowerDbm).toBe(-3.1);
    expect(portOf(reading, 'xg2').gaps['moduleTemperatureCelsius']?.words).toBe(
      'the sensor of the port measures nothing that can be believed',
    );
    expect(portOf(reading, 'xg3').gaps['rxPowerDbm']?.words).toBe(
      'no sensor of the agent is known to belong to this port',
    );
  });
});

describe('error counters', () => {
  it('come of RMON by its data source, and of 64 bits where there are any', async () => {
    const rmon = { oversize: 3, fragments: 4, jabbers: 5 };
    const wide = { rxCrcErrors: '5000000000' };
    const reading = await read(quaySwitch([port(1, { rmon, wide }), port(2)]));
    const { facts, sources } = portOf(reading, 'xg1');
    expect(facts).toMatchObject({
      rxOversize: 3,
      rxFragments: 4,
      rxJabbers: 5,
      rxCrcErrors: 5_000_000_000,
    });
    expect(sources['rxCrcErrors']).toBe(
      'EtherLike-MIB dot3HCStatsFCSErrors (1.3.6.1.2.1.10.7.11.1.2)',
    );
    expect(portOf(reading, 'xg2').facts?.rxCrcErrors).toBe(0);
  });
});

describe('the duplex of an agent without one', () => {
  const slow = port(1, { speedMbps: 100, duplex: 'unknown', mau: { type: 15 } });

  it.each([
    ['with the topic media', everyTopic],
    ['without any topic', new Set<ReadTopic>()],
  ])('follows from the medium in use, %s', async (_, topics) => {
    const { facts, sources } = portOf(await read(quaySwitch([slow]), { topics }), 'xg1');
    expect(facts?.duplex).toBe('half');
    expect(sources['duplex']).toBe('MAU-MIB ifMauType (1.3.6.1.2.1.26.2.1.1.3)');
  });

  it('stays unknown, for the first reason, where the medium does not tell it', async () => {
    const { facts, gaps } = portOf(await read(quaySwitch([{ ...slow, mau: { type: 5 } }])), 'xg1');
    expect(facts).not.toHaveProperty('duplex');
    expect(gaps['duplex']?.words).toBe('dot3StatsDuplexStatus is unknown(1)');
  });

  it('is not asked for where every port has it', async () => {
    await read(plainSwitch(2), { topics: new Set() });
    expect(agent?.asked().filter((oid) => oid.startsWith('1.3.6.1.2.1.26'))).toEqual([]);
  });
});

describe('topics', () => {
  const facts: Readonly<Record<ReadTopic, readonly string[]>> = {
    neighbours: [],
    forwarding: [],
    vlans: ['untaggedVlan', 'untaggedVlans', 'taggedVlans'],
    'spanning-tree': ['spanningTree'],
    aggregation: ['aggregate', 'aggregatorId', 'lacpActor', 'lacpPartner', 'lacpPartnerSystem'],
    media: ['phyText', 'autoNegotiation', 'supportedModes', 'advertisedModes', 'partnerModes'],
    optics: ['rxPowerDbm', 'txPowerDbm', 'moduleTemperatureCelsius'],
    'remote-errors': ['rxOversize', 'rxFragments', 'rxJabbers', 'forwardTooLong'],
  };
  const unasked = { reason: 'unasked', words: 'not asked for: nothing in force needs it' };

  it.each(readTopics)('leave %s out where nothing needs it', async (topic) => {
    const topics = new Set(readTopics.filter((one) => one !== topic));
    const reading = await read(full, { topics });
    for (const fact of facts[topic]) {
      expect(portOf(reading, 'xg1').facts).not.toHaveProperty(fact);
      expect(portOf(reading, 'xg1').gaps[fact]).toEqual(unasked);
    }
    for (const list of ['neighbours', 'forwarding'] as const) {
      expect(reading[list] === undefined).toBe(list === topic);
      if (list === topic) expect(reading.gaps[list]).toEqual(unasked);
    }
  });

  it('cost nothing where there are none', async () => {
    await read(full, { topics: new Set() });
    const bare = agent?.requests();
    await read(bridged, { topics: new Set() });
    expect(agent?.requests()).toBe(bare);
  });

  it('cost two requests for all tables that an agent does not have', async () => {
    const { ports } = plainSwitch(4);
    const plain = quaySwitch(ports.map(({ mau, ...rest }) => rest));
    await read(plain, { topics: new Set() });
    const bare = agent?.requests() ?? 0;
    await read(plain);
    expect(agent?.requests()).toBe(bare + 2);
  });

  it('keep what came before a table that goes round in circles', async () => {
    const two = [vault, { ...vault, ifIndex: 12 }];
    const { vlans, ...rest } = full;
    const described: DescribedSwitch = { ...rest, lldp: { version: 1, neighbours: two } };
    const reading = await read(described, { vice: 'loops-in-topics' });
    expect(reading.neighbours).toEqual([heard]);
    expect(reading.gaps['neighbours']).toEqual({
      reason: 'truncated',
      words: 'lldpRemChassisId: answered with an object that does not come after the one before',
    });
    expect(reading.gaps['forwarding']).toEqual({
      reason: 'truncated',
      words: 'dot1dTpFdbPort: answered with an object that does not come after the one before',
    });
    expect(portOf(reading, 'xg1').facts?.spanningTree).toBe('forwarding');
  });
});
