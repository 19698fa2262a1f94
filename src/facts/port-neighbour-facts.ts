import type { FactEntry } from './entry.ts';

const lldp = 'LLDP (IEEE 802.1AB)';
const table = 'forwarding table';

/** Who is really at the other end of a port's link, and what of it is carried. */
export const portNeighbourFacts = {
  farNode: {
    type: 'text',
    origin: 'declared',
    meaning: 'The node at the other end of its link',
    absentWhen: 'no link ends here',
    sources: ['intent links'],
  },
  neighbour: {
    type: 'text',
    origin: 'derived',
    meaning:
      'What is heard at the other end: the declared port or node that it is, else what it calls itself',
    absentWhen: 'nothing is heard here',
    sources: [`${lldp}, else the ${table}, against the intent`],
  },
  neighbourDeclared: {
    type: 'flag',
    origin: 'derived',
    meaning: 'What is heard is the declared far end',
    absentWhen:
      'nothing is heard, or it cannot be told who it is; with a reason only where a switch did not give its tables whole',
    sources: [`${lldp}, else the ${table}, against the intent`],
  },
  neighbourKnownBy: {
    type: 'text',
    origin: 'derived',
    meaning: 'How the neighbour is known: `lldp` or `forwarding`',
    absentWhen: 'nothing is heard here',
    sources: [lldp, table],
  },
  between: {
    type: 'texts',
    origin: 'derived',
    meaning:
      'What announces itself between this port and the declared far end; empty where nothing does',
    absentWhen: 'the declared far end is not heard here',
    sources: [lldp, table],
  },
  foundOn: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Ports at which the declared far end is really heard',
    absentWhen: 'it is heard nowhere',
    sources: [lldp, table],
  },
  farEndElsewhere: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared far end is heard at other ports, and not here',
    absentWhen: 'it is heard nowhere',
    sources: ['port.foundOn'],
  },
  movedLink: {
    type: 'text',
    origin: 'derived',
    meaning:
      'The first of the links that one mistake with cords explains together; a swapped pair has one',
    absentWhen: 'nothing moved',
    sources: ['port.neighbour, port.foundOn'],
  },
  macsBehind: {
    type: 'number',
    origin: 'derived',
    meaning: 'Stations behind a port whose declared far end passes no frames on',
    absentWhen: 'no such port of a switch, or its forwarding table was not read',
    sources: [table],
  },
  behindAtMost: {
    type: 'number',
    origin: 'declared',
    meaning: 'Stations that may stand behind it: as declared, else three for a telephone, else one',
    absentWhen: 'the declared far end passes frames on, or this is no port of a switch',
    sources: ['intent nodes.*.ports.*.behind'],
  },
  neighbourSpeedMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Speed that the neighbour announces for its port',
    absentWhen: 'it announces none, or is another than declared',
    sources: ['LLDP operational MAU type (IEEE 802.3 79.3.1)'],
  },
  neighbourDuplex: {
    type: 'text',
    origin: 'derived',
    meaning: 'Duplex that the neighbour announces for its port',
    absentWhen: 'it announces none, or is another than declared',
    sources: ['LLDP operational MAU type (IEEE 802.3 79.3.1)'],
  },
  neighbourFrameBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Maximum frame that the neighbour announces; whether it counts header and FCS varies',
    absentWhen: 'it announces none, or is another than declared',
    sources: ['LLDP maximum frame size (IEEE 802.3 79.3.4)'],
  },
  neighbourAutoNegotiation: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Whether the neighbour says that it negotiates',
    absentWhen: 'it says nothing of it, or is another than declared',
    sources: ['LLDP MAC/PHY status (IEEE 802.3 79.3.1)'],
  },
  neighbourUntaggedVlan: {
    type: 'number',
    origin: 'derived',
    meaning: 'VLAN that the neighbour announces for untagged frames',
    absentWhen: 'it announces none, or is another than declared',
    sources: ['LLDP port VLAN identifier (IEEE 802.1Q D.2.1)'],
  },
  heardSpeedMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Of a port that nobody reads: the speed that its partner runs at',
    absentWhen: 'the port is read, or its partner is not',
    sources: ['port.speedMbps of the far end'],
  },
  heardDuplex: {
    type: 'text',
    origin: 'derived',
    meaning: 'Of a port that nobody reads: the duplex that its partner runs in',
    absentWhen: 'the port is read, or its partner is not',
    sources: ['port.duplex of the far end'],
  },
  heardFrameBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Of a port that nobody reads: the maximum frame that it announces',
    absentWhen: 'the port is read, or announces none',
    sources: ['LLDP maximum frame size (IEEE 802.3 79.3.4)'],
  },
  heardMtuBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning:
      'Of a port that nobody reads: the IP packet beyond which it takes nothing, as live TCP sessions with it show',
    absentWhen: 'the port is read, no session was seen, or nothing shows that it is small',
    sources: ['ss -tino mss against advmss and pmtu'],
  },
  vlansMissing: {
    type: 'numbers',
    origin: 'derived',
    meaning: 'VLANs of declared segments that the port does not carry as declared',
    absentWhen: 'no port of a switch, no numbered segment declared, or the VLANs were not read',
    sources: ['port.untaggedVlan, port.untaggedVlans, port.taggedVlans against intent links'],
  },
  vlansUnexpected: {
    type: 'numbers',
    origin: 'derived',
    meaning:
      'Untagged VLANs that are not declared here, and towards a host tagged ones of other declared segments',
    absentWhen: 'no port of a switch, no numbered segment declared, or the VLANs were not read',
    sources: ['port.untaggedVlan, port.untaggedVlans, port.taggedVlans against intent links'],
  },
  vlansAsDeclared: {
    type: 'flag',
    origin: 'derived',
    meaning: 'No VLAN is missing and none is unexpected',
    absentWhen: 'no port of a switch, no numbered segment declared, or the VLANs were not read',
    sources: ['port.vlansMissing, port.vlansUnexpected'],
  },
  spanningTreeForwards: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The spanning tree lets frames through this port, or its aggregate',
    absentWhen: 'no spanning tree runs there, it is not settled yet, or the node does not say',
    sources: ['port.spanningTree'],
  },
  memberDistributes: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Of a member of an aggregate: LACP has it in step, collecting and distributing',
    absentWhen: 'no LACP, no link, or the node does not say',
    sources: ['port.lacpActor (IEEE 802.1AX 6.4.2.3)'],
  },
} as const satisfies Record<string, FactEntry>;
