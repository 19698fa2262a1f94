import type { FactEntry } from './entry.ts';

/** Facts of a link: two ports joined by a run. */
export const linkFacts = {
  id: {
    type: 'text',
    origin: 'derived',
    meaning: 'Both ends, as `plot-1:desk - quay-sw:xg2`',
    sources: ['intent links'],
  },
  ends: {
    type: 'texts',
    origin: 'declared',
    meaning: 'The two ports that it joins',
    sources: ['intent links'],
  },
  labels: {
    type: 'text',
    origin: 'declared',
    meaning: 'Labels of the run to touch, in order',
    absentWhen: 'no run is declared, or it has no labels',
    sources: ['intent links.*.run'],
  },
  lag: {
    type: 'text',
    origin: 'declared',
    meaning: 'The aggregate that the link is a member of',
    absentWhen: 'it is none',
    sources: ['intent links.*.lag'],
  },
  declaredSpeedMbps: {
    type: 'number',
    origin: 'declared',
    unit: 'Mb/s',
    meaning: 'Speed that the link is declared to run at',
    absentWhen: 'none is declared',
    sources: ['intent links.*.speed'],
  },
  judged: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Both ends are read, physical and up: their speed and duplex can be compared',
    absentWhen: 'an end could not be read',
    sources: ['port.operUp, port.virtual'],
  },
  speedsMbps: {
    type: 'numbers',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Speed at each end, in the order of `ends`',
    absentWhen: 'an end could not be read',
    sources: ['port.speedMbps'],
  },
  speedsEqual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Both ends run at one speed',
    absentWhen: 'the speed of an end is not known',
    sources: ['port.speedMbps'],
  },
  duplexes: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Duplex at each end, in the order of `ends`',
    absentWhen: 'an end could not be read',
    sources: ['port.duplex'],
  },
  duplexesEqual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Both ends run in one duplex mode',
    absentWhen: 'the duplex of an end is not known',
    sources: ['port.duplex'],
  },
} as const satisfies Record<string, FactEntry>;

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
  oddPorts: {
    type: 'texts',
    origin: 'derived',
    meaning: 'All addressed interfaces that differ; empty when none does',
    sources: ['port.mtuBytes'],
  },
} as const satisfies Record<string, FactEntry>;

/** Facts of a path between two ends. */
export const pathFacts = {
  id: {
    type: 'text',
    origin: 'derived',
    meaning: 'Its name, with both ends where it has several',
    sources: ['intent paths'],
  },
  name: {
    type: 'text',
    origin: 'declared',
    meaning: 'Name of the path in the intent',
    sources: ['intent paths'],
  },
  from: { type: 'text', origin: 'declared', meaning: 'Node at one end', sources: ['intent paths'] },
  to: {
    type: 'text',
    origin: 'declared',
    meaning: 'Node at the other end',
    sources: ['intent paths'],
  },
  declaredMtuBytes: {
    type: 'number',
    origin: 'declared',
    unit: 'bytes',
    meaning:
      'IP packet that the path is declared to carry: its own, else the smallest of its segments',
    absentWhen: 'none is declared',
    sources: ['intent paths.*.mtu, segments.*.mtu'],
  },
  connected: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared links join its ends (true as well where no link is declared)',
    sources: ['intent links'],
  },
  mtuAtLeastBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'IP packet that passes every hop, whatever their MTUs count',
    absentWhen: 'a hop could not be read',
    sources: ['port.passesAtLeastBytes of every hop'],
  },
  mtuAtMostBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'IP packet beyond which nothing passes, by the hops that were read',
    absentWhen: 'no hop could be read',
    sources: ['port.passesAtMostBytes of every hop'],
  },
  carriesDeclaredMtu: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared packet passes every hop; false as soon as one is known to be too small',
    absentWhen:
      'no hop is known to be too small, and one is not known; absent without a reason: none is declared',
    sources: ['port.carriesDeclaredMtu of every hop'],
  },
  narrowestPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'The hop that passes the smallest packet',
    absentWhen: 'no hop could be read',
    sources: ['port.passesAtMostBytes of every hop'],
  },
  slowestPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'The hop that runs at the lowest speed',
    absentWhen: 'no speed is known',
    sources: ['port.speedMbps of every hop'],
  },
  slowestMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Lowest speed on the way, of one member where an aggregate is crossed',
    absentWhen: 'no speed is known',
    sources: ['port.speedMbps of every hop'],
  },
  ceilingMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'TCP goodput that speed and packet size allow (IPv4 with timestamps), one flow',
    absentWhen: 'the speed or the packet size of a hop is not known',
    sources: ['RFC 6349 4.1.1 over path.slowestMbps and path.mtuAtLeastBytes'],
  },
  declaredGoodputMbps: {
    type: 'number',
    origin: 'declared',
    unit: 'Mb/s',
    meaning: 'TCP goodput that the owner wants',
    absentWhen: 'none is declared',
    sources: ['intent paths.*.goodput'],
  },
  hopsOnWord: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Hops that nobody reads and the intent vouches for',
    sources: ['intent nodes.*.unread'],
  },
  hopsUnknown: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Hops whose MTU could not be read',
    sources: ['survey'],
  },
  effectThere: {
    type: 'text',
    origin: 'derived',
    meaning: 'What the narrowest hop breaks from `from` to `to`',
    absentWhen: 'the declared packet passes, or is not known to fail',
    sources: ['RFC 1191, RFC 9293 MSS; the position of the narrowest hop'],
  },
  effectBack: {
    type: 'text',
    origin: 'derived',
    meaning: 'What the narrowest hop breaks from `to` to `from`',
    absentWhen: 'the declared packet passes, or is not known to fail',
    sources: ['RFC 1191, RFC 9293 MSS; the position of the narrowest hop'],
  },
  effects: {
    type: 'text',
    origin: 'derived',
    meaning: 'What the narrowest hop breaks in each direction, said once where both are alike',
    absentWhen: 'the declared packet passes, or is not known to fail',
    sources: ['path.effectThere, path.effectBack'],
  },
} as const satisfies Record<string, FactEntry>;

/** Facts of one direction of a path, as the sending node sees it. */
export const directionFacts = {
  id: {
    type: 'text',
    origin: 'derived',
    meaning: 'Path and direction, as `plotting: plot-1 to vault`',
    sources: ['intent paths'],
  },
  path: {
    type: 'text',
    origin: 'declared',
    meaning: 'Identifier of its path',
    sources: ['intent paths'],
  },
  from: {
    type: 'text',
    origin: 'declared',
    meaning: 'The sending node',
    sources: ['intent paths'],
  },
  to: {
    type: 'text',
    origin: 'declared',
    meaning: 'The receiving node',
    sources: ['intent paths'],
  },
  declaredMtuBytes: {
    type: 'number',
    origin: 'declared',
    unit: 'bytes',
    meaning: 'IP packet that its path is declared to carry',
    absentWhen: 'none is declared',
    sources: ['intent paths.*.mtu, segments.*.mtu'],
  },
  narrowestPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'As of its path: the hop that passes the smallest packet',
    absentWhen: 'no hop could be read',
    sources: ['path.narrowestPort'],
  },
  toAddress: {
    type: 'text',
    origin: 'derived',
    meaning: 'The address of the receiver that was asked for',
    absentWhen: 'no address of the receiver is known',
    sources: ['survey routes'],
  },
  leavesBy: {
    type: 'text',
    origin: 'read',
    meaning: 'Port by which the traffic leaves the sender',
    absentWhen: 'the sender could not be read or was not asked',
    sources: ['ip route get', 'route -n get'],
  },
  declaredPorts: {
    type: 'texts',
    origin: 'derived',
    meaning:
      'Ports of the sender by which the intent lets it leave, and the layers above them; empty when no link is declared',
    sources: ['intent links, port.lowerPorts'],
  },
  leavesByDeclaredPort: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The traffic leaves by a declared port',
    absentWhen:
      'the route is not known; absent without a reason: no link of the sender is declared',
    sources: ['direction.leavesBy, direction.declaredPorts'],
  },
  routeMtuBytes: {
    type: 'number',
    origin: 'read',
    unit: 'bytes',
    meaning: 'MTU that the route itself carries',
    absentWhen: 'the route carries none',
    sources: ['ip route get metrics mtu', 'route -n get mtu'],
  },
  sessionBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning:
      'IP packet that live TCP sessions with the receiver agreed on, from their segment size',
    absentWhen: 'no live session with the receiver was seen',
    sources: ['ss -tino mss'],
  },
  farEndSmall: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'TCP sessions with the receiver use smaller segments than the sender offers and the path declares: the far end, or something that clamps the size, is small',
    absentWhen: 'no live session was seen, or no MTU is declared',
    sources: ['ss -tino mss against advmss'],
  },
} as const satisfies Record<string, FactEntry>;
