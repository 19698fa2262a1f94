import { directionProofFacts } from './direction-proof-facts.ts';
import type { FactEntry } from './entry.ts';

/** Facts of one direction of a path, as the sending node sees it. */
export const directionFacts = {
  id: {
    type: 'text',
    origin: 'derived',
    meaning: 'Path and direction, as `PATH: NODE to NODE`',
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
    label: 'which packet is declared to pass it',
    absentWhen: 'none is declared',
    sources: ['intent paths.*.mtu, segments.*.mtu'],
  },
  declaredGoodputMbps: {
    type: 'number',
    origin: 'declared',
    unit: 'Mb/s',
    meaning: 'TCP payload per second that its path is declared to carry',
    label: 'which goodput is declared',
    absentWhen: 'none is declared',
    sources: ['intent paths.*.goodput'],
  },
  narrowestPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'As of its path: the hop that passes the smallest packet',
    absentWhen: 'no hop could be read',
    sources: ['path.narrowestPort'],
  },
  smallPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'Where to raise the MTU, where its path is known not to carry the declared packet',
    absentWhen: 'the path carries it, or that is not known',
    sources: ['path.portToRaise, path.carriesDeclaredMtu'],
  },
  routedWhole: {
    type: 'flag',
    origin: 'derived',
    meaning: "Every router on the way passes the sender's largest packet as it is",
    label: 'whether every router passes the largest packet of its sender',
    absentWhen: 'a size is not known; absent without a reason: no router is on the way',
    sources: ['port.passesAtMostBytes of routers, port.passesAtLeastBytes of the sender'],
  },
  senderBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'The largest packet that the sender sends on this way',
    absentWhen: 'there is no `routedWhole`, or it is not known',
    sources: ['port.passesAtLeastBytes of the sender'],
  },
  shrinksAt: {
    type: 'text',
    origin: 'derived',
    meaning: "The port of a router that does not pass the sender's largest packet",
    absentWhen: 'there is none, or that is not known',
    sources: ['port.passesAtMostBytes of routers'],
  },
  shrinksToBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'What passes there',
    absentWhen: 'there is no `shrinksAt`',
    sources: ['port.passesAtMostBytes of routers'],
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
    label: 'whether it leaves by a declared port',
    absentWhen:
      'the route is not known; absent without a reason: no link of the sender is declared',
    sources: ['direction.leavesBy, direction.declaredPorts'],
  },
  lostLink: {
    type: 'text',
    origin: 'derived',
    meaning:
      'The link by which the sender is meant to leave, where it is down or its ends share no subnet: then another way is no fault of its own',
    absentWhen: 'there is none, or several',
    sources: ['port.operUp, link.endsShareSubnet'],
  },
  routeMtuBytes: {
    type: 'number',
    origin: 'read',
    unit: 'bytes',
    meaning: 'MTU that the route itself carries',
    label: 'the MTU of its route',
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
    label: 'whether its far end takes smaller packets',
    absentWhen: 'no live session was seen, or no MTU is declared',
    sources: ['ss -tino mss against advmss'],
  },
  ...directionProofFacts,
} as const satisfies Record<string, FactEntry>;
