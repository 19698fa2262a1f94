import { cleanText } from '../facts/clean-text.ts';
import type { Intent } from '../intent/types.ts';
import type { Site, SiteLink, SitePort } from '../site/types.ts';
import { networkOf } from './network.ts';
import type { Draft, DraftLink } from './types.ts';

/** A segment that an intent declares, and what was read in it. */
export interface KnownSegment {
  readonly name: string;
  readonly vlan?: number;
  readonly networks: readonly string[];
}

/** The declared segments with the subnets of the interfaces that were found in them. */
export function knownSegments({ segments }: Site): readonly KnownSegment[] {
  return segments.map(({ declared, addressed }) => ({
    name: declared.name,
    ...(declared.vlan === undefined ? {} : { vlan: declared.vlan }),
    networks: [
      ...new Set(
        addressed
          .flatMap(({ survey }) => survey?.facts.addresses ?? [])
          .flatMap((address) => networkOf(address) ?? []),
      ),
    ],
  }));
}

/** What an intent lacks of a draft, and where the two differ. */
export interface Lacking {
  readonly draft: Draft;
  /** For the operator, one line each; nothing of it is in the patch. */
  readonly differences: readonly string[];
}

/**
 * The draft without what the intent has already: nodes and segments by name, links by either end,
 * since a port takes one cord. What the owner wrote stays whatever was seen; where it differs is
 * said.
 */
export function lackingIn(site: Site, draft: Draft): Lacking {
  const { intent } = site;
  const names = new Set(
    [...intent.nodes, ...intent.segments, ...intent.paths].map(({ name }) => name),
  );
  const taken = declaredEnds(site);
  const differences: string[] = [];
  const links = draft.links.filter((link) => {
    const declared = link.ends.map((end) => taken.get(end));
    if (declared.every((each) => each === undefined)) return true;
    const difference = differs(link, declared);
    if (difference !== undefined) differences.push(difference);
    return false;
  });
  const ways = new Set(intent.paths.flatMap(waysOf));
  return {
    draft: {
      ...draft,
      access: draft.access.filter(({ name }) => !usedAccess(intent).has(name)),
      nodes: draft.nodes.filter(({ name }) => !names.has(name)),
      segments: draft.segments.filter(({ name }) => !names.has(name)),
      links,
      paths: draft.paths.filter(({ from, to }) => !ways.has(`${from} ${to}`)),
    },
    differences: [...new Set(differences)],
  };
}

/** Accesses that the intent's own nodes are read by: they are written there. */
function usedAccess({ nodes }: Intent): ReadonlySet<string> {
  return new Set(nodes.flatMap(({ access }) => access.map(({ name }) => name)));
}

/** Every end of a declared link, by the node's own name of the port and by the declared one. */
function declaredEnds({ links }: Site): ReadonlyMap<string, SiteLink> {
  const ends = new Map<string, SiteLink>();
  for (const link of links) {
    for (const port of link.ends) for (const name of endNames(port)) ends.set(name, link);
  }
  return ends;
}

function endNames({ id, node, survey }: SitePort): readonly string[] {
  return survey === undefined ? [id] : [id, `${node}:${survey.name}`];
}

function differs(link: DraftLink, declared: readonly (SiteLink | undefined)[]): string | undefined {
  const [a, b] = declared;
  if (a !== undefined && a === b) return undefined;
  const found = link.ends.map((end) => cleanText(end, 80)).join(' - ');
  const written = [
    ...new Set([a, b].flatMap((each) => (each === undefined ? [] : [each.subject.id]))),
  ];
  return `seen ${found} (${link.known}), where the intent has ${written.join(' and ')}`;
}

function waysOf({ from, to }: Intent['paths'][number]): string[] {
  return from.flatMap((a) => to.flatMap((b) => [`${a} ${b}`, `${b} ${a}`]));
}
