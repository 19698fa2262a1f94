import { bareAddress, portAddresses } from './addresses.ts';
import { type Layer, stackAbove, stackBelow, type Tagging } from './layers.ts';
import type { NodeView } from './node-view.ts';

/** What tells which of several addressed interfaces a path stands on. */
export interface Footing {
  /** Interface by which the node's route to the peer leaves. */
  readonly device?: string;
  /** The node's own address that the peer's route goes to. */
  readonly address?: string;
}

/** Interfaces that hold an address above one port of a link, as far as they were read. */
export function addressedAbove(node: NodeView, base: string, tagging: Tagging): string[] {
  const ends = stackAbove(node, base, tagging).ends.filter(
    (layer) => (portAddresses(node, layer.name) ?? []).length > 0,
  );
  return preferUntagged(ends, tagging).map((layer) => layer.name);
}

/**
 * Layers above the port `base` of a link, by name with their height, that a path stands on: those
 * between the port and the interface that its route or address names, else all addressed ones.
 * Where no address was read they are all that frames can end at.
 */
export function pathLayers(
  node: NodeView,
  base: string,
  tagging: Tagging,
  footing: Footing,
): ReadonlyMap<string, number> {
  const stack = stackAbove(node, base, tagging);
  const layers = new Map<string, number>();
  for (const top of chooseTops(node, base, tagging, footing)) {
    for (const name of stackBelow(node, top)) {
      const height = stack.heights.get(name);
      if (height !== undefined && name !== base) layers.set(name, height);
    }
  }
  return layers;
}

function chooseTops(
  node: NodeView,
  base: string,
  tagging: Tagging,
  { device, address }: Footing,
): readonly string[] {
  const ends = stackAbove(node, base, tagging).ends;
  if (ends.some((layer) => layer.name === device)) return [device ?? ''];
  const addressed = addressedAbove(node, base, tagging);
  const holder = addressed.find((name) => holds(node, name, address));
  if (holder !== undefined) return [holder];
  if (addressed.length > 0) return addressed;
  const unknown = ends.filter((layer) => portAddresses(node, layer.name) === undefined);
  return preferUntagged(unknown, tagging).map((layer) => layer.name);
}

function holds(node: NodeView, name: string, address: string | undefined): boolean {
  const held = node.ports.get(name)?.facts.addresses ?? [];
  return address !== undefined && held.some((each) => bareAddress(each) === address);
}

/** A link that names no segment carries untagged frames, unless only VLANs stand on it. */
function preferUntagged(ends: readonly Layer[], tagging: Tagging): readonly Layer[] {
  if (tagging !== 'any') return ends;
  const untagged = ends.filter((layer) => !layer.throughVlan);
  return untagged.length > 0 ? untagged : ends;
}
