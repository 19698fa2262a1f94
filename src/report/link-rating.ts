import type { Hop, Site, SiteLink } from '../site/types.ts';

/** The link of an id; undefined: no link of the intent has it. */
export type LinkOf = (id: string) => SiteLink | undefined;

/** Finds links of a site by their ids. */
export function linkFinder({ links }: Pick<Site, 'links'>): LinkOf {
  const byId = new Map(links.map((link) => [link.declared.id, link]));
  return (id) => byId.get(id);
}

/**
 * What the link of a hop is meant to run at, in Mb/s: the declared speed, else the highest that both
 * ends can do; undefined: neither is known, or the hop is no port of a link.
 */
export function ratedOf(hop: Hop, linkOf: LinkOf): number | undefined {
  if (hop.layer) return undefined;
  const { declaredSpeedMbps } = hop.port.subject.facts;
  if (typeof declaredSpeedMbps === 'number') return declaredSpeedMbps;
  const link = hop.linkId === undefined ? undefined : linkOf(hop.linkId);
  const ratedMbps = link?.subject.facts['ratedMbps'];
  return typeof ratedMbps === 'number' ? ratedMbps : undefined;
}
