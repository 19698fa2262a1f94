import { cleanText } from '../facts/clean-text.ts';
import type { NeighbourReading } from '../facts/survey.ts';
import type { NodeView } from './node-view.ts';
import { type LinkRef, portId } from './site-index.ts';
import type { Station, Stations } from './stations.ts';

/** What announces itself at a port. */
export interface Heard {
  readonly reading: NeighbourReading;
  /** The declared node that it is; absent: none that is known, or not for certain. */
  readonly station?: Station;
  /** Its signs point to several declared nodes. */
  readonly doubtful: boolean;
  /** What it calls itself, for the reader. */
  readonly words: string;
}

/**
 * Recognises a neighbour by MAC addresses, system name and management addresses. Signs that point
 * to different nodes point to none.
 */
export function recognise(
  reading: NeighbourReading,
  stations: Stations,
  linksOf: ReadonlyMap<string, readonly LinkRef[]>,
): Heard {
  const [node, other] = nodesOf(reading, stations);
  const words = wordsOf(reading);
  const doubtful = other !== undefined;
  if (node === undefined || doubtful) return { reading, words, doubtful };
  const port = portOf(reading, node, { stations, links: linksOf.get(node.declared.name) ?? [] });
  return { reading, words, doubtful, station: port === undefined ? { node } : { node, port } };
}

function nodesOf(reading: NeighbourReading, stations: Stations): ReadonlySet<NodeView> {
  const { chassis, chassisKind, portId: port, portIdKind, systemName, addresses } = reading;
  const signs = [
    chassisKind === 'mac' ? stations.byMac(chassis)?.node : undefined,
    portIdKind === 'mac' ? stations.byMac(port)?.node : undefined,
    systemName === undefined ? undefined : stations.byName(systemName),
    chassisKind === 'address' ? stations.byAddress(chassis) : undefined,
    ...addresses.map((address) => stations.byAddress(address)),
  ];
  return new Set(signs.filter((node) => node !== undefined));
}

/** `loft-sw xg1`: the name that it announces, else its chassis, and its port. */
function wordsOf({ systemName, chassis, portId: port, portText }: NeighbourReading): string {
  return cleanText(`${systemName ?? chassis} ${port || portText || ''}`);
}

/** A port identifier is a MAC address, or in one of several ways the name or alias of a port. */
function portOf(
  { portId: id, portIdKind, portText }: NeighbourReading,
  node: NodeView,
  { stations, links }: { readonly stations: Stations; readonly links: readonly LinkRef[] },
): string | undefined {
  if (portIdKind === 'mac') {
    const station = stations.byMac(id);
    if (station?.node === node && station.port !== undefined) return station.port;
  }
  const texts = [portIdKind === 'mac' || portIdKind === 'address' ? undefined : id, portText];
  for (const text of texts) {
    const found = text === undefined ? undefined : portNamed(node, text, links);
    if (found !== undefined) return found;
  }
  return undefined;
}

function portNamed(node: NodeView, text: string, links: readonly LinkRef[]): string | undefined {
  const { ports, aliases } = node;
  if (ports.has(text)) return portId(node, text);
  if (node.survey === undefined || ports.size === 0) {
    const ends = links.flatMap((link) => link.ends.filter((end) => end.node === node));
    const named = ends.some((end) => end.name === text) || aliases.ofName.has(text);
    return named ? portId(node, text) : undefined;
  }
  const [one, more] = [...ports.values()].filter(({ facts }) => facts.alias === text);
  return one === undefined || more !== undefined ? undefined : portId(node, one.name);
}
