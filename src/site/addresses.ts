import { isIP } from 'node:net';
import type { NodeView } from './node-view.ts';

/** The address of `198.18.0.1/24`. */
export function bareAddress(withPrefix: string): string {
  return withPrefix.split('/', 1)[0] ?? '';
}

/** Addresses of one port; undefined when they were not read. */
export function portAddresses(node: NodeView, name: string): readonly string[] | undefined {
  return node.ports.get(name)?.facts.addresses?.map(bareAddress);
}

/** Every address by which a node is known: read from it, declared, or tried, in that order. */
export function nodeAddresses(node: NodeView): string[] {
  const known = new Set<string>();
  for (const name of node.ports.keys())
    for (const address of portAddresses(node, name) ?? []) known.add(address);
  const tried = (node.survey?.readings ?? []).map((reading) => literal(reading.at));
  for (const address of [literal(node.declared.at ?? ''), ...tried])
    if (address !== undefined) known.add(address);
  return [...known];
}

/** The IP address in `198.18.0.1`, `198.18.0.1:22` or `[2001:db8::1]:22`; undefined for names. */
function literal(at: string): string | undefined {
  if (isIP(at) !== 0) return at;
  const host = /^\[([^\]]+)\](?::\d+)?$/.exec(at)?.[1] ?? /^([0-9.]+):\d+$/.exec(at)?.[1] ?? '';
  return isIP(host) === 0 ? undefined : host;
}
