import type { FactEntry } from './entry.ts';

/** Facts of a segment: one broadcast domain. */
export const segmentFacts = {
  name: {
    type: 'text',
    origin: 'declared',
    meaning: 'Name of the segment in the intent',
    sources: ['intent segments'],
  },
  vlan: {
    type: 'number',
    origin: 'declared',
    meaning: 'Its VLAN identifier',
    absentWhen: 'none is declared',
    sources: ['intent segments.*.vlan'],
  },
  declaredMtuBytes: {
    type: 'number',
    origin: 'declared',
    unit: 'bytes',
    meaning: 'IP packet that all its addressed interfaces agree on',
    absentWhen: 'none is declared',
    sources: ['intent segments.*.mtu'],
  },
  addressedPorts: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Interfaces with an IP address in this segment, as far as nodes were read',
    label: 'which interfaces have an address in it',
    absentWhen: 'nobody who may be in it told of an address',
    sources: ['port.addresses, routes to the peers'],
  },
  addressedMtusBytes: {
    type: 'numbers',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Their MTUs, in the order of `addressedPorts`',
    absentWhen: 'one of them could not be read',
    sources: ['port.mtuBytes'],
  },
  addressedMtusEqual: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'Its addressed interfaces agree with each other and with the declared MTU; false as soon as two differ',
    label: 'whether its interfaces agree on the MTU',
    absentWhen: 'those read agree, and one could not be read',
    sources: ['port.mtuBytes'],
  },
  oddPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'The addressed interface that differs from the declared MTU, else from the most',
    absentWhen: 'none differs',
    sources: ['port.mtuBytes'],
  },
  portToRaise: {
    type: 'text',
    origin: 'derived',
    meaning: 'Where to set the MTU of `oddPort`: itself, or a port of its stack',
    absentWhen: 'none differs',
    sources: ['segment.oddPort, port.portToRaise'],
  },
  splitBySystem: {
    type: 'text',
    origin: 'derived',
    meaning:
      'MTUs by kind of system, as `linux 9000, macos 1500`, where every system agrees within itself and they differ',
    absentWhen: 'they agree, or do not differ by system',
    sources: ['port.mtuBytes, node.systemKind'],
  },
  oddPorts: {
    type: 'texts',
    origin: 'derived',
    meaning: 'All addressed interfaces that differ; empty when none does',
    sources: ['port.mtuBytes'],
  },
} as const satisfies Record<string, FactEntry>;
