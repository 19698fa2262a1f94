import { bottomPorts } from './aggregates.ts';
import type { NodeView } from './node-view.ts';
import { type Heard, recognise } from './recognise.ts';
import { type PortRef, portId, type SiteIndex } from './site-index.ts';
import { indexStations, isStationMac, type Station, type Stations } from './stations.ts';

/** Stations that are looked at behind one node, at most. */
const macsPerNodeMax = 100_000;

/** What was heard at one port of a node that was read. */
export interface PortHearing {
  readonly neighbours: readonly Heard[];
  /** Stations behind it, or behind the aggregate that it is a member of. */
  readonly macs: ReadonlySet<string>;
}

/** One place at which a declared node was heard. */
export interface Sighting {
  readonly station: Station;
  /** The node that heard it. */
  readonly by: NodeView;
  /** Ids of the port, or of all members of the aggregate, at which it heard it. */
  readonly ports: readonly string[];
  /**
   * `lldp`: it announced itself. Else its MAC address was learnt: behind a port whose declared far
   * end passes no frames on (`edge`), behind a port that no link names and that does not look like
   * the way to another switch (`spare`), or on the way to somewhere (`passing`).
   */
  readonly kind: 'lldp' | 'edge' | 'spare' | 'passing';
}

/** All that was heard on the site. */
export interface Hearing {
  readonly stations: Stations;
  readonly at: (node: NodeView, port: string) => PortHearing;
  /** Of one node, by its name. */
  readonly sightings: (node: string) => readonly Sighting[];
  /** Ports of a node at which something announced itself or stations were learnt. */
  readonly portsOf: (node: NodeView) => readonly string[];
}

type Listening = { readonly neighbours: Heard[]; readonly macs: Set<string> };

const nothing: PortHearing = { neighbours: [], macs: new Set() };

/** Reads neighbours and forwarding tables of all nodes against what the intent declares. */
export function hear(index: SiteIndex): Hearing {
  const stations = indexStations(index.nodes.values());
  const heard = new Map<NodeView, ReadonlyMap<string, Listening>>();
  const sightings = new Map<string, Sighting[]>();
  for (const node of index.nodes.values()) {
    const ports = listen(index, node, stations);
    heard.set(node, ports);
    for (const sighting of sightingsBy(index, node, { ports, stations })) {
      const { name } = sighting.station.node.declared;
      const list = sightings.get(name);
      if (list === undefined) sightings.set(name, [sighting]);
      else list.push(sighting);
    }
  }
  return {
    stations,
    at: (node, port) => heard.get(node)?.get(port) ?? nothing,
    sightings: (name) => sightings.get(name) ?? [],
    portsOf: (node) => [...(heard.get(node)?.keys() ?? [])],
  };
}

function listen(
  index: SiteIndex,
  node: NodeView,
  stations: Stations,
): ReadonlyMap<string, Listening> {
  const ports = new Map<string, Listening>();
  const at = (port: string): Listening => {
    const known = ports.get(port) ?? { neighbours: [], macs: new Set<string>() };
    ports.set(port, known);
    return known;
  };
  // Of a node of which another machine may have spoken, nothing is believed.
  if (node.gap !== undefined) return ports;
  for (const reading of node.survey?.neighbours ?? []) {
    const heard = recognise(reading, stations, index.linksOf);
    // What hears itself tells of no far end.
    if (heard.station?.node !== node) at(reading.port).neighbours.push(heard);
  }
  let left = macsPerNodeMax;
  for (const { port, macs } of node.survey?.forwarding ?? []) {
    for (const bottom of bottomPorts(node, port)) {
      const { macs: behind } = at(bottom);
      for (const mac of macs.slice(0, left)) if (isStationMac(mac)) behind.add(mac);
    }
    left = Math.max(0, left - macs.length);
  }
  return ports;
}

interface Heeded {
  readonly ports: ReadonlyMap<string, Listening>;
  readonly stations: Stations;
}

function sightingsBy(index: SiteIndex, by: NodeView, { ports, stations }: Heeded): Sighting[] {
  const found: Sighting[] = [];
  for (const [port, { neighbours }] of ports) {
    for (const { station } of neighbours)
      if (station !== undefined)
        found.push(
          { station, by, ports: [portId(by, port)], kind: 'lldp' },
          ...back(by, port, station),
        );
  }
  for (const { port, macs } of by.gap === undefined ? (by.survey?.forwarding ?? []) : []) {
    const bottoms = bottomPorts(by, port);
    const kind = kindOf(index, by, { ports, stations, bottoms });
    const ids = bottoms.map((bottom) => portId(by, bottom));
    for (const mac of macs.slice(0, macsPerNodeMax)) {
      const station = stations.byMac(mac);
      if (station !== undefined && station.node !== by)
        found.push({ station, by, ports: ids, kind });
    }
  }
  return found;
}

/** Who hears a port of another node is heard there as well. */
function back(by: NodeView, port: string, { node, port: heard }: Station): Sighting[] {
  if (heard === undefined) return [];
  return [
    { station: { node: by, port: portId(by, port) }, by: node, ports: [heard], kind: 'lldp' },
  ];
}

function kindOf(
  index: SiteIndex,
  node: NodeView,
  { ports, stations, bottoms }: Heeded & { readonly bottoms: readonly string[] },
): Sighting['kind'] {
  const refs = bottoms.flatMap((name) => index.ports.get(portId(node, name)) ?? []);
  const far = refs.flatMap((ref) => farNode(ref) ?? []);
  if (far.length > 0) return far.some((each) => each.forwards) ? 'passing' : 'edge';
  const nodes = new Set<NodeView>();
  for (const bottom of bottoms) {
    const { neighbours = [], macs = new Set<string>() } = ports.get(bottom) ?? {};
    if (neighbours.some(passesOn)) return 'passing';
    for (const mac of macs) {
      const station = stations.byMac(mac);
      if (station !== undefined) nodes.add(station.node);
    }
  }
  return nodes.size > 1 ? 'passing' : 'spare';
}

function passesOn({ station, reading }: Heard): boolean {
  return station?.node.forwards === true || reading.capabilities.includes('bridge');
}

/** The node at the declared far end of a port; undefined where no link ends there. */
export function farNode({ ends }: PortRef): NodeView | undefined {
  const [end] = ends;
  return end?.link.ends[end.side === 0 ? 1 : 0].node;
}
