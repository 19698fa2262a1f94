import type { Site, SitePath } from '../site/types.ts';
import { type Explanation, explainLink, type Standing } from './explain-link.ts';
import { explainPath } from './explain-path.ts';
import { type Target, targetName } from './find-target.ts';

/** Why a node, a port, a link, a path or a segment is as it is. */
export interface TargetExplanation {
  readonly kind: Target['kind'];
  readonly name: string;
  readonly standing: Standing;
  /** Paths first, then links; what is at fault first within each. */
  readonly parts: readonly Explanation[];
}

const standings = ['fault', 'cannot-tell', 'no-fault'] as const satisfies readonly Standing[];

/** Explains everything that a target stands for. */
export function explainTarget(site: Site, target: Target): TargetExplanation {
  const paths = target.paths.flatMap((at) => site.paths[at] ?? []);
  const links = target.links.flatMap((at) => site.links[at] ?? []);
  const ofLinks = byStanding(links.map((link) => explainLink(site, link)));
  const parts = [
    ...byStanding(paths.map((path) => explainPath(site, path, linksOn(path, ofLinks)))),
    ...ofLinks,
  ];
  const worst = standings.find((each) => parts.some(({ standing }) => standing === each));
  return {
    kind: target.kind,
    name: targetName(site, target),
    standing: worst ?? 'cannot-tell',
    parts,
  };
}

function linksOn({ hops }: SitePath, links: readonly Explanation[]): readonly Explanation[] {
  const ids = new Set(hops.map(({ linkId }) => linkId));
  return links.filter(({ id }) => ids.has(id));
}

function byStanding(parts: readonly Explanation[]): readonly Explanation[] {
  return parts.toSorted((a, b) => standings.indexOf(a.standing) - standings.indexOf(b.standing));
}
