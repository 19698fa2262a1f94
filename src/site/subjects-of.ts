import type { Subject } from '../facts/subject.ts';
import type { Site } from './types.ts';

/** Everything that rules may judge, in the order of kinds and then of names. */
export function subjectsOf(site: Site): Subject[] {
  const { nodes, ports, links, segments, paths, directions } = site;
  return [nodes, ports, links, segments, paths, directions].flatMap((kind) =>
    kind.map((each: { readonly subject: Subject }) => each.subject),
  );
}
