import type { Hop, SitePath } from '../site/types.ts';

/** Hops of a path that its packets cross for certain: where there is another way, only those in use. */
export function crossedHops({ hops }: SitePath): readonly Hop[] {
  const open = hops.filter(({ inUse }) => inUse !== false);
  const perNode = new Map<string, number>();
  for (const { layer, port } of open) {
    if (!layer) perNode.set(port.node, (perNode.get(port.node) ?? 0) + 1);
  }
  const forked = open.some(({ port, position, layer }) => {
    const doors = position === 'from' || position === 'to' ? 1 : 2;
    return !layer && (perNode.get(port.node) ?? 0) > doors;
  });
  return forked ? open.filter(({ inUse }) => inUse === true) : open;
}

/** The number that a hop itself calls its MTU; undefined where it was not read. */
export function saidMtuBytes({ port }: Hop): number | undefined {
  const said = port.subject.facts['mtuBytes'];
  return typeof said === 'number' ? said : undefined;
}
