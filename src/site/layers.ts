import type { NodeView } from './node-view.ts';
import { isPhysical } from './port-kind.ts';

/** Ports built on one port that are looked at, at most. */
const layersMax = 256;

/**
 * The VLAN that frames of a segment bear on a link: its number when tagged, `untagged`, or `any`
 * when the link or the segment does not say.
 */
export type Tagging = number | 'untagged' | 'any';

/** A port above another. */
export interface Layer {
  readonly name: string;
  /** How many layers above the port of the link; 0 is that port itself. */
  readonly height: number;
  /** A VLAN interface was crossed on the way up. */
  readonly throughVlan: boolean;
}

/** What of a node's stack of interfaces stands on one port. */
export interface Stack {
  /** Interfaces at which frames of the segment can end, the port itself among them. */
  readonly ends: readonly Layer[];
  /** Every interface on the way up to one of them, by name with its height. */
  readonly heights: ReadonlyMap<string, number>;
  /** A VLAN interface stands there of which the number was not read: it may be one of the ends. */
  readonly unsure: boolean;
}

/** Walks up from the port `base` as frames with that tagging do. */
export function stackAbove(node: NodeView, base: string, tagging: Tagging): Stack {
  const ends: Layer[] = [];
  const heights = new Map<string, number>();
  const seen = new Set<string>();
  let unsure = false;
  // Drivers of Windows tag by themselves: the adapter then is its own VLAN interface.
  const tags = typeof tagging === 'number' && node.ports.get(base)?.facts.vlanId === tagging;
  const queue: Layer[] = [{ name: base, height: 0, throughVlan: tags }];
  for (let at = 0; at < queue.length && at < layersMax; at += 1) {
    const layer = queue[at] as Layer;
    heights.set(layer.name, Math.max(layer.height, heights.get(layer.name) ?? 0));
    if (typeof tagging !== 'number' || layer.throughVlan) ends.push(layer);
    for (const name of node.uppers.get(layer.name) ?? []) {
      unsure ||= typeof tagging === 'number' && isNumberless(node, name);
      const next = stepUp(node, layer, name, tagging);
      const key = `${name}\n${next?.throughVlan}`;
      if (next === undefined || seen.has(key)) continue;
      seen.add(key);
      queue.push(next);
    }
  }
  return { ends, heights, unsure };
}

function stepUp(node: NodeView, from: Layer, name: string, tagging: Tagging): Layer | undefined {
  const facts = node.ports.get(name)?.facts;
  const height = from.height + 1;
  if (facts?.kind !== 'vlan' && facts?.vlanId === undefined)
    return { name, height, throughVlan: from.throughVlan };
  if (tagging === 'untagged' || (from.throughVlan && tagging !== 'any')) return undefined;
  if (typeof tagging === 'number' && facts.vlanId !== tagging) return undefined;
  return { name, height, throughVlan: true };
}

function isNumberless(node: NodeView, name: string): boolean {
  const facts = node.ports.get(name)?.facts;
  return facts?.kind === 'vlan' && facts.vlanId === undefined;
}

/** `top` and everything that it is built on, top first, each once. */
export function stackBelow(node: NodeView, top: string): string[] {
  const names = new Set([top]);
  for (const name of names) {
    if (names.size > layersMax) break;
    for (const lower of node.ports.get(name)?.facts.lowerPorts ?? []) names.add(lower);
  }
  return [...names];
}

/** What packets to the wire cross: hardware, or what stands on it; not the other members of a bridge. */
export function isLayer(node: NodeView, name: string): boolean {
  const facts = node.ports.get(name)?.facts;
  return facts === undefined || isPhysical(facts) || (facts.lowerPorts ?? []).length > 0;
}
