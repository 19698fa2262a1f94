import type { Site } from '../site/types.ts';

/** Hops of all paths that are known from the intent alone, each counted once. */
export function countOnWord(site: Site): number {
  const hops = site.paths.flatMap((path) => path.hops);
  return new Set(hops.filter(({ clearance }) => clearance.onWord).map(({ port }) => port.id)).size;
}
