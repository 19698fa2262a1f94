import { nearestWord } from '../intent/nearest.ts';
import type { Site, SitePort } from '../site/types.ts';

/** What is to be explained, by places in the site, so that a redacted copy serves as well. */
export interface Target {
  readonly kind: 'node' | 'port' | 'link' | 'path' | 'segment';
  /** Place among the things of its kind; of a port among the ports. */
  readonly at: number;
  readonly links: readonly number[];
  readonly paths: readonly number[];
}

/** The target that a name means, or the valid name that is nearest to it. */
export type FoundTarget =
  | { readonly ok: true; readonly target: Target }
  | { readonly ok: false; readonly nearest?: string };

/** Finds a node, `node:port`, link, path or segment by its name. */
export function findTarget(site: Site, name: string): FoundTarget {
  const found =
    pathNamed(site, name) ??
    linkNamed(site, name) ??
    portNamed(site, name) ??
    nodeNamed(site, name) ??
    segmentNamed(site, name);
  if (found !== undefined) return { ok: true, target: found };
  const nearest = nearestWord(name, namesOf(site));
  return { ok: false, ...(nearest === undefined ? {} : { nearest }) };
}

/** The name of a target in a site or in its redacted copy. */
export function targetName(site: Site, { kind, at }: Target): string {
  switch (kind) {
    case 'node':
      return site.nodes[at]?.declared.name ?? '';
    case 'port':
      return site.ports[at]?.id ?? '';
    case 'link':
      return site.links[at]?.declared.id ?? '';
    case 'path':
      return site.paths[at]?.declared.name ?? '';
    case 'segment':
      return site.segments[at]?.declared.name ?? '';
  }
}

/** Every name that can be explained. */
function namesOf(site: Site): readonly string[] {
  return [
    ...site.paths.flatMap(({ id, declared }) => [id, declared.name]),
    ...site.ports.map(({ id }) => id),
    ...site.nodes.map(({ declared }) => declared.name),
    ...site.segments.map(({ declared }) => declared.name),
    ...site.links.map(({ declared }) => declared.id),
  ];
}

function indexes<T>(list: readonly T[], test: (item: T) => boolean): readonly number[] {
  return list.flatMap((item, at) => (test(item) ? [at] : []));
}

function pathNamed(site: Site, name: string): Target | undefined {
  const exact = indexes(site.paths, ({ id }) => id === name);
  const paths =
    exact.length > 0 ? exact : indexes(site.paths, ({ declared }) => declared.name === name);
  const [at] = paths;
  if (at === undefined) return undefined;
  const ids = new Set(
    paths.flatMap((each) => site.paths[each]?.hops.flatMap(({ linkId }) => linkId ?? []) ?? []),
  );
  return {
    kind: 'path',
    at,
    paths,
    links: indexes(site.links, (link) => ids.has(link.declared.id)),
  };
}

function linkNamed(site: Site, name: string): Target | undefined {
  const at = site.links.findIndex(({ declared }) => declared.id === name);
  return at < 0 ? undefined : { kind: 'link', at, paths: [], links: [at] };
}

/** A port by its alias or by the node's own name; a layer stands for the ports that it is built on. */
function portNamed(site: Site, name: string): Target | undefined {
  const at = site.ports.findIndex((port) => port.id === name || ownName(port) === name);
  const port = site.ports[at];
  if (port === undefined) return undefined;
  const ids = new Set([port.id, ...lowerIds(site, port)]);
  const links = indexes(site.links, ({ ends }) => ends.some(({ id }) => ids.has(id)));
  return { kind: 'port', at, paths: [], links };
}

function ownName({ node, survey }: SitePort): string | undefined {
  return survey === undefined ? undefined : `${node}:${survey.name}`;
}

/** More layers than any host has. */
const layersMax = 8;

function lowerIds(site: Site, port: SitePort): readonly string[] {
  const node = site.nodes.find(({ declared }) => declared.name === port.node);
  const lowerOf = (name: string) =>
    node?.survey?.ports.find((each) => each.name === name)?.facts.lowerPorts ?? [];
  let names = new Set(port.survey?.facts.lowerPorts);
  for (let depth = 0; depth < layersMax; depth += 1) {
    names = new Set([...names, ...[...names].flatMap(lowerOf)]);
  }
  return site.ports
    .filter((each) => each.node === port.node && names.has(each.survey?.name ?? ''))
    .map(({ id }) => id);
}

function nodeNamed(site: Site, name: string): Target | undefined {
  const at = site.nodes.findIndex(({ declared }) => declared.name === name);
  if (at < 0) return undefined;
  const links = indexes(site.links, ({ ends }) => ends.some(({ node }) => node === name));
  return { kind: 'node', at, paths: [], links };
}

function segmentNamed(site: Site, name: string): Target | undefined {
  const at = site.segments.findIndex(({ declared }) => declared.name === name);
  if (at < 0) return undefined;
  const links = indexes(
    site.links,
    ({ declared }) => declared.untagged === name || declared.tagged.includes(name),
  );
  return { kind: 'segment', at, paths: [], links };
}
