import { type Barrier, barriersOf, type EndNames } from './path-barriers.ts';
import type { Hop } from './types.ts';

/** What a small hop breaks, in each direction. */
export interface Effects {
  readonly there: string;
  readonly back: string;
  /** Both in one text, said once where they are alike. */
  readonly all: string;
}

/** What one direction meets, and who sends. */
interface OneWay {
  readonly from: Barrier;
  readonly to: Barrier;
  readonly silent: Barrier;
  readonly router: Barrier;
  readonly sender: string;
}

/**
 * What breaks on a path that does not carry `declaredBytes`. TCP ends announce segments by the
 * interface with the address (RFC 9293 3.7.1), so a small one shrinks TCP both ways; a switch, the
 * port below that interface, and the port by which a packet comes to a router drop what is too long
 * without a word; the port by which it would leave a router answers with ICMP (RFC 1191, RFC 8201).
 */
export function pathEffects(hops: readonly Hop[], declaredBytes: number, ends: EndNames): Effects {
  const barriers = barriersOf(hops, declaredBytes);
  const { from, to } = barriers;
  const onTheWay = { from, to, ...barriers.there, sender: ends.from };
  const onTheWayBack = { from: to, to: from, ...barriers.back, sender: ends.to };
  const [there, back] = [oneWay(onTheWay), oneWay(onTheWayBack)];
  const either = [onTheWay, onTheWayBack].map((way) => oneWay({ ...way, sender: 'either end' }));
  const all =
    either[0] === either[1]
      ? `Both ways: ${either[0]}`
      : `${ends.from} to ${ends.to}: ${there}. ${ends.to} to ${ends.from}: ${back}`;
  return { there, back, all };
}

function oneWay(way: OneWay): string {
  return [tcpEffect(way), datagramEffect(way)].join('; ');
}

function tcpEffect({ from, to, silent, router, sender }: OneWay): string {
  const tcp = Math.min(from.bytes, to.bytes);
  if (tcp > silent.bytes)
    return `transfers over TCP (SMB, NFS, SSH) stall at ${silent.port}, which silently drops packets above ${silent.bytes} bytes; logins, small requests and pings pass`;
  if (tcp > router.bytes)
    return `transfers over TCP work only if the ICMP of ${router.port} (fragmentation needed, packet too big) gets back to ${sender}; where it is filtered they stall`;
  return `TCP agrees on packets of ${tcp} bytes, so only the gain of larger ones is lost`;
}

function datagramEffect({ from, to, silent, router, sender }: OneWay): string {
  const lostAbove = Math.min(silent.bytes, to.bytes);
  if (from.bytes > lostAbove && lostAbove <= router.bytes)
    return `UDP and ICMP packets above ${lostAbove} bytes from ${sender} are lost silently`;
  if (from.bytes > router.bytes)
    return `larger UDP and ICMP packets are fragmented or refused by ${router.port}`;
  return `${sender} itself sends no packet above ${from.bytes} bytes`;
}
