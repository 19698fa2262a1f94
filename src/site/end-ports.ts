import { byName } from '../facts/order.ts';
import { portAddresses } from './addresses.ts';
import type { ChosenRoute } from './choose-route.ts';
import { stackAbove } from './layers.ts';
import type { NodeView } from './node-view.ts';
import type { Footing } from './path-stack.ts';
import { addressedAbove } from './path-stack.ts';
import { type LinkRef, type PortRef, portId, type SiteIndex } from './site-index.ts';
import { carried, taggingOn } from './tagging.ts';

/** A link at one end of a path, with the segment that it carries there. */
interface EndLink {
  readonly link: LinkRef;
  readonly port: PortRef;
  readonly segment: string;
}

function linksAt(index: SiteIndex, node: NodeView, segments: readonly string[]): EndLink[] {
  const { name } = node.declared;
  return (index.linksOf.get(name) ?? []).flatMap((link) => {
    const port = link.ends[link.ends[0].node.declared.name === name ? 0 : 1];
    return carried(link, segments).map((segment) => ({ link, port, segment }));
  });
}

/** Addresses of a node on its declared links in `segments`. */
export function declaredAddresses(
  index: SiteIndex,
  node: NodeView,
  segments: readonly string[],
): string[] {
  const names = linksAt(index, node, segments).flatMap(({ link, port, segment }) =>
    addressedAbove(node, port.name, taggingOn(index, link, segment)),
  );
  return [...new Set(names.flatMap((name) => portAddresses(node, name) ?? []))];
}

/** Ids of the ports by which the intent lets a node leave, and of the layers above them. */
export function doors(index: SiteIndex, node: NodeView, segments: readonly string[]): string[] {
  const found = new Set<string>();
  for (const { link, port, segment } of linksAt(index, node, segments)) {
    found.add(port.id);
    const { heights } = stackAbove(node, port.name, taggingOn(index, link, segment));
    if (port.survey === undefined) continue;
    for (const name of heights.keys()) found.add(portId(node, name));
  }
  return [...found].sort(byName);
}

/** What tells on which interface of its own a node stands for one peer. */
export function footing(there: ChosenRoute | undefined, back: ChosenRoute | undefined): Footing {
  return {
    ...(there?.device === undefined ? {} : { device: there.device }),
    ...(back === undefined ? {} : { address: back.to }),
  };
}
