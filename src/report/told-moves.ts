import type { Change } from '../drift/known-node.ts';
import type { Site, SitePort } from '../site/types.ts';

/**
 * The changes that the operator is told of: those of nodes, and of ports that the intent names or
 * that one of these stands on. What a port does whose far end may sleep or be away is its own
 * business, and so is a port that nothing declares: both are kept, and not told.
 */
export function toldMoves(changes: readonly Change[], site: Site): readonly Change[] {
  const ports = new Map(site.ports.map((port) => [`${port.node}\n${ownName(port)}`, port]));
  const away = restless(site);
  return changes.filter(({ node, port, kind, ...change }) => {
    if (port === undefined) return true;
    const named = kind === 'port-renamed' && 'to' in change ? (change.to ?? port) : port;
    const found = ports.get(`${node}\n${named}`);
    return found !== undefined && !away.has(found.id);
  });
}

/** The node's own name, where it was found; a port that is gone has only the declared one. */
function ownName({ id, survey }: SitePort): string {
  return survey?.name ?? id.slice(id.indexOf(':') + 1);
}

/** Ports of links with an end on a node that may sleep or be away. */
function restless({ links, intent }: Site): ReadonlySet<string> {
  const away = new Set(
    intent.nodes.filter((node) => node.sleeps || node.mayBeAbsent).map(({ name }) => name),
  );
  return new Set(
    links
      .filter(({ ends }) => ends.some(({ node }) => away.has(node)))
      .flatMap(({ ends }) => ends.map(({ id }) => id)),
  );
}
