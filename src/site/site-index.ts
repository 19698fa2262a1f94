import type { PortSurvey, Survey } from '../facts/survey.ts';
import type { DeclaredLink, DeclaredSegment, Intent } from '../intent/types.ts';
import { countedFrom, type EarlierReading } from './counted-since.ts';
import { type NodeView, viewNode } from './node-view.ts';

/** What a path or segment wants through a port. */
export interface Demand {
  readonly bytes: number;
  /** VLAN tags on the frames that carry it. */
  readonly tags: number;
}

/** A port that will be judged, while the site is put together. */
export interface PortRef {
  readonly id: string;
  readonly node: NodeView;
  /** The node's own name where it is known, else the name as declared. */
  readonly name: string;
  /** Declared by an alias of which no name is known. */
  readonly nameless: boolean;
  readonly survey?: PortSurvey;
  readonly ends: LinkEndRef[];
  readonly demands: Demand[];
  /** Holds an address that a declared path or segment stands on. */
  addressed: boolean;
}

/** One end of a link at a port. */
export interface LinkEndRef {
  readonly link: LinkRef;
  readonly side: 0 | 1;
}

/** A link with its ports found. */
export interface LinkRef {
  readonly declared: DeclaredLink;
  readonly ends: readonly [PortRef, PortRef];
  /** Segments that it names; empty: it carries any. */
  readonly segments: readonly string[];
}

/** Everything by name, so that nothing is searched for twice. */
export interface SiteIndex {
  readonly intent: Intent;
  readonly nodes: ReadonlyMap<string, NodeView>;
  readonly segments: ReadonlyMap<string, DeclaredSegment>;
  readonly links: readonly LinkRef[];
  /** Links with an end on a node, by its name. */
  readonly linksOf: ReadonlyMap<string, readonly LinkRef[]>;
  /** By id; grows while layers and routes are found. */
  readonly ports: Map<string, PortRef>;
}

/** How a site is to be joined. */
export interface BuildOptions {
  /** What nobody reads is not known, whatever the intent says of it. */
  readonly strict: boolean;
  /**
   * What was read of each node on an earlier night: counters are then judged by what they counted
   * since, and not since they began.
   */
  readonly earlier?: ReadonlyMap<string, EarlierReading>;
}

/** Looks up everything once that the site is built from. */
export function indexSite(
  intent: Intent,
  survey: Survey | undefined,
  { strict, earlier }: BuildOptions,
): SiteIndex {
  const surveys = new Map(survey?.nodes.map((node) => [node.node, node]));
  const linked = linkedNames(intent.links);
  const nodes = new Map(
    intent.nodes.map((node) => {
      const names = linked.get(node.name) ?? [];
      const own = surveys.get(node.name);
      const counted = countedFrom(earlier?.get(node.name), own, survey?.endedAt);
      const options = {
        strict,
        linked: names,
        ...(counted === undefined ? {} : { earlier: counted }),
      };
      return [node.name, viewNode(node, own, options)];
    }),
  );
  const ports = new Map<string, PortRef>();
  const links = intent.links.flatMap((declared) => linkRef(nodes, ports, declared));
  return {
    intent,
    nodes,
    segments: new Map(intent.segments.map((segment) => [segment.name, segment])),
    links,
    linksOf: linksByNode(links),
    ports,
  };
}

/** Port names as links write them, by node. */
function linkedNames(links: readonly DeclaredLink[]): ReadonlyMap<string, readonly string[]> {
  const names = new Map<string, string[]>();
  for (const { node, port } of links.flatMap(({ ends }) => ends)) {
    const known = names.get(node);
    if (known === undefined) names.set(node, [port]);
    else known.push(port);
  }
  return names;
}

function linkRef(
  nodes: ReadonlyMap<string, NodeView>,
  ports: Map<string, PortRef>,
  declared: DeclaredLink,
): LinkRef[] {
  const [a, b] = declared.ends;
  const [nodeA, nodeB] = [nodes.get(a.node), nodes.get(b.node)];
  if (nodeA === undefined || nodeB === undefined) return [];
  const ends = [portRef(ports, nodeA, a.port), portRef(ports, nodeB, b.port)] as const;
  const named = declared.untagged === undefined ? [] : [declared.untagged];
  const link = { declared, ends, segments: [...named, ...declared.tagged] };
  ends[0].ends.push({ link, side: 0 });
  ends[1].ends.push({ link, side: 1 });
  return [link];
}

function linksByNode(links: readonly LinkRef[]): Map<string, LinkRef[]> {
  const byNode = new Map<string, LinkRef[]>();
  for (const link of links) {
    for (const name of new Set(link.ends.map((end) => end.node.declared.name))) {
      const known = byNode.get(name);
      if (known === undefined) byNode.set(name, [link]);
      else known.push(link);
    }
  }
  return byNode;
}

/** Id of the port that a node calls `name`. */
export function portId(node: NodeView, name: string): string {
  return `${node.declared.name}:${node.aliases.ofName.get(name) ?? name}`;
}

/** The port that a node's own name or an alias of the intent means; made when it is new. */
export function portRef(ports: Map<string, PortRef>, node: NodeView, written: string): PortRef {
  const { found, declared, ofName } = node.aliases;
  const alias = declared.has(written) ? written : ofName.get(written);
  const survey = alias === undefined ? node.ports.get(written) : found.get(alias);
  const id = `${node.declared.name}:${alias ?? written}`;
  const known = ports.get(id);
  if (known !== undefined) return known;
  const declaredPort = declared.get(alias ?? '');
  const ref: PortRef = {
    id,
    node,
    name: survey?.name ?? declaredPort?.name ?? written,
    nameless: survey === undefined && declaredPort?.mac !== undefined && !declaredPort.name,
    ...(survey === undefined ? {} : { survey }),
    ends: [],
    demands: [],
    addressed: false,
  };
  ports.set(id, ref);
  return ref;
}
