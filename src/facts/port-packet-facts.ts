import type { FactEntry } from './entry.ts';

/** What keeps a port from carrying the declared packet, beside its MTU alone. */
export const portPacketFacts = {
  portToRaise: {
    type: 'text',
    origin: 'derived',
    meaning:
      'Where to raise the MTU so that this port passes the declared packet: itself, the aggregate above it, or what it is built on',
    absentWhen: 'no packet is declared, or the port was not read',
    sources: ['port.mtuBytes, port.lowerPorts, port.kind of the whole stack'],
  },
  canDeclaredMtu: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The driver accepts an MTU as large as the declared packet',
    label: 'whether its driver accepts the declared packet',
    absentWhen: 'the driver names no maximum, no packet is declared, or the port is of a switch',
    sources: ['port.mtuMaxBytes, port.declaredMtuBytes'],
  },
  driverAllowsMtu: {
    type: 'flag',
    origin: 'derived',
    meaning: "The driver's own setting for large frames allows the declared packet",
    label: 'whether the setting of its driver for large frames allows the declared packet',
    absentWhen: 'the system keeps no such setting, or no packet is declared',
    sources: ['port.driverMtuBytes, port.declaredMtuBytes'],
  },
  mtuAsConfigured: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The MTU in use is the one that the configuration asks for',
    label: 'whether its MTU is the one of its configuration',
    absentWhen: 'the system does not keep the two apart',
    sources: ['port.mtuBytes, port.mtuConfiguredBytes'],
  },
  wireless: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The port has an antenna: no setting gives it large packets (IEEE 802.11)',
    label: 'whether it is wireless',
    absentWhen: 'the kind of port could not be read',
    sources: ['port.kind'],
  },
  speedTakesLarge: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'A switch port runs faster than 100 Mb/s: at and below that many switches drop packets above 1500 bytes whatever their MTU says',
    label: 'whether its speed is one that takes large packets',
    absentWhen:
      'no switch port with link, its speed is not known, or no packet above 1500 is declared',
    sources: ['port.speedMbps, port.declaredMtuBytes'],
  },
  parentPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'The port that a VLAN interface or tunnel stands on',
    absentWhen: 'neither, or it was not read',
    sources: ['port.lowerPorts'],
  },
  tagHasRoom: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'The port below a VLAN interface may send its packet with 4 bytes of tag: false where its driver accepts no more than the packet alone',
    label: 'whether there is room for the tag below it',
    absentWhen: 'no VLAN interface above 1500 bytes, or nothing tells',
    sources: ['port.mtuBytes, port.mtuMaxBytes of the parent'],
  },
  smallMembers: {
    type: 'texts',
    origin: 'derived',
    meaning:
      'Members of a bridge without hardware, such as virtual machines, whose MTU is below the declared packet',
    label: 'which of its members have a smaller MTU',
    absentWhen: 'no bridge of a host, no packet is declared, or a member could not be read',
    sources: ['port.mtuBytes of port.lowerPorts'],
  },
  mtuOfAggregateBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Of a member of an aggregate on a switch: the MTU of the aggregate',
    absentWhen: 'member of none, or it was not read',
    sources: ['port.mtuBytes, port.lowerPorts of the aggregate'],
  },
  mtuAsAggregate: {
    type: 'flag',
    origin: 'derived',
    meaning: 'A member and its aggregate have one MTU',
    label: 'whether it has the MTU of its aggregate',
    absentWhen: 'there is no `mtuOfAggregateBytes`, or its own MTU is not known',
    sources: ['port.mtuBytes, port.mtuOfAggregateBytes'],
  },
  tunnelOverheadBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'What a tunnel puts before each of its packets, at least, over IPv4',
    absentWhen: 'no tunnel of a known kind',
    sources: ['port.driver; RFC 7348, RFC 8926, RFC 2784, RFC 2003'],
  },
  tunnelNeedsBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Packet that the port below must pass so that the tunnel carries the declared one',
    label: 'the packet that its tunnel needs below it',
    absentWhen: 'there is no `tunnelOverheadBytes`, or no packet is declared',
    sources: ['port.declaredMtuBytes, port.tunnelOverheadBytes'],
  },
  underlayMtuBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'MTU of the port that a tunnel stands on',
    label: 'the MTU below its tunnel',
    absentWhen: 'there is no `tunnelNeedsBytes`, or it was not read',
    sources: ['port.mtuBytes of port.parentPort'],
  },
} as const satisfies Record<string, FactEntry>;
