import { isIP } from 'node:net';
import { byName } from '../facts/order.ts';
import type { Access, DeclaredNode, DeclaredPath, Intent } from '../intent/types.ts';
import type { FarPort } from './asleep.ts';
import { routesPerNodeMax } from './types.ts';

/** What is to be read of one node. */
export interface PlannedNode {
  readonly name: string;
  /** Host name or literal address; absent for this machine. */
  readonly at?: string;
  readonly atPort?: number;
  readonly access: readonly Access[];
  /** Fingerprint of its SSH host key, where the intent names it. */
  readonly hostKey?: string;
  /** Word for where it can be reached from; absent: from anywhere in the site. */
  readonly reach?: string;
  /** Names of the nodes that its paths lead to. */
  readonly peerNames: readonly string[];
  /**
   * Of a node that may sleep: the other ends of its links on nodes that are read first. Where none
   * of them has a link, it is not asked. Absent: asked with all others.
   */
  readonly farPorts?: readonly FarPort[];
}

/** All that one run is to read. */
export interface SurveyPlan {
  readonly site: string;
  /** In the order of their names. */
  readonly nodes: readonly PlannedNode[];
  /** Where each node of the intent is, for asking routes to it. */
  readonly whereabouts: ReadonlyMap<string, string>;
}

/** Name of the node when hopgauge reads the machine it runs on. */
export const thisMachine = 'this-machine';

/** The plan of an intent: all nodes with an access, or those of `only`. */
export function planSurvey(intent: Intent, only?: ReadonlySet<string>): SurveyPlan {
  const peers = peersOf(intent.paths);
  const nodes = intent.nodes
    .filter((node) => node.access.length > 0 && (only === undefined || only.has(node.name)))
    .map((node) => plannedNode(intent, node, peers.get(node.name)));
  nodes.sort((a, b) => byName(a.name, b.name));
  const whereabouts = new Map<string, string>();
  for (const node of intent.nodes) if (node.at !== undefined) whereabouts.set(node.name, node.at);
  return { site: intent.site, nodes, whereabouts };
}

/** The plan that needs no intent: this machine alone. */
export function planThisMachine(): SurveyPlan {
  const access: readonly Access[] = [{ via: 'local', name: 'local' }];
  const node = { name: thisMachine, access, peerNames: [] };
  return { site: 'this machine', nodes: [node], whereabouts: new Map() };
}

function plannedNode(
  intent: Intent,
  node: DeclaredNode,
  peers: ReadonlySet<string> | undefined,
): PlannedNode {
  const farPorts = node.sleeps ? farPortsOf(intent, node.name) : [];
  const { hostKey } = node.identity;
  return {
    name: node.name,
    ...(node.at === undefined ? {} : { at: node.at }),
    ...(node.atPort === undefined ? {} : { atPort: node.atPort }),
    ...(hostKey === undefined ? {} : { hostKey }),
    ...(node.reach === undefined ? {} : { reach: node.reach }),
    access: node.access,
    peerNames: [...(peers ?? [])].sort(byName).slice(0, routesPerNodeMax),
    ...(farPorts.length === 0 ? {} : { farPorts }),
  };
}

/** Empty where an other end is on a node that nobody reads, or that may sleep itself. */
function farPortsOf({ nodes, links }: Intent, name: string): readonly FarPort[] {
  const byNodeName = new Map(nodes.map((node) => [node.name, node]));
  const ends = links
    .filter((link) => link.ends.some(({ node }) => node === name))
    .flatMap((link) => link.ends.filter(({ node }) => node !== name));
  const far = ends.flatMap(({ node, port }) => {
    const declared = byNodeName.get(node);
    if (declared === undefined || declared.access.length === 0 || declared.sleeps) return [];
    const alias = declared.ports.find((each) => each.alias === port);
    const own = alias?.name;
    return [{ node, names: own === undefined ? [port] : [port, own] }];
  });
  return far.length === ends.length ? far : [];
}

function peersOf(paths: readonly DeclaredPath[]): Map<string, Set<string>> {
  const peers = new Map<string, Set<string>>();
  const add = (node: string, peer: string) => {
    const known = peers.get(node) ?? new Set<string>();
    peers.set(node, known);
    if (peer !== node && known.size < routesPerNodeMax) known.add(peer);
  };
  for (const path of paths) {
    for (const from of path.from) {
      for (const to of path.to) {
        add(from, to);
        add(to, from);
      }
    }
  }
  return peers;
}

/** True for what may be asked as an address: a literal IPv4 or IPv6 address without a zone. */
export function isLiteralAddress(text: string): boolean {
  return isIP(text) !== 0 && !text.includes('%');
}
