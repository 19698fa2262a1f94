import { findTarget } from '../diagnose/find-target.ts';
import { nearestWord } from '../intent/nearest.ts';
import type { Access, DeclaredLink, DeclaredNode, Intent } from '../intent/types.ts';
import type { WantedPort } from '../probe/find-agent-ports.ts';
import { isPlainPort } from '../probe/live-script.ts';
import { livePortsMax } from '../probe/live-types.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import type { DeclaredLine } from '../report/live-words.ts';
import { buildSite } from '../site/build-site.ts';
import type { Site } from '../site/types.ts';
import { RunFault } from './run-fault.ts';

/** The word for the machine that hopgauge runs on. */
export const here = 'here';

/** A port to watch: its name in the intent, the node's own name of it, what is declared. */
export interface LivePort extends WantedPort {
  /** `store:eth1` */
  readonly id: string;
  readonly declared: DeclaredLine;
}

/** A node to watch, and the ports of it. */
export interface LiveNode {
  readonly name: string;
  /** Absent: this machine, without an intent. */
  readonly declared?: DeclaredNode;
  /** Absent: nobody can log in to it. */
  readonly access?: Access;
  readonly ports: readonly LivePort[];
}

/** The nodes and ports that the targets name, in their order. `oneEnd`: not the far ends of links. */
export function liveNodes(
  targets: readonly string[],
  intent: Intent | undefined,
  oneEnd: boolean,
): readonly LiveNode[] {
  const site = intent === undefined ? undefined : buildSite(intent, undefined, { strict: false });
  const ends = targets.flatMap((target) => endsOf(target, site, oneEnd));
  const nodes = new Map<string, Map<string, LivePort>>();
  for (const { node, port } of ends) {
    const known = nodes.get(node) ?? new Map<string, LivePort>();
    const found = portOf(node, port, intent);
    nodes.set(node, known.set(found.name, known.get(found.name) ?? found));
  }
  const count = [...nodes.values()].reduce((sum, ports) => sum + ports.size, 0);
  if (count > livePortsMax) {
    throw usage(
      `${count} ports; ${livePortsMax} are the most that are watched at once; name fewer`,
    );
  }
  return [...nodes].map(([name, ports]) => nodeOf(name, [...ports.values()], intent));
}

interface End {
  readonly node: string;
  readonly port: string;
}

function endsOf(target: string, site: Site | undefined, oneEnd: boolean): readonly End[] {
  const at = target.indexOf(':');
  const own = at < 0 ? undefined : { node: target.slice(0, at), port: target.slice(at + 1) };
  if (target === here || own?.node === here) return [hereEnd(own?.port)];
  if (site === undefined) {
    throw usage(
      `no intent file; name it with --intent FILE, or write ${here}:PORT for a port of this machine`,
    );
  }
  const found = findTarget(site, aliased(target, own, site));
  if (!found.ok) {
    // A port that no link names, by the node's own name.
    if (own !== undefined && own.port !== '' && hasNode(site, own.node)) return [own];
    throw unknown(target, site, found.nearest);
  }
  const links = found.target.links.flatMap((each) => site.links[each]?.declared ?? []);
  if (found.target.kind === 'node') return endsOfNode(site, target, links);
  if (own === undefined || found.target.kind !== 'port') return links.flatMap(({ ends }) => ends);
  const written = links.flatMap(({ ends }) => ends).find((end) => sameEnd(end, own, site));
  const first = written ?? own;
  return oneEnd ? [first] : [first, ...links.flatMap(({ ends }) => ends)];
}

/** The name of the intent for a port that is given by the node's own. */
function aliased(target: string, own: End | undefined, site: Site): string {
  const node = site.intent.nodes.find(({ name }) => name === own?.node);
  const declared = node?.ports.find(({ name }) => name === own?.port);
  return declared === undefined ? target : `${own?.node}:${declared.alias}`;
}

function hereEnd(port: string | undefined): End {
  if (port !== undefined && port !== '') return { node: here, port };
  throw usage(`name a port, as ${here}:eth0; hopgauge survey lists those of this machine`);
}

function hasNode(site: Site, name: string): boolean {
  return site.intent.nodes.some((node) => node.name === name);
}

function endsOfNode(site: Site, name: string, links: readonly DeclaredLink[]): readonly End[] {
  const linked = links.flatMap(({ ends }) => ends.filter(({ node }) => node === name));
  const node = site.intent.nodes.find((each) => each.name === name);
  const others = (node?.ports ?? []).map(({ alias }) => ({ node: name, port: alias }));
  if (linked.length + others.length > 0) return [...linked, ...others];
  throw usage(clean(`the intent declares no port of ${name}; name one, as ${name}:eth0`));
}

function sameEnd(end: End, { node, port }: End, { intent }: Site): boolean {
  if (end.node !== node) return false;
  return (
    end.port === port || portOf(node, end.port, intent).name === portOf(node, port, intent).name
  );
}

function portOf(nodeName: string, port: string, intent: Intent | undefined): LivePort {
  const node = intent?.nodes.find(({ name }) => name === nodeName);
  const declared =
    node?.ports.find(({ alias }) => alias === port) ??
    node?.ports.find(({ name }) => name === port);
  const link = intent?.links.find(({ ends }) =>
    ends.some(
      (end) => end.node === nodeName && (end.port === port || end.port === declared?.alias),
    ),
  );
  return {
    id: `${nodeName}:${port}`,
    name: declared?.name ?? port,
    ...(declared?.mac === undefined ? {} : { mac: declared.mac }),
    declared: link === undefined || intent === undefined ? {} : lineOf(link, intent),
  };
}

function lineOf(link: DeclaredLink, intent: Intent): DeclaredLine {
  const names = new Set([link.untagged, ...link.tagged]);
  const mtus = intent.segments.flatMap(({ name, mtuBytes }) =>
    names.has(name) && mtuBytes !== undefined ? [mtuBytes] : [],
  );
  return {
    ...(link.speedMbps === undefined ? {} : { speedMbps: link.speedMbps }),
    duplex: link.duplex,
    ...(mtus.length === 0 ? {} : { packetBytes: Math.max(...mtus) }),
  };
}

function nodeOf(name: string, ports: readonly LivePort[], intent: Intent | undefined): LiveNode {
  const declared = intent?.nodes.find((node) => node.name === name);
  const access: Access | undefined =
    declared === undefined ? { via: 'local', name: 'local' } : accessOf(declared);
  const odd = access?.via === 'snmp' ? undefined : ports.find((port) => !isPlainPort(port.name));
  if (odd !== undefined && access !== undefined) {
    throw usage(clean(`${odd.id}: '${odd.name}' is no name of a port of a host`));
  }
  return {
    name,
    ports,
    ...(declared === undefined ? {} : { declared }),
    ...(access === undefined ? {} : { access }),
  };
}

/** A shell tells what an agent does not, and at once; a Windows host has none of this kind. */
function accessOf({ access }: DeclaredNode): Access | undefined {
  const shell = access.find(
    (one) => one.via === 'local' || (one.via === 'ssh' && one.system !== 'windows'),
  );
  return shell ?? access.find(({ via }) => via === 'snmp');
}

function unknown(target: string, site: Site, nearest: string | undefined): RunFault {
  const shown = clean(target).slice(0, 80);
  const near =
    nearest ??
    nearestWord(
      target,
      site.intent.nodes.map(({ name }) => name),
    );
  const remedy =
    near === undefined ? `name node:port or a node of it, or ${here}:PORT` : `write '${near}'`;
  return usage(clean(`no node, port or link '${shown}' in the intent; ${remedy}`));
}

function usage(line: string): RunFault {
  return new RunFault(exitStatuses.usage, [line]);
}
