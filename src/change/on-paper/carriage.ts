import type { DeclaredLink, DeclaredSegment, Intent } from '../../intent/types.ts';

/** A segment on a link that names it. */
export interface Carriage {
  readonly segment: DeclaredSegment;
  readonly link: DeclaredLink;
  /** VLAN tags on its frames there. */
  readonly tags: 0 | 1;
}

/** The segments that pass each node, by its name; a link that names none tells nothing. */
export function carriageByNode({
  links,
  segments,
}: Intent): ReadonlyMap<string, readonly Carriage[]> {
  const known = new Map(segments.map((segment) => [segment.name, segment]));
  const found = new Map<string, Carriage[]>();
  for (const link of links) {
    const all = carriages(link, known);
    for (const node of new Set(link.ends.map((end) => end.node))) {
      const before = found.get(node);
      if (before === undefined) found.set(node, [...all]);
      else before.push(...all);
    }
  }
  return found;
}

function carriages(
  link: DeclaredLink,
  known: ReadonlyMap<string, DeclaredSegment>,
): readonly Carriage[] {
  const named = [
    ...(link.untagged === undefined ? [] : [{ name: link.untagged, tags: 0 as const }]),
    ...link.tagged.map((name) => ({ name, tags: 1 as const })),
  ];
  return named.flatMap(({ name, tags }) => {
    const segment = known.get(name);
    return segment === undefined ? [] : [{ segment, link, tags }];
  });
}
