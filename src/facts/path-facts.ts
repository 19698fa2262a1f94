import type { FactEntry } from './entry.ts';

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
  portToRaise: {
    type: 'text',
    origin: 'derived',
    meaning:
      'Where to raise the MTU so that the narrowest hop passes more: itself, or a port of its stack',
    absentWhen: 'no hop could be read',
    sources: ['path.narrowestPort, port.portToRaise'],
  },
  slowestPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'The hop that runs at the lowest speed',
    absentWhen: 'no speed is known',
    sources: ['port.speedMbps of every hop'],
  },
  slowestLink: {
    type: 'text',
    origin: 'derived',
    meaning: 'The declared link of the hop that runs at the lowest speed',
    absentWhen: 'no speed is known, or that hop is in no declared link',
    sources: ['path.slowestPort, intent links'],
  },
  slowestMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning:
      'Lowest speed on the ways that are not known to be out of use, of one member where an aggregate is crossed',
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
  goodputAtMostMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning:
      'TCP goodput beyond which one flow cannot get, by the hops that were read, in whole Mb/s',
    absentWhen: 'no speed or no packet size is known',
    sources: ['RFC 6349 4.1.1 over path.slowestMbps and path.mtuAtMostBytes'],
  },
  goodputInReach: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The ceiling of one TCP flow is at least the goodput that the owner wants',
    absentWhen:
      'the ceiling is not known, a link is down, or which of several ways the traffic takes is not known; absent without a reason: none is declared, the ends are not joined, or only several flows over an aggregate can be meant',
    sources: ['path.ceilingMbps, path.declaredGoodputMbps, port.operUp'],
  },
  goodputLacks: {
    type: 'text',
    origin: 'derived',
    meaning:
      'What the wanted goodput lacks: `packet` where the declared packet would suffice and does not pass, `way` where the spanning tree blocks a way that would, else `speed`',
    absentWhen: 'the wanted goodput is in reach, or that is not known',
    sources: ['path.goodputInReach, path.carriesDeclaredMtu, path.takesBestWay'],
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
  blockedPorts: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Hops that the spanning tree blocks; empty where it blocks none',
    absentWhen: 'no spanning tree was read on the way',
    sources: ['port.spanningTree of every hop'],
  },
  takesBestWay: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'Of the declared ways that are up, the spanning tree leaves open one that is as fast as any',
    absentWhen: 'no spanning tree was read on the way, or no way is up',
    sources: ['path.wayInUseMbps, path.bestWayMbps'],
  },
  bestWayMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Speed of the slowest link of the fastest declared way that is up',
    absentWhen: 'no spanning tree was read on the way, or a speed is not known',
    sources: ['port.speedMbps, intent links.*.speed'],
  },
  wayInUseMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'The same of the ways that the spanning tree leaves open',
    absentWhen:
      'no spanning tree was read on the way, it leaves none open, or a speed is not known',
    sources: ['port.speedMbps, port.spanningTree'],
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
  passesWhatIsSent: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'Every hop that drops without a word passes the packets that TCP of both ends agrees on',
    absentWhen:
      'what the ends send, or whether it passes, is not known; absent without a reason: the declared packet does not pass, or is not known to',
    sources: ['port.passesAtLeastBytes, port.passesAtMostBytes of the hops; port.addresses'],
  },
  sentBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'IP packet in which TCP of both ends sends in full size',
    absentWhen: 'what they send passes, or that is not known',
    sources: ['RFC 9293 3.7.1; the interfaces of the ends that have an address'],
  },
  stallsAt: {
    type: 'text',
    origin: 'derived',
    meaning: 'The first port on the way that drops what the ends send',
    absentWhen: 'what they send passes, or that is not known',
    sources: ['path.passesWhatIsSent'],
  },
  stallsAboveBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'IP packet beyond which that port passes nothing',
    absentWhen: 'what the ends send passes, or that is not known',
    sources: ['port.passesAtMostBytes of path.stallsAt'],
  },
} as const satisfies Record<string, FactEntry>;
