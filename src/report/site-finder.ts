import type { Site, SiteNode, SitePath, SitePort } from '../site/types.ts';

/** Finds parts of a site by their ids, or names; the first of those that share one. */
export interface SiteFinder {
  readonly node: (name: string) => SiteNode | undefined;
  readonly port: (id: string) => SitePort | undefined;
  readonly path: (id: string) => SitePath | undefined;
}

const finders = new WeakMap<Site, SiteFinder>();

/** The finder of a site, made once: a search for each finding would take time by the square. */
export function siteFinder(site: Site): SiteFinder {
  const known = finders.get(site);
  if (known !== undefined) return known;
  const finder = {
    node: finderOf(site.nodes, ({ declared }) => declared.name),
    port: finderOf(site.ports, ({ id }) => id),
    path: finderOf(site.paths, ({ id }) => id),
  };
  finders.set(site, finder);
  return finder;
}

function finderOf<T>(parts: readonly T[], keyOf: (part: T) => string) {
  const byKey = new Map<string, T>();
  for (const part of parts) if (!byKey.has(keyOf(part))) byKey.set(keyOf(part), part);
  return (key: string) => byKey.get(key);
}
