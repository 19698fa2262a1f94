import type { Tagging } from './layers.ts';
import type { LinkRef, SiteIndex } from './site-index.ts';

/** The segment that stands for all where the intent declares none. */
export const undeclaredSegment = '';

/** Which of `segments` a link carries; one that names none carries any. */
export function carried(link: LinkRef, segments: readonly string[]): readonly string[] {
  if (link.segments.length === 0) return segments;
  return segments.filter((name) => link.segments.includes(name));
}

/** VLAN tags on a link's frames of `segment`; undefined when the link does not say. */
export function tagsOn(link: LinkRef, segment: string): number | undefined {
  if (link.segments.length === 0) return undefined;
  return link.declared.tagged.includes(segment) ? 1 : 0;
}

/** How frames of `segment` are told apart on a link. */
export function taggingOn(index: SiteIndex, link: LinkRef, segment: string): Tagging {
  const tags = tagsOn(link, segment);
  if (tags === undefined) return 'any';
  if (tags === 0) return 'untagged';
  return index.segments.get(segment)?.vlan ?? 'any';
}
