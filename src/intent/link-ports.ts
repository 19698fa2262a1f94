import { placeText, quoted } from './fault.ts';
import type { DeclaredLink, DeclaredNode, InputFault, LinkEnd } from './types.ts';

/** A fault for each port that is in two links, under one name or two, or at both ends of one. */
export function checkPortsOfLinks(
  links: readonly DeclaredLink[],
  nodes: ReadonlyMap<string, DeclaredNode>,
  faults: InputFault[],
): void {
  const used = new Map<string, LinkEnd>();
  const nameOf = portNames(nodes);
  for (const { ends } of links) {
    for (const end of ends) {
      const port = `${end.node}:${nameOf(end)}`;
      const first = used.get(port);
      if (first === undefined) used.set(port, end);
      else faults.push(usedTwice(end, first, ends.includes(first)));
    }
  }
}

/** The node's own name of the port at an end, where an alias of the intent tells it. */
function portNames(nodes: ReadonlyMap<string, DeclaredNode>): (end: LinkEnd) => string {
  const byNode = new Map<string, ReadonlyMap<string, string>>();
  for (const { name, ports } of nodes.values()) {
    byNode.set(name, new Map(ports.map((port) => [port.alias, port.name ?? port.alias])));
  }
  return ({ node, port }) => byNode.get(node)?.get(port) ?? port;
}

function usedTwice(end: LinkEnd, first: LinkEnd, sameLink: boolean): InputFault {
  const { place } = end;
  const seen = quoted(`${end.node}:${end.port}`);
  if (sameLink) {
    return {
      place,
      what: 'both ends of the link are one port',
      seen,
      remedy: 'name the other port',
    };
  }
  const where = placeText(first.place);
  if (end.port === first.port) {
    return {
      place,
      what: `the port is already in the link at ${where}`,
      seen,
      remedy: 'name another port',
    };
  }
  const what = `${quoted(end.port)} and ${quoted(first.port)} are two names of one port, which is already in the link at ${where}`;
  return { place, what, seen, remedy: 'name another port' };
}
