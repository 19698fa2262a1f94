import { byName } from '../facts/order.ts';
import type { NodeView } from './node-view.ts';
import type { Company } from './port-neighbour.ts';
import { portId, type SiteIndex } from './site-index.ts';
import type { Station } from './stations.ts';

/**
 * Declared nodes that announce themselves at ports of `node` that no link names. A link that both
 * ends hear is told at the first of them; one that belongs to something that moved is not told.
 */
export function undeclaredLinks(
  index: SiteIndex,
  node: NodeView,
  { hearing, moved }: Company,
): string[] | undefined {
  if (node.gap !== undefined || node.survey?.neighbours === undefined) return undefined;
  if (!index.linksOf.has(node.declared.name)) return undefined;
  const isLinked = (id: string) => (index.ports.get(id)?.ends.length ?? 0) > 0;
  const isMoved = ({ declared: { name } }: NodeView) =>
    (index.linksOf.get(name) ?? []).some(({ ends }) => ends.some((end) => moved.has(end.id)));
  const toldThere = (station: Station, here: string) =>
    byName(station.node.declared.name, node.declared.name) < 0 &&
    hearing
      .sightings(node.declared.name)
      .some(
        ({ by, kind, station: { port } }) =>
          kind === 'lldp' && by === station.node && port === here,
      );
  const found: string[] = [];
  for (const port of hearing.portsOf(node)) {
    const here = portId(node, port);
    if (isLinked(here)) continue;
    for (const { station } of hearing.at(node, port).neighbours) {
      if (station === undefined) continue;
      const elsewhere = station.port === undefined ? isMoved(station.node) : isLinked(station.port);
      if (elsewhere || (hears(station) && toldThere(station, here))) continue;
      found.push(`${here} - ${station.port ?? station.node.declared.name}`);
    }
  }
  return [...new Set(found)].sort(byName);
}

/** Whether the other node reads its own neighbours, and so tells of the link itself. */
function hears({ node }: Station): boolean {
  return node.gap === undefined && node.survey?.neighbours !== undefined;
}
