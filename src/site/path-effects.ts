import type { Hop } from './types.ts';

/** What a small hop breaks, in each direction. */
export interface Effects {
  readonly there: string;
  readonly back: string;
  /** Both in one text, said once where they are alike. */
  readonly all: string;
}

/** The smallest packet of each part of the way, as far as known; the declared one where not. */
interface Sizes {
  readonly from: number;
  readonly to: number;
  readonly middle: number;
  readonly router: number;
}

/** Names that stand in the sentences. */
interface Names {
  readonly sender: string;
  readonly receiver: string;
  readonly middle: string;
  readonly router: string;
}

/**
 * What breaks on a path that does not carry `declaredBytes`. TCP ends announce segments by their
 * own interfaces (RFC 9293 3.7.1), so a small end shrinks TCP both ways; a switch drops what is
 * too long without a word; a router answers with ICMP (RFC 1191, RFC 8201).
 */
export function pathEffects(
  hops: readonly Hop[],
  declaredBytes: number,
  ends: { readonly from: string; readonly to: string },
): Effects {
  const smallest = (position: Hop['position']) => smallestAt(hops, position, declaredBytes);
  const [from, to] = [smallest('from'), smallest('to')];
  const [middle, router] = [smallest('switch'), smallest('router')];
  const sizes = { from: from.bytes, to: to.bytes, middle: middle.bytes, router: router.bytes };
  const through = { middle: middle.port, router: router.port };
  const there = oneWay(sizes, { sender: ends.from, receiver: ends.to, ...through });
  const back = oneWay(
    { ...sizes, from: sizes.to, to: sizes.from },
    { sender: ends.to, receiver: ends.from, ...through },
  );
  const alike = oneWay(sizes, { sender: 'either end', receiver: 'the other', ...through });
  const all =
    sizes.from === sizes.to
      ? `Both ways: ${alike}`
      : `${ends.from} to ${ends.to}: ${there}. ${ends.to} to ${ends.from}: ${back}`;
  return { there, back, all };
}

function smallestAt(hops: readonly Hop[], position: Hop['position'], declaredBytes: number) {
  let found = { bytes: declaredBytes, port: '' };
  for (const { position: where, clearance, port } of hops) {
    const bytes = clearance.atMostBytes ?? declaredBytes;
    if (where === position && bytes < found.bytes) found = { bytes, port: port.id };
  }
  return found;
}

function oneWay(sizes: Sizes, names: Names): string {
  const tcp = Math.min(sizes.from, sizes.to);
  return [tcpEffect(tcp, sizes, names), datagramEffect(sizes, names)].join('; ');
}

function tcpEffect(tcp: number, sizes: Sizes, names: Names): string {
  if (tcp > sizes.middle)
    return `transfers over TCP (SMB, NFS, SSH) stall at ${names.middle}, which silently drops packets above ${sizes.middle} bytes; logins, small requests and pings pass`;
  if (tcp > sizes.router)
    return `transfers over TCP work only if the ICMP of ${names.router} (fragmentation needed, packet too big) gets back to ${names.sender}; where it is filtered they stall`;
  return `TCP agrees on packets of ${tcp} bytes, so only the gain of larger ones is lost`;
}

function datagramEffect(sizes: Sizes, names: Names): string {
  const silent = Math.min(sizes.middle, sizes.to);
  if (sizes.from > silent && silent <= sizes.router)
    return `UDP and ICMP packets above ${silent} bytes from ${names.sender} are lost silently`;
  if (sizes.from > sizes.router)
    return `larger UDP and ICMP packets are fragmented or refused by ${names.router}`;
  return `${names.sender} itself sends no packet above ${sizes.from} bytes`;
}
